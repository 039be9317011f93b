"""Shorthand of the site written out: layers, levels, falls, damp, services."""

from __future__ import annotations

import re

from packgen.core.finding import Fault
from packgen.core.lengths import NotUnderstood, fall, fall_to_drain
from packgen.project.pairs import LAYER, dashed, one_pair
from packgen.project.pieces import Rewrite, key_at, map_of, part, replaced
from packgen.project.tree import Mapping, Node, Scalar

# --------------------------------------------------------------------------------- layers


def layer(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`oak board: 14`, `oak board: 14, 9.1 kg/m2` or `oak board: {thickness: 14, mass: 9.1 kg/m2}`."""
    if isinstance(node, Mapping) and (node.get("name") or len(node.entries) > 1):
        return node
    label, value = one_pair(node, LAYER, faults)
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


def zone(node: Node, name: str, faults: list[Fault]) -> Node | None:
    if not isinstance(node, Mapping):
        return node
    return replaced(node, "layers from the top", dashed(node.get("layers from the top")))


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
