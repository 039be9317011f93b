"""Shorthand of the work written out: fills, prices, drying, boards, days, set-ups."""

from __future__ import annotations

import datetime
import re

from packgen.core.finding import Fault
from packgen.core.lengths import LENGTH_UNITS, tidy
from packgen.project.guess import likely_key
from packgen.project.pieces import key_at, map_of, part
from packgen.project.readings import levels_read, read_table
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar


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
    return Mapping(node.place, (*kept, (key_at("described", start), Mapping(start, tuple(described)))))


def prices(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """Every key that is no word of its own is a priced item."""
    if not isinstance(node, Mapping):
        return node
    own = ("currency", "labour", "overhead and profit", "tax")
    items = [(k, v) for k, v in node.entries if k not in own and not likely_key(k, own)]
    kept = [(k, v) for k, v in node.entries if (k, v) not in items]
    start = items[0][0].place if items else node.place
    return Mapping(node.place, (*kept, (key_at("items", start), Mapping(start, tuple(items)))))


def drying(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`{first 40 at: 1 mm per day, rest at: 0.5 mm per day}`, or one rate for all."""
    if isinstance(node, Scalar):
        return map_of(
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
            entries.append((key_at("first mm", key.place), Scalar(first[1], key.place, label=str(key))))
            entries.append(
                (key_at("first rate", key.place), value.called(str(key)) if isinstance(value, Scalar) else value)
            )
        elif key == "rest at":
            entries.append(
                (key_at("rest rate", key.place), value.called(str(key)) if isinstance(value, Scalar) else value)
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
    """`22 OSB`, or with the size it is bought in: `22 OSB, 2500 x 1250`."""
    if not isinstance(node, Scalar):
        return node
    units = "|".join(LENGTH_UNITS)
    size = rf"([0-9][0-9.,]*?(?: ?(?:{units}))?) ?[x×] ?([0-9][0-9.,]*(?: ?(?:{units}))?)"
    found = re.fullmatch(rf"([0-9][0-9.,]*(?: ?(?:{units})\b)?)\s*(\D.*?)(?:,? {size})?", node)
    if found is None:
        turned = re.fullmatch(r"(\D+?)\s*([0-9][0-9.,]*)", node)
        guess = f"{turned[2]} {turned[1].strip()}" if turned else None
        says = (
            f"board on top: '{node}' is not a board: write its thickness and what it is, for example "
            "'22 OSB', or 'none'"
        )
        faults.append(Fault(node.place, "not-a-board", says, guess))
        return None
    return map_of(
        node.place,
        ("thickness", part(node, 0, found[1], "board on top")),
        ("material", part(node, found.start(2), found[2], "board on top")),
        ("length", part(node, found.start(3), found[3], "length") if found[3] else None),
        ("width", part(node, found.start(4), found[4], "width") if found[4] else None),
    )


def night_temperature(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """One figure for all nights, or a map of dates."""
    if isinstance(node, Scalar):
        return map_of(node.place, ("always", node.called("lowest night temperature")))
    if isinstance(node, Mapping) and not node.get("always") and not node.get("by night"):
        named = [(k.called("lowest night temperature"), v) for k, v in node.entries]
        return map_of(node.place, ("by night", Mapping(node.place, tuple(named), node.flow)))
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
    return map_of(node.place, ("plates", node)) if isinstance(node, Listing) else node


def rail(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`stock: 3000` is a list of one length; so is one offcut at hand."""
    if not isinstance(node, Mapping):
        return node
    entries: list[tuple[Scalar, Node]] = []
    for key, value in node.entries:
        one = key in ("stock", "offcuts at hand") and isinstance(value, Scalar) and value[:1].isdigit()
        entries.append(
            (key, Listing(value.place, (value.called(str(key)),)) if one and isinstance(value, Scalar) else value)
        )
    return Mapping(node.place, tuple(entries), node.flow)


def water(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """One figure is both least and most."""
    if not isinstance(node, Scalar):
        return node
    if span := re.fullmatch(r"([0-9.,]+) ?(l|L)? ?(?:-|–|to) ?([0-9.,]+) ?(l|L|litres?)", node):
        says = f"water: '{node}' is two figures: give them by name"
        faults.append(Fault(node.place, "map-wanted", says, f"{{least: {span[1]} l, most: {span[3]} l}}"))
        return None
    return map_of(node.place, ("least", node.called("water")), ("most", node.called("water")))


def setup(node: Node, name: str, faults: list[Fault]) -> Node | None:
    return read_table(node, name.strip("'"), faults) if isinstance(node, Mapping) else node


def levels(node: Node, name: str, faults: list[Fault]) -> Node | None:
    return levels_read(node, faults) if isinstance(node, Mapping) else node
