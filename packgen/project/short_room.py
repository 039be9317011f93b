"""Shorthand of the site written out: walls, tapes, layers, levels, falls, damp, services."""

from __future__ import annotations

import re

from packgen.core.finding import Fault
from packgen.core.lengths import NotUnderstood, fall, fall_to_drain, tidy
from packgen.project.guess import likely_word
from packgen.project.pieces import Rewrite, key_at, map_of, part, replaced
from packgen.project.tree import Listing, Mapping, Node, Scalar

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
            value.place, ((key_at("number", label.place), Scalar(number[1], label.place, label=called)), *value.entries)
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
        place = part(value, split.start("turn"), split["turn"]).place
        guess = likely_word(" ".join(split["turn"].split()), _TURNS) if split["turn"].casefold() != "turn" else None
        says = f"{called}: '{split['turn']}' is not a turn: write 'turn right', 'turn left', 'skew' or 'skew left'"
        faults.append(Fault(place, "not-a-turn", says, guess))
        return None
    word, angle = turn
    at = split.start("turn")
    return map_of(
        value.place,
        ("number", Scalar(number[1], label.place, label=called)),
        ("length", part(value, 0, split["length"].strip(), called)),
        ("turn", part(value, at, word, called)),
        ("angle", part(value, at, angle, called) if angle else None),
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
    return map_of(
        label.place,
        ("start", Scalar(ends[1], label.place, label=called)),
        ("end", Scalar(ends[2], label.place, label=called)),
        ("length", value.called(called) if isinstance(value, Scalar) else value),
    )


LAYER = "oak board: 14"


def layer(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`oak board: 14`, `oak board: 14, 9.1 kg/m2` or `oak board: {thickness: 14, mass: 9.1 kg/m2}`."""
    if isinstance(node, Mapping) and (node.get("name") or len(node.entries) > 1):
        return node
    label, value = _one_pair(node, LAYER, faults)
    if label is None or value is None:
        return None
    called = Scalar(str(label), label.place)
    if isinstance(value, Mapping):
        return Mapping(label.place, ((key_at("name", label.place), called), *value.entries))
    if not isinstance(value, Scalar):
        says = f"{label}: a thickness is wanted, as in '{label}: 10', without brackets"
        faults.append(Fault(value.place, "one-value-wanted", says))
        return None
    if not value:
        faults.append(Fault(value.place, "empty", f"{label}: how thick is it, in mm? Write a number: '{label}: 10'"))
        return None
    split = re.fullmatch(r"(.+?), +(.*kg.*)", value)
    thickness = part(value, 0, split[1], str(label)) if split else value.called(str(label))
    mass = part(value, split.start(2), split[2], str(label)) if split else None
    return map_of(label.place, ("name", called), ("thickness", thickness), ("mass", mass))


def _one_pair(node: Node, example: str, faults: list[Fault]) -> tuple[Scalar | None, Node | None]:
    """The one key and value of a list item such as `- wall 1: 6200, turn right`."""
    if isinstance(node, Mapping) and len(node.entries) == 1:
        return node.entries[0]
    if isinstance(node, Scalar):
        guess = None
        if found := re.fullmatch(r"(.*[^\s0-9.,:])[\s]*:?[\s]*([0-9]+[^:]*)", node):
            guess = f"{found[1].strip(' ,:=')}: {found[2]}"
        thick = re.fullmatch(r"([0-9][0-9.,]*(?: ?mm| ?cm)?) +([A-Za-z].*)", node)
        if thick and example == LAYER:
            guess = f"{thick[2]}: {thick[1]}"
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


def room(node: Node, name: str, faults: list[Fault]) -> Node | None:
    if isinstance(node, Mapping):
        for key in ("walls", "check tapes"):
            node = replaced(node, key, _dashed(node.get(key)))
    return node


def zone(node: Node, name: str, faults: list[Fault]) -> Node | None:
    if not isinstance(node, Mapping):
        return node
    return replaced(node, "layers from the top", _dashed(node.get("layers from the top")))


# --------------------------------------------------------------------------------- heights


def finished_level(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`50 below TBM at wall 1`, `20 below TBM at the drain`; `open` leaves the level to the plan."""
    if not isinstance(node, Scalar):
        return node
    if node.casefold() in ("open", "to be found", "free"):
        return Mapping(node.place, ())
    drain = re.fullmatch(r"(.*?)\s+(?:at|by)\s+(?:the\s+)?(drain)", node, re.IGNORECASE)
    if drain is not None:
        return map_of(
            node.place,
            ("level", part(node, 0, drain[1], "finished level")),
            ("at drain", Scalar("yes", node.place, label="finished level")),
        )
    at = re.fullmatch(r"(.*?)\s+(?:at|along|by)\s+(wall\s*[0-9]+)", node, re.IGNORECASE)
    if at is None:
        return map_of(node.place, ("level", node.called("finished level")))
    return map_of(
        node.place,
        ("level", part(node, 0, at[1], "finished level")),
        ("at wall", part(node, at.start(2), at[2], "finished level")),
    )


def fall_words(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`level`, `15 per metre, going down from wall 1 to wall 3`, or `15 per metre, going down to the drain`."""
    if not isinstance(node, Scalar):
        return node
    try:
        if to := fall_to_drain(node):
            return map_of(
                node.place,
                ("per metre", Scalar(repr(to[0]), node.place, label="fall")),
                ("to drain", Scalar(to[1], node.place, label="fall")),
            )
        steep, start, end = fall(node)
    except NotUnderstood as why:
        faults.append(Fault(node.place, why.code, f"fall: {why}", why.guess))
        return None
    return map_of(
        node.place,
        ("per metre", Scalar(repr(steep), node.place, label="fall")),
        ("from wall", Scalar(f"wall {start}", node.place, label="fall") if start is not None else None),
        ("to wall", Scalar(f"wall {end}", node.place, label="fall") if end is not None else None),
    )


# --------------------------------------------------------------------------------- base and services


def one_word(key: str, *words: str) -> Rewrite:
    """A single word stands for the record's first key."""

    def write_out(node: Node, name: str, faults: list[Fault]) -> Node | None:
        return map_of(node.place, (key, node.called(name.strip("'")))) if isinstance(node, Scalar) else node

    return write_out


_DAMP = re.compile(r"([0-9.,]+)\s*(.*)")


def damp_reading(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`not needed`, `unknown`, `71 % RH`, or a map whose value carries its unit."""
    if isinstance(node, Scalar):
        if not _DAMP.fullmatch(node):
            word = {"no": "unknown", "none": "unknown", "not done": "unknown"}.get(node.casefold(), str(node))
            return map_of(node.place, ("state", Scalar(word, node.place, node.quoted, "damp reading")))
        node = map_of(node.place, ("value", node))
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
    return Mapping(node.place, (*entries, (key_at("unit", value.place), Scalar(unit, value.place))), node.flow)


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
    support = part(lies_on, high.start(1), high[1], "lies on")
    return Mapping(node.place, (*node.entries, (key_at("support", support.place), support)), node.flow)
