"""Shorthand of what else fixes an outline written out: check tapes, offsets from a base line, coordinates."""

from __future__ import annotations

import itertools
import math
import re

from packgen.core.finding import Fault
from packgen.core.lengths import NotUnderstood, tidy
from packgen.core.plane import Point
from packgen.project.amounts import coordinate
from packgen.project.pairs import dashed, one_pair
from packgen.project.pieces import key_at, map_of, part, replaced
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar

_TAPE = re.compile(r"(?:corner )?([0-9]+)(?: to | ?- ?| and )(?:corner )?([0-9]+)", re.IGNORECASE)
_CORNER = re.compile(r"corner ?([0-9]+)", re.IGNORECASE)
_OFFSET = re.compile(
    r"(?P<along>[0-9].*?) (?P<way>along|on|back)\b[\s,;]*(?:(?P<away>[0-9].*?) (?:to the )?(?P<side>right|left)|"
    r"(?P<none>on the line))",
    re.IGNORECASE,
)
LISTS = ("walls", "check tapes", "offsets", "corners")


def tape(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`corner 1 to corner 3: 6662` to start, end and length."""
    label, value = one_pair(node, "corner 1 to corner 3: 6662", faults)
    if label is None or value is None:
        return None
    ends = _TAPE.fullmatch(tidy(label))
    if ends is None:
        says = f"'{label}' does not say from which corner to which: write 'corner 1 to corner 3: 6662'"
        faults.append(Fault(label.place, "tape-ends", says))
        return None
    called = f"corner {ends[1]} to corner {ends[2]}"
    return map_of(
        label.place,
        ("start", Scalar(ends[1], label.place, label=called)),
        ("end", Scalar(ends[2], label.place, label=called)),
        ("length", value.called(called) if isinstance(value, Scalar) else value),
    )


def base_line(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`corner 1 to corner 4` to start and end."""
    if not isinstance(node, Scalar):
        return node
    ends = _TAPE.fullmatch(tidy(node))
    if ends is None:
        wall = re.fullmatch(r"wall ?([0-9]+)", tidy(node), re.IGNORECASE)
        guess = f"corner {wall[1]} to corner {int(wall[1]) + 1}" if wall else "corner 1 to corner 4"
        says = f"base line: '{node}' does not say from which corner to which the line is stretched"
        faults.append(Fault(node.place, "tape-ends", says, guess))
        return None
    return map_of(
        node.place,
        ("start", Scalar(ends[1], node.place, label="base line")),
        ("end", Scalar(ends[2], node.place, label="base line")),
    )


def offset(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`corner 2: 3414 along, 2412 left` to the corner, how far along the base line it lies and how far beside it."""
    label, value = one_pair(node, "corner 2: 3414 along, 2412 left", faults)
    if label is None or value is None:
        return None
    number = _numbered(label, faults)
    if number is None:
        return None
    called = f"corner {number}"
    found = _OFFSET.fullmatch(" ".join(value.split())) if isinstance(value, Scalar) else None
    if found is None or not isinstance(value, Scalar):
        says = (
            f"{called}: how far along the base line it lies, and how far to the right or left of it: write "
            f"'{called}: 3414 along, 2412 left'"
        )
        faults.append(Fault(value.place, "not-an-offset", says))
        return None
    sign = "-" if found["way"].casefold() == "back" else ""
    return map_of(
        label.place,
        ("corner", Scalar(number, label.place, label=called)),
        ("along", part(value, 0, sign + found["along"], called)),
        ("away", part(value, found.start("away"), found["away"], called) if found["away"] else None),
        ("side", part(value, found.start("side"), found["side"].casefold(), called) if found["side"] else None),
    )


def corner(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`corner 3: [5300, 4180]` to number and place."""
    label, value = one_pair(node, "corner 3: [5300, 4180]", faults)
    if label is None or value is None:
        return None
    number = _numbered(label, faults)
    if number is None:
        return None
    return map_of(label.place, ("number", Scalar(number, label.place, label=f"corner {number}")), ("at", value))


def _numbered(label: Scalar, faults: list[Fault]) -> str | None:
    found = _CORNER.fullmatch(tidy(label))
    if found is None:
        digits = re.search(r"[0-9]+", label)
        says = f"'{label}' is not the name of a corner: corners are called 'corner 1', 'corner 2' and so on"
        faults.append(Fault(label.place, "corner-name", says, f"corner {digits[0]}" if digits else None))
        return None
    return found[1]


def room(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """A room whose corners are given by coordinates gets its walls from them."""
    if not isinstance(node, Mapping):
        return node
    for key in LISTS:
        node = replaced(node, key, dashed(node.get(key)))
    if node.get("walls") is None and (corners := node.get("corners")) is not None:
        walls = _walls_between(corners)
        node = Mapping(node.place, (*node.entries, (key_at("walls", corners.place), walls)), node.flow)
    return node


def _walls_between(corners: Node) -> Node:
    """The straight walls between corners given by coordinates; refused where these cannot be read."""
    found: list[tuple[Point, Scalar]] = []
    for item in corners.items if isinstance(corners, Listing) else ():
        key, at = item.entries[0] if isinstance(item, Mapping) and len(item.entries) == 1 else (None, None)
        spot = _spot(at)
        if key is None or spot is None:
            return Refused(corners.place)
        found.append((spot, key))
    if not found:
        return Refused(corners.place)
    walls = []
    for n, ((a, key), (b, _)) in enumerate(itertools.pairwise([*found, found[0]]), 1):
        label = f"wall {n}"
        length = Scalar(f"{math.dist(a, b):.6f} mm", key.place, label=label)
        made = map_of(key.place, ("length", length), ("turn", Scalar("skew", key.place, label=label)))
        walls.append(Mapping(key.place, ((key_at(label, key.place), made),)))
    return Listing(corners.place, tuple(walls))


def _spot(at: Node | None) -> Point | None:
    if not isinstance(at, Listing) or len(at.items) != 2:
        return None
    try:
        x, y = (coordinate(str(i)) if isinstance(i, Scalar) else math.nan for i in at.items)
    except NotUnderstood:
        return None
    return None if math.isnan(x + y) else (x, y)
