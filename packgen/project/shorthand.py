"""Shorthand of the project file written out: what people type for a record to the record's own keys, places kept."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable

from packgen.core.finding import Fault
from packgen.core.lengths import LENGTH_UNITS, NotUnderstood, fall, tidy
from packgen.core.place import Place
from packgen.project.guess import likely_key, likely_word
from packgen.project.readings import levels_read, read_table
from packgen.project.record import Record
from packgen.project.room_model import (
    Asbestos,
    Ceiling,
    DampReading,
    Engineer,
    Room,
    Service,
    Tape,
    Wall,
    Waterproofing,
)
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar
from packgen.project.work_model import (
    BoardOnTop,
    Calendar,
    CoolDown,
    Drying,
    Fall,
    Fills,
    FinishedLevel,
    Layer,
    Levels,
    NightTemperature,
    Packing,
    Prices,
    SetUp,
    Water,
    Zone,
)

Rewrite = Callable[[Node, str, list[Fault]], Node | None]


def _part(text: Scalar, start: int, piece: str, label: str = "") -> Scalar:
    """A piece of a text that stands `start` characters in; in a quoted or folded text the text's own place."""
    line, column = text.place.line, text.place.column
    place = text.place if text.quoted or text.rows else Place(line, column + start)
    return Scalar(piece, place, False, label or text.label)


def _key(name: str, place: Place) -> Scalar:
    return Scalar(name, place)


def _map(place: Place, *entries: tuple[str, Node | None]) -> Mapping:
    kept = [(_key(name, value.place), value) for name, value in entries if value is not None]
    return Mapping(place, tuple(kept))


# --------------------------------------------------------------------------------- walls, tapes, layers

_WALL = re.compile(r"(?P<length>.*?)[\s,;/–—-]+(?P<turn>(?:turn|skew|right|left)\S*.*)", re.IGNORECASE)
_TURNS = ("turn right", "turn left", "skew", "skew left")


