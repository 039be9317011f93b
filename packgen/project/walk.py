"""The walk round a room as the file gives it, before anything is adjusted."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.figures import plain
from packgen.core.plane import Point, arc, pairs, ring_area
from packgen.project.room_model import Room, Wall
from packgen.trade.plausible import plausible
from packgen.trade.survey import measuring

AHEAD: tuple[tuple[int, int], ...] = ((1, 0), (0, 1), (-1, 0), (0, -1))  # each turn right is one further


def room_of(rooms: Sequence[Room], name: str | None) -> Room | None:
    """The room that something names; the only one where it names none."""
    if name is None:
        return rooms[0] if len(rooms) == 1 else None
    return next((r for r in rooms if r.name.casefold() == name.casefold()), None)


def square(room: Room) -> bool:
    """Whether every corner is a plain right angle, or none at all, and nothing else fixes the outline."""
    plain_turns = all(
        w.turn in ("right", "left", "straight") and w.angle is None and w.bearing is None for w in room.walls
    )
    return plain_turns and not room.offsets and not room.corners


def by_coordinates(room: Room) -> bool:
    """Whether the corners' coordinates are the outline itself: the room has no walls of its own."""
    return bool(room.corners) and room.marks.of("walls") == room.marks.of("corners")


def steps(walls: Sequence[Wall]) -> list[tuple[int, int]]:
    heading, out = 0, []
    for wall in walls:
        out.append(AHEAD[heading % 4])
        heading += {"right": 1, "straight": 0}.get(wall.turn, -1)
    return out


def corners(room: Room) -> list[Point]:
    """Corners as walked, not adjusted; corner 1 first. For right-angled rooms."""
    x, y = 0.0, 0.0
    out: list[Point] = []
    for wall, (sx, sy) in zip(room.walls, steps(room.walls), strict=True):
        out.append((x, y))
        x, y = x + wall.length * sx, y + wall.length * sy
    return out


def rise_of(wall: Wall) -> float:
    """How far a curved wall bows out of the room in the middle of its chord, mm; into the room below 0, straight 0."""
    if wall.curve is None:
        return 0.0
    rise = wall.rise
    if rise is None and wall.radius is not None:
        rise = wall.radius - math.sqrt(max(0.0, wall.radius**2 - wall.length**2 / 4))
    return (rise or 0.0) * (1 if wall.curve == "out" else -1)


def ring(room: Room) -> list[Point]:
    """The outline as walked with its curved walls. For right-angled rooms."""
    at, within = corners(room), measuring().chord_within_mm
    ends = pairs(at)
    return [p for w, (a, b) in zip(room.walls, ends, strict=True) for p in arc(a, b, rise_of(w), within)]


def located(room: Room) -> list[Point]:
    """Corners where coordinates or bearings give them, wall 1 along x from corner 1; none where they do not."""
    if by_coordinates(room):
        at = [c.at for c in room.corners]
    elif room.walls and all(w.bearing is not None for w in room.walls):
        at, x, y = [], 0.0, 0.0
        for w in room.walls:
            at.append((x, y))
            turn = math.radians((w.bearing or 0.0) - (room.walls[0].bearing or 0.0))
            x, y = x + w.length * math.cos(turn), y + w.length * math.sin(turn)
    else:
        return []
    return placed(at) if len(at) > 1 and math.dist(at[0], at[1]) > 0 else []


def placed(at: Sequence[Point]) -> list[Point]:
    """A ring moved and turned so that corner 1 lies at the origin and corner 2 on the x axis."""
    (x0, y0), (x1, y1) = at[0], at[1]
    d = math.dist(at[0], at[1])
    c, s = (x1 - x0) / d, (y1 - y0) / d
    return [((x - x0) * c + (y - y0) * s, (y - y0) * c - (x - x0) * s) for x, y in at]


def area_mm2(room: Room) -> float:
    """Area as walked; of a skew room the most its walls can hold."""
    if square(room):
        return abs(ring_area(ring(room)))
    if at := located(room):
        return abs(ring_area(at))
    return (sum(w.length for w in room.walls) / 4) ** 2


def tape_limit(length: float) -> float:
    return max(plausible("outline", "tape_least_mm"), length / 1000 * plausible("outline", "tape_per_metre_mm"))


def figures_slip(written: float, wanted: float, within: float) -> bool:
    """Whether a slip of the pen turns one length into the other: figures swapped or changed, a nought more or less."""
    if abs(written * 10 - wanted) <= within or abs(written / 10 - wanted) <= within:
        return True
    a = plain(written)
    swapped = [float(a[:i] + a[i + 1] + a[i] + a[i + 2 :]) for i in range(len(a) - 1) if "." not in a[i : i + 2]]
    changed = [float(a[:i] + d + a[i + 1 :]) for i in range(len(a)) for d in "0123456789" if a[i] not in ("." + d)]
    return any(abs(v - wanted) <= within / 3 for v in swapped + changed)
