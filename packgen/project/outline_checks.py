"""Faults of curved walls, angles, bearings, coordinates and offsets."""

from __future__ import annotations

import math
from collections.abc import Iterable

from packgen.core.figures import listed, plain
from packgen.core.finding import Fault
from packgen.core.plane import is_simple, ring_area
from packgen.project.room_model import Room
from packgen.project.walk import by_coordinates, located
from packgen.trade.plausible import plausible


def curves(room: Room) -> Iterable[Fault]:
    """A curved wall is an arc that its chord allows."""
    for w in room.walls:
        called = f"wall {w.number}"
        if w.curve is None:
            continue
        if w.radius is not None and w.radius < w.length / 2:
            says = (
                f"{called}: from corner to corner it is {plain(w.length)}, so its radius is {plain(w.length / 2)} at "
                f"least, and {plain(w.radius)} stands here"
            )
            yield Fault(w.marks.of("radius"), "not-a-curve", says)
        elif w.rise is not None and w.rise > w.length:
            says = (
                f"{called}: it bows {plain(w.rise)} where it is {plain(w.length)} from corner to corner: measure the "
                "rise from the middle of a straight tape between its corners"
            )
            slip = plain(w.rise / 10) if w.rise / 10 < w.length / 2 else None
            yield Fault(w.marks.of("rise"), "not-a-curve", says, slip)
        elif w.rise is not None and w.rise < plausible("outline", "bends_least_mm"):
            says = f"{called}: a wall that bows {plain(w.rise)} is straight: leave 'bows' away, or is it in cm?"
            yield Fault(w.marks.of("rise"), "not-a-curve", says, plain(w.rise * 10) if w.rise else None)


def angles(room: Room) -> Iterable[Fault]:
    """An inside angle agrees with its turn, and all of them add up to what a room has."""
    for w in room.walls:
        if w.angle is not None and w.turn in ("right", "left") and (w.angle > 180) != (w.turn == "left"):
            side = "less" if w.turn == "right" else "more"
            says = (
                f"wall {w.number}: at a corner that turns {w.turn} the inside angle is {side} than 180 degrees, and "
                f"{plain(w.angle, 4)} stands here"
            )
            yield Fault(w.marks.of("angle"), "angles-sum", says, plain(360 - w.angle, 4))
    usual = {"right": 90.0, "left": 270.0, "straight": 180.0}
    found = [w.angle if w.angle is not None else usual.get(w.turn) for w in room.walls]
    if any(a is None for a in found) or all(w.angle is None for w in room.walls):
        return
    total, wanted = sum(a for a in found if a is not None), 180.0 * (len(found) - 2)
    if abs(total - wanted) > plausible("outline", "angles_off_deg"):
        says = (
            f"the inside angles of '{room.name}' add up to {plain(total, 4)}, and those of {len(found)} corners add up "
            f"to {plain(wanted)}: is one of them an outside angle?"
        )
        yield Fault(room.walls[0].marks.of("angle"), "angles-sum", says)


def bearings(room: Room) -> Iterable[Fault]:
    """All walls have a bearing, or none."""
    without = [w for w in room.walls if w.bearing is None]
    if not without or len(without) == len(room.walls):
        return
    names = listed([f"wall {w.number}" for w in without])
    says = f"'{room.name}' is walked by bearings, and {names} lack theirs: give each wall its bearing, or none of them"
    yield Fault(without[0].marks.of("length"), "not-a-bearing", says, f"{plain(without[0].length)}, bearing ...")


def coordinates(room: Room) -> Iterable[Fault]:
    """Corners given by coordinates are numbered in the order of the walk where they are the outline."""
    count = len(room.walls)
    for wanted, c in enumerate(room.corners, 1):
        if by_coordinates(room) and c.number != wanted:
            says = f"corner {c.number} stands where corner {wanted} is wanted: corners follow each other as walked"
            yield Fault(c.marks.of("number"), "corner-order", says, f"corner {wanted}")
            return
        if not 1 <= c.number <= count:
            says = f"corner {c.number} is given, and '{room.name}' has corners 1 to {count}"
            yield Fault(c.marks.of("number"), "corner-unknown", says)


def located_outline(room: Room) -> Iterable[Fault]:
    """An outline by coordinates or bearings goes clockwise once round, closes, and does not cross itself."""
    at = located(room)
    if not at:
        return
    place = room.marks.of("walls")
    if not by_coordinates(room):
        miss, around = _bearing_misclosure(room), sum(w.length for w in room.walls)
        limit = max(plausible("outline", "closing_least_mm"), around / 1000 * plausible("outline", "bearing_per_metre"))
        if miss > limit:
            says = (
                f"the walls of '{room.name}' do not close by their bearings: they miss by {plain(miss, 0)} "
                f"(allowed {plain(limit, 0)}): read lengths and bearings again"
            )
            yield Fault(place, "outline-open", says)
            return
    if not is_simple(at):
        yield Fault(place, "outline-crosses", f"the walls of '{room.name}' cross each other: is a corner wrong?")
    elif ring_area(at) < 0:
        says = (
            f"the corners of '{room.name}' go round the other way: keep your LEFT hand on the wall, which is clockwise "
            "seen from above"
        )
        yield Fault(place, "turns", says)


def _bearing_misclosure(room: Room) -> float:
    parts = [(w.length, math.radians(w.bearing or 0.0)) for w in room.walls]
    return math.hypot(sum(d * math.cos(b) for d, b in parts), sum(d * math.sin(b) for d, b in parts))


def offsets(room: Room) -> Iterable[Fault]:
    """Offsets have a base line between two corners, and measure others."""
    count, line = len(room.walls), room.base_line
    if room.offsets and line is None:
        says = f"'{room.name}' has offsets and no base line: say from which corner to which the line is stretched"
        yield Fault(room.marks.of("offsets"), "missing-key", says, "base line: corner 1 to corner 2")
        return
    if line is not None:
        for key, n in (("start", line.start), ("end", line.end)):
            if not 1 <= n <= count:
                says = f"the base line goes to corner {n}, and '{room.name}' has corners 1 to {count}"
                yield Fault(line.marks.of(key), "corner-unknown", says)
        if line.start == line.end:
            yield Fault(line.marks.of("end"), "tape-ends", f"the base line goes from corner {line.start} to itself")
    for o in room.offsets:
        if not 1 <= o.corner <= count:
            says = f"an offset goes to corner {o.corner}, and '{room.name}' has corners 1 to {count}"
            yield Fault(o.marks.of("corner"), "corner-unknown", says)
        elif line is not None and o.corner in (line.start, line.end):
            says = f"corner {o.corner} is an end of the base line: offsets are measured to other corners"
            yield Fault(o.marks.of("corner"), "tape-ends", says)