def wall(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`wall 3: 2100, turn right` to number, length and turn."""
    label, value = _one_pair(node, "wall 3: 2100, turn right", faults)
    if label is None or value is None:
        return None
    number = re.fullmatch(r"wall ?([0-9]+)", tidy(label), re.IGNORECASE)
    if number is None:
        guess = None
        if digits := re.search(r"[0-9]+", label):
            guess = f"wall {digits[0]}"
        faults.append(
            Fault(
                label.place,
                "wall-name",
                f"'{label}' is not the name of a wall: walls are called 'wall 1', 'wall 2' and so on",
                guess,
            )
        )
        return None
    called = f"wall {int(number[1])}"
    if isinstance(value, Mapping):
        return Mapping(
            value.place, ((_key("number", label.place), Scalar(number[1], label.place, label=called)), *value.entries)
        )
    if not isinstance(value, Scalar):
        says = f"{called}: a length and a turn are wanted, as in '{called}: 2100, turn right', without brackets"
        faults.append(Fault(value.place, "one-value-wanted", says))
        return None
    split = _WALL.fullmatch(value)
    if split is None:
        if not value:
            faults.append(
                Fault(
                    value.place,
                    "empty",
                    f"{called}: how long is it, and which way does the next corner turn? Write "
                    f"'{called}: 2100, turn right'",
                )
            )
        else:
            faults.append(
                Fault(
                    value.place,
                    "no-turn",
                    f"{called}: '{value}' does not say how the corner at its end turns",
                    f"{value}, turn right",
                )
            )
        return None
    if re.match(r"(?:turn|skew|right|left)", split["length"], re.IGNORECASE):
        says = f"{called}: the length comes first, then the turn at the end of the wall: '{called}: 2100, turn right'"
        faults.append(Fault(value.place, "no-turn", says))
        return None
    turn = _turn(split["turn"])
    if turn is None:
        place = _part(value, split.start("turn"), split["turn"]).place
        guess = likely_word(" ".join(split["turn"].split()), _TURNS) if split["turn"].casefold() != "turn" else None
        says = f"{called}: '{split['turn']}' is not a turn: write 'turn right', 'turn left', 'skew' or 'skew left'"
        faults.append(Fault(place, "not-a-turn", says, guess))
        return None
    word, angle = turn
    at = split.start("turn")
    return _map(
        value.place,
        ("number", Scalar(number[1], label.place, label=called)),
        ("length", _part(value, 0, split["length"].strip(), called)),
        ("turn", _part(value, at, word, called)),
        ("angle", _part(value, at, angle, called) if angle else None),
    )


def _turn(text: str) -> tuple[str, str] | None:
    plain = tidy(text).casefold().replace(",", " ")
    found = re.fullmatch(
        r"(?:(?:turns?|turning) )?(right|left|skew(?: left| right)?)(?: +(?:angle )?([0-9.]+ ?(?:°|deg(?:rees?)?)?))?",
        " ".join(plain.split()),
    )
    if found is None:
        return None
    return {"skew right": "skew"}.get(found[1], found[1]), found[2] or ""


_TAPE = re.compile(r"(?:corner )?([0-9]+)(?: to | ?- ?| and )(?:corner )?([0-9]+)", re.IGNORECASE)


def tape(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`corner 1 to corner 3: 6662` to start, end and length."""
    label, value = _one_pair(node, "corner 1 to corner 3: 6662", faults)
    if label is None or value is None:
        return None
    ends = _TAPE.fullmatch(tidy(label))
    if ends is None:
        faults.append(
            Fault(
                label.place,
                "tape-ends",
                f"'{label}' does not say from which corner to which: write 'corner 1 to corner 3: 6662'",
            )
        )
        return None
    called = f"corner {ends[1]} to corner {ends[2]}"
    return _map(
        label.place,
        ("start", Scalar(ends[1], label.place, label=called)),
        ("end", Scalar(ends[2], label.place, label=called)),
        ("length", value.called(called) if isinstance(value, Scalar) else value),
    )


def layer(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`oak board: 14`, `oak board: 14, 9.1 kg/m2` or `oak board: {thickness: 14, mass: 9.1 kg/m2}`."""
    if isinstance(node, Mapping) and (node.get("name") or len(node.entries) > 1):
        return node
    label, value = _one_pair(node, "oak board: 14", faults)
    if label is None or value is None:
        return None
    called = Scalar(str(label), label.place)
    if isinstance(value, Mapping):
        return Mapping(label.place, ((_key("name", label.place), called), *value.entries))
    if not isinstance(value, Scalar):
        says = f"{label}: a thickness is wanted, as in '{label}: 10', without brackets"
        faults.append(Fault(value.place, "one-value-wanted", says))
        return None
    if not value:
        faults.append(Fault(value.place, "empty", f"{label}: how thick is it, in mm? Write a number: '{label}: 10'"))
        return None
    split = re.fullmatch(r"(.+?), +(.*kg.*)", value)
    thickness = _part(value, 0, split[1], str(label)) if split else value.called(str(label))
    mass = _part(value, split.start(2), split[2], str(label)) if split else None
    return _map(label.place, ("name", called), ("thickness", thickness), ("mass", mass))


def _one_pair(node: Node, example: str, faults: list[Fault]) -> tuple[Scalar | None, Node | None]:
    """The one key and value of a list item such as `- wall 1: 6200, turn right`."""
    if isinstance(node, Mapping) and len(node.entries) == 1:
        return node.entries[0]
    if isinstance(node, Scalar):
        guess = None
        if found := re.fullmatch(r"(.*[^\s0-9.,:])[\s]*:?[\s]*([0-9]+[^:]*)", node):
            guess = f"{found[1].strip(' ,:=')}: {found[2]}"
        if found := re.fullmatch(r"(wall ?[0-9]+|corner.*?corner ?[0-9]+)[\s,:=]*(.+)", node, re.IGNORECASE):
            guess = f"{found[1]}: {found[2]}"
        says = (
            f"'{node}' has no colon with a blank after it: write it as in '{example}'"
            if node
            else f"this item is empty: write for example '{example}'"
        )
        faults.append(Fault(node.place, "no-colon", says, guess))
    elif isinstance(node, Mapping | Listing):
        faults.append(
            Fault(node.place, "one-pair-wanted", f"one name with its value is wanted here, as in '{example}'")
        )
    return None, None


def _dashed(node: Node | None) -> Node | None:
    """A map where a list of single pairs was wanted, or several pairs under one dash: each pair an item of its own."""
    if isinstance(node, Mapping):
        return Listing(node.place, tuple(Mapping(k.place, ((k, v),)) for k, v in node.entries))
    if isinstance(node, Listing):
        items: list[Node] = []
        for item in node.items:
            plain = isinstance(item, Mapping) and len(item.entries) > 1 and not item.get("name") and not item.flow
            items += (
                [Mapping(k.place, ((k, v),)) for k, v in item.entries]
                if isinstance(item, Mapping) and plain
                else [item]
            )
        return Listing(node.place, tuple(items), node.flow)
    return node


def _replaced(node: Mapping, key: str, value: Node | None) -> Mapping:
    return Mapping(
        node.place, tuple((k, value if k == key and value is not None else v) for k, v in node.entries), node.flow
    )


def room(node: Node, name: str, faults: list[Fault]) -> Node | None:
    if isinstance(node, Mapping):
        for key in ("walls", "check tapes"):
            node = _replaced(node, key, _dashed(node.get(key)))
    return node


def zone(node: Node, name: str, faults: list[Fault]) -> Node | None:
    if not isinstance(node, Mapping):
        return node
    return _replaced(node, "layers from the top", _dashed(node.get("layers from the top")))


# --------------------------------------------------------------------------------- heights


def finished_level(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`50 below TBM at wall 1`; `open` leaves the level to the plan."""
    if not isinstance(node, Scalar):
        return node
    if node.casefold() in ("open", "to be found", "free"):
        return Mapping(node.place, ())
    at = re.fullmatch(r"(.*?)\s+(?:at|along|by)\s+(wall\s*[0-9]+)", node, re.IGNORECASE)
    if at is None:
        return _map(node.place, ("level", node.called("finished level")))
    return _map(
        node.place,
        ("level", _part(node, 0, at[1], "finished level")),
        ("at wall", _part(node, at.start(2), at[2], "finished level")),
    )


def fall_words(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`level`, or `15 per metre, going down from wall 1 to wall 3`."""
    if not isinstance(node, Scalar):
        return node
    try:
        steep, start, end = fall(node)
    except NotUnderstood as why:
        faults.append(Fault(node.place, why.code, f"fall: {why}", why.guess))
        return None
    return _map(
        node.place,
        ("per metre", Scalar(repr(steep), node.place, label="fall")),
        ("from wall", Scalar(f"wall {start}", node.place, label="fall") if start is not None else None),
        ("to wall", Scalar(f"wall {end}", node.place, label="fall") if end is not None else None),
    )


# --------------------------------------------------------------------------------- base and services


def _one_word(key: str, *words: str) -> Rewrite:
    """A single word stands for the record's first key."""

    def write_out(node: Node, name: str, faults: list[Fault]) -> Node | None:
        return _map(node.place, (key, node.called(name.strip("'")))) if isinstance(node, Scalar) else node

    return write_out


_DAMP = re.compile(r"([0-9.,]+)\s*(.*)")


def damp_reading(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`not needed`, `unknown`, `71 % RH`, or a map whose value carries its unit."""
    if isinstance(node, Scalar):
        if not _DAMP.fullmatch(node):
            word = {"no": "unknown", "none": "unknown", "not done": "unknown"}.get(node.casefold(), str(node))
            return _map(node.place, ("state", Scalar(word, node.place, node.quoted, "damp reading")))
        node = _map(node.place, ("value", node))
    if not isinstance(node, Mapping):
        return node
    value = node.text("value")
    split = _DAMP.fullmatch(value) if value else None
    if value is None or split is None:
        return node
    unit = _damp_unit(split[2])
    if unit is None:
        faults.append(
            Fault(
                value.place,
                "wrong-unit",
                f"damp reading: '{value}' has no unit that I know: write '71 % RH' or '2.1 CM-%'",
            )
        )
        return None
    entries = [(k, Scalar(split[1], value.place, label="damp reading") if k == "value" else v) for k, v in node.entries]
    return Mapping(node.place, (*entries, (_key("unit", value.place), Scalar(unit, value.place))), node.flow)


def _damp_unit(text: str) -> str | None:
    plain = re.sub(r"[\s.\-]", "", text).casefold()
    if plain in ("%rh", "rh", "%relativehumidity", "rh%"):
        return "% RH"
    return "CM-%" if plain in ("cm%", "%cm", "cm") else None


def service(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`lies on: clip rail 5 high` also says that the pipe is 5 up."""
    if not isinstance(node, Mapping) or node.get("support"):
        return node
    lies_on = node.text("lies on")
    high = re.search(r"([0-9][0-9.,]*(?: ?(?:mm|cm))?) (?:high|up|above the base)", lies_on) if lies_on else None
    if lies_on is not None and high is None and re.search(r"\bhigh\b", lies_on):
        says = f"lies on: '{lies_on}' does not say how high in figures, for example 'clip rail 5 high'"
        faults.append(Fault(lies_on.place, "not-a-number", says))
    if lies_on is None or high is None:
        return node
    support = _part(lies_on, high.start(1), high[1], "lies on")
    return Mapping(node.place, (*node.entries, (_key("support", support.place), support)), node.flow)


# --------------------------------------------------------------------------------- fills, prices, weather


def fills(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """Every key but `use` and `compare` describes a fill."""
    if not isinstance(node, Mapping):
        return node
    described: list[tuple[Scalar, Node]] = []
    kept: list[tuple[Scalar, Node]] = []
    for key, value in node.entries:
        meant = key if key in ("use", "compare") else likely_key(key, ("use", "compare"))
        (kept if meant and not isinstance(value, Mapping) else described).append((key, value))
    start = described[0][0].place if described else node.place
    return Mapping(node.place, (*kept, (_key("described", start), Mapping(start, tuple(described)))))


def prices(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """Every key that is no word of its own is a priced item."""
    if not isinstance(node, Mapping):
        return node
    own = ("currency", "labour", "overhead and profit", "tax")
    items = [(k, v) for k, v in node.entries if k not in own and not likely_key(k, own)]
    kept = [(k, v) for k, v in node.entries if (k, v) not in items]
    start = items[0][0].place if items else node.place
    return Mapping(node.place, (*kept, (_key("items", start), Mapping(start, tuple(items)))))


def drying(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`{first 40 at: 1 mm per day, rest at: 0.5 mm per day}`, or one rate for all."""
    if isinstance(node, Scalar):
        return _map(
            node.place,
            ("first mm", Scalar("0", node.place)),
            ("first rate", node.called("drying")),
            ("rest rate", node.called("drying")),
        )
    if not isinstance(node, Mapping):
        return node
    entries: list[tuple[Scalar, Node]] = []
    for key, value in node.entries:
        if first := re.fullmatch(r"first ([0-9][0-9.,]* ?(?:mm|cm)?) ?at", key):
            entries.append((_key("first mm", key.place), Scalar(first[1], key.place, label=str(key))))
            entries.append(
                (_key("first rate", key.place), value.called(str(key)) if isinstance(value, Scalar) else value)
            )
        elif key == "rest at":
            entries.append(
                (_key("rest rate", key.place), value.called(str(key)) if isinstance(value, Scalar) else value)
            )
        else:
            says = (
                f"'{key}' is not a word I know in 'drying': it wants "
                f"{{first 40 at: 1 mm per day, rest at: 0.5 mm per day}}"
            )
            faults.append(Fault(key.place, "unknown-key", says, likely_key(key, ("first 40 at", "rest at"))))
            return None
    for wanted, known in (("first 40 at", "first rate"), ("rest at", "rest rate")):
        if known not in [k for k, _ in entries]:
            faults.append(Fault(node.place, "missing-key", f"'drying' lacks '{wanted}'"))
            return None
    return Mapping(node.place, tuple(entries))


def board_on_top(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`22 OSB`."""
    if not isinstance(node, Scalar):
        return node
    units = "|".join(LENGTH_UNITS)
    found = re.fullmatch(rf"([0-9][0-9.,]*(?: ?(?:{units})\b)?)\s*(\D.*)", node)
    if found is None:
        turned = re.fullmatch(r"(\D+?)\s*([0-9][0-9.,]*)", node)
        guess = f"{turned[2]} {turned[1].strip()}" if turned else None
        says = (
            f"board on top: '{node}' is not a board: write its thickness and what it is, for example "
            "'22 OSB', or 'none'"
        )
        faults.append(Fault(node.place, "not-a-board", says, guess))
        return None
    return _map(
        node.place,
        ("thickness", _part(node, 0, found[1], "board on top")),
        ("material", _part(node, found.start(2), found[2], "board on top")),
    )


def night_temperature(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """One figure for all nights, or a map of dates."""
    if isinstance(node, Scalar):
        return _map(node.place, ("always", node.called("lowest night temperature")))
    if isinstance(node, Mapping) and not node.get("always") and not node.get("by night"):
        named = [(k.called("lowest night temperature"), v) for k, v in node.entries]
        return _map(node.place, ("by night", Mapping(node.place, tuple(named), node.flow)))
    return node


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def calendar(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """Spans of days are not read, but the list that was meant is said."""
    if not isinstance(node, Mapping):
        return node
    entries: list[tuple[Scalar, Node]] = []
    for key, value in node.entries:
        one = value.items[0] if isinstance(value, Listing) and len(value.items) == 1 else value
        meant = None
        if isinstance(one, Scalar):
            meant = (
                _week(one) if key == "working days" else _span(one) if key in ("not working", "rain expected") else None
            )
        if meant is None or not isinstance(one, Scalar):
            entries.append((key, value))
        else:
            faults.append(
                Fault(one.place, "list-wanted", f"{key}: '{one}' is a span, and each day is wanted by its name", meant)
            )
            entries.append((key, Refused(one.place)))
    return Mapping(node.place, tuple(entries), node.flow)


def _week(text: str) -> str | None:
    plain = tidy(text).casefold()
    if plain in ("all", "every day", "daily", "all days"):
        return f"[{', '.join(_DAYS)}]"
    ends = re.fullmatch(r"([a-z]+) ?(?:-|to|until|till) ?([a-z]+)", plain)
    if ends is None:
        return None
    at = [next((n for n, d in enumerate(_DAYS) if word.startswith(d.casefold())), None) for word in ends.groups()]
    first, last = at
    if first is None or last is None:
        return None
    days = _DAYS[first : last + 1] if first <= last else _DAYS[first:] + _DAYS[: last + 1]
    return f"[{', '.join(days)}]"


def _span(text: str) -> str | None:
    ends = re.fullmatch(
        r"([0-9]{4}-[0-9]{2}-[0-9]{2}) ?(?:-|to|until|till|\.\.+) ?([0-9]{4}-[0-9]{2}-[0-9]{2})", tidy(text)
    )
    if ends is None:
        return None
    try:
        first, last = (datetime.date.fromisoformat(day) for day in ends.groups())
    except ValueError:
        return None
    count = (last - first).days + 1
    if not 1 <= count <= 31:
        return None
    return f"[{', '.join((first + datetime.timedelta(n)).isoformat() for n in range(count))}]"


def packing(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`[3, 5, 10]`: the plates there are."""
    return _map(node.place, ("plates", node)) if isinstance(node, Listing) else node


def water(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """One figure is both least and most."""
    if not isinstance(node, Scalar):
        return node
    if span := re.fullmatch(r"([0-9.,]+) ?(l|L)? ?(?:-|–|to) ?([0-9.,]+) ?(l|L|litres?)", node):
        says = f"water: '{node}' is two figures: give them by name"
        faults.append(Fault(node.place, "map-wanted", says, f"{{least: {span[1]} l, most: {span[3]} l}}"))
        return None
    return _map(node.place, ("least", node.called("water")), ("most", node.called("water")))


def setup(node: Node, name: str, faults: list[Fault]) -> Node | None:
    return read_table(node, name.strip("'"), faults) if isinstance(node, Mapping) else node


def levels(node: Node, name: str, faults: list[Fault]) -> Node | None:
    return levels_read(node, faults) if isinstance(node, Mapping) else node


SHORTHAND: dict[type[Record], Rewrite] = {
    Asbestos: _one_word("sample"),
    BoardOnTop: board_on_top,
    Calendar: calendar,
    Ceiling: _one_word("lowest"),
    CoolDown: _one_word("days"),
    DampReading: damp_reading,
    Drying: drying,
    Engineer: _one_word("confirmed"),
    Fall: fall_words,
    Fills: fills,
    FinishedLevel: finished_level,
    Layer: layer,
    Levels: levels,
    NightTemperature: night_temperature,
    Packing: packing,
    Prices: prices,
    Room: room,
    Service: service,
    SetUp: setup,
    Tape: tape,
    Wall: wall,
    Water: water,
    Waterproofing: _one_word("done"),
    Zone: zone,
}

FREE_KEYS = (Drying, Fills, Layer, NightTemperature, Prices, Tape, Wall)  # records whose keys the user makes up
SPEAKS = (Asbestos, DampReading, Engineer, Fall, FinishedLevel, Waterproofing)  # records for which "no" says something
