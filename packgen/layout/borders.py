"""Borders of zones whose rail tops differ: rails end there, and each side has its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from packgen.core.plane import Polygon, Segment, bounds, box
from packgen.project.room_model import ServiceArea
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Borders:
    """lines: where rails have to end. areas: for each rail top the boxes in which it holds; bays are parted there."""

    lines: tuple[Segment, ...] = ()
    areas: tuple[tuple[Polygon, ...], ...] = ()


def zone_borders(zones: Sequence[Zone], room: RoomOutline, rooms: Sequence[str]) -> Borders:
    """Borders inside one room between zones that are known to have different rail tops.

    A zone given as a box goes before one that covers a whole room; of boxes that overlap the first keeps the place.
    Levels that the file leaves open are not known to differ.
    """
    mine = [zone for zone in zones if _lies_in(zone, room.name, rooms)]
    boxes = [(_top(z), _box(z.covers, room)) for z in mine if isinstance(z.covers, ServiceArea)]
    whole = [_top(z) for z in mine if not isinstance(z.covers, ServiceArea)]
    if not boxes or len({top for top, _ in boxes} | set(whole[:1])) < 2:
        return Borders()
    x0, y0, x1, y1 = bounds(Polygon(room.corners))
    edges = [bounds(b) for _, b in boxes]
    xs = sorted({x0 - 1, x1 + 1, *(v for e in edges for v in (e[0], e[2]) if x0 < v < x1)})
    ys = sorted({y0 - 1, y1 + 1, *(v for e in edges for v in (e[1], e[3]) if y0 < v < y1)})
    owner = [
        [_owner(((xa + xb) / 2, (ya + yb) / 2), boxes, whole) for ya, yb in pairwise(ys)] for xa, xb in pairwise(xs)
    ]
    _fill_gaps(owner)
    lines = []
    for i in range(1, len(xs) - 1):
        parted = [_differ(owner[i - 1][j], owner[i][j]) for j in range(len(ys) - 1)]
        lines += [Segment((xs[i], ys[a]), (xs[i], ys[b])) for a, b in _stretches(parted)]
    for j in range(1, len(ys) - 1):
        parted = [_differ(owner[i][j - 1], owner[i][j]) for i in range(len(xs) - 1)]
        lines += [Segment((xs[a], ys[j]), (xs[b], ys[j])) for a, b in _stretches(parted)]
    held: dict[Key | None, list[Polygon]] = {}
    for i, column in enumerate(owner):
        for j, top in enumerate(column):
            held.setdefault(top, []).append(box(xs[i], ys[j], xs[i + 1], ys[j + 1]))
    return Borders(tuple(lines), tuple(tuple(part) for part in held.values())) if lines else Borders()


def _lies_in(zone: Zone, room: str, rooms: Sequence[str]) -> bool:
    """A zone lies in the room it names, covers or is called after; one that names none may lie in any."""
    named = [name for name in (zone.room, zone.covers, zone.zone) if name in rooms]
    return not named or named[0] == room


def _top(zone: Zone) -> Key:
    """What the rail top depends on, as far as the file tells it."""
    layers = sum(layer.thickness for layer in zone.layers)
    level, fall = zone.finished_level.level, zone.fall
    if fall.per_metre == 0 and level is not None:
        return ("level", round(level - layers, 3))
    if level is None:
        return ("open", layers, fall.per_metre, fall.from_wall, fall.to_wall)
    return (
        "falling",
        round(level - layers, 3),
        zone.finished_level.at_wall,
        fall.per_metre,
        fall.from_wall,
        fall.to_wall,
    )


def _differ(one: Key | None, other: Key | None) -> bool:
    return one is not None and other is not None and one != other


def _box(area: ServiceArea, room: RoomOutline) -> Polygon:
    x, y = room.corners[0]
    return box(area.start[0] + x, area.start[1] + y, area.end[0] + x, area.end[1] + y)


def _owner(at: tuple[float, float], boxes: Sequence[tuple[Key, Polygon]], whole: Sequence[Key]) -> Key | None:
    for top, shape in boxes:
        x0, y0, x1, y1 = bounds(shape)
        if x0 < at[0] < x1 and y0 < at[1] < y1:
            return top
    return whole[0] if whole else None


def _fill_gaps(owner: list[list[Key | None]]) -> None:
    """A strip that no zone covers, between two boxes or beside a wall, goes with the zone before it, else after it."""
    for step in (-1, 1):
        for column in owner:
            for j in range(len(column))[::-step]:
                if column[j] is None and 0 <= j + step < len(column):
                    column[j] = column[j + step]
        for i in range(len(owner))[::-step]:
            for j in range(len(owner[i])):
                if owner[i][j] is None and 0 <= i + step < len(owner):
                    owner[i][j] = owner[i + step][j]


def _stretches(parted: Sequence[bool]) -> list[tuple[int, int]]:
    """Runs of True as (from, to) counted in edges of cells."""
    found: list[tuple[int, int]] = []
    for k, here in enumerate(parted):
        if here and found and found[-1][1] == k:
            found[-1] = (found[-1][0], k + 1)
        elif here:
            found.append((k, k + 1))
    return found
