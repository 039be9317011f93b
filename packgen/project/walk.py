"""The walk round a room as the file gives it, before anything is adjusted."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import plain
from packgen.core.plane import Point, ring_area
from packgen.project.room_model import Room, Wall
from packgen.trade.plausible import plausible

AHEAD: tuple[tuple[int, int], ...] = ((1, 0), (0, 1), (-1, 0), (0, -1))  # each turn right is one further


def room_of(rooms: Sequence[Room], name: str | None) -> Room | None:
    """The room that something names; the only one where it names none."""
    if name is None:
        return rooms[0] if len(rooms) == 1 else None
    return next((r for r in rooms if r.name.casefold() == name.casefold()), None)


def square(room: Room) -> bool:
    """Whether every corner is a plain right angle."""
    return all(w.turn in ("right", "left") and w.angle is None for w in room.walls)


def steps(walls: Sequence[Wall]) -> list[tuple[int, int]]:
    heading, out = 0, []
    for wall in walls:
        out.append(AHEAD[heading % 4])
        heading += 1 if wall.turn == "right" else -1
    return out


def corners(room: Room) -> list[Point]:
    """Corners as walked, not adjusted; corner 1 first. For right-angled rooms."""
    x, y = 0.0, 0.0
    out: list[Point] = []
    for wall, (sx, sy) in zip(room.walls, steps(room.walls), strict=True):
        out.append((x, y))
        x, y = x + wall.length * sx, y + wall.length * sy
    return out


def area_mm2(room: Room) -> float:
    """Area as walked; of a skew room the most its walls can hold."""
    if square(room):
        return abs(ring_area(corners(room)))
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
