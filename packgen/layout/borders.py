"""Borders of zones whose rail tops differ: rails end there, and each side has its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from packgen.core.plane import Point, Polygon, Segment, bounds, box
from packgen.project.room_model import Drain, ServiceArea
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline
from packgen.survey.sinks import Sink, sink_of

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Borders:
    """lines: where rails have to end: at another rail top, or in a valley, which no straight rail follows.

    areas: for each rail top the boxes in which it holds; bays are parted there."""

    lines: tuple[Segment, ...] = ()
    areas: tuple[tuple[Polygon, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class _Plane:
    """The rail top of a zone: one plane, or, where it falls to a drain, one on each side of every valley."""

    top: Key
    sink: Sink | None

    def key(self, at: Point) -> Key:
        if self.sink is None:
            return self.top
        return (self.top, *self.sink.side(at))


def zone_borders(
    zones: Sequence[Zone], room: RoomOutline, rooms: Sequence[RoomOutline], drains: Sequence[Drain] = ()
) -> Borders:
    """Borders inside one room between planes of the rail tops that are known to differ.

    A zone given as a box goes before one that covers a whole room; of boxes that overlap the first keeps the place.
    Levels that the file leaves open are not known to differ.
    """
    mine = [zone for zone in zones if _lies_in(zone, room.name, [r.name for r in rooms])]
    planes = [_Plane(_top(z), sink_of(z, (room,), drains)[0] if z.fall.to_drain else None) for z in mine]
    boxes = [
        (plane, _box(z.covers, room))
        for plane, z in zip(planes, mine, strict=True)
        if isinstance(z.covers, ServiceArea)
    ]
    whole = [plane for plane, z in zip(planes, mine, strict=True) if not isinstance(z.covers, ServiceArea)]
    sinks = [plane.sink for plane in planes if plane.sink is not None]
    if not sinks and (not boxes or len({plane.top for plane, _ in boxes} | {p.top for p in whole[:1]}) < 2):
        return Borders()
    x0, y0, x1, y1 = bounds(Polygon(room.ring))
    edges = [bounds(b) for _, b in boxes]
    cut_x = [*(v for e in edges for v in (e[0], e[2])), *(x for s in sinks for x in s.folds(0))]
    cut_y = [*(v for e in edges for v in (e[1], e[3])), *(y for s in sinks for y in s.folds(1))]
    xs = sorted({x0 - 1, x1 + 1, *(v for v in cut_x if x0 < v < x1)})
    ys = sorted({y0 - 1, y1 + 1, *(v for v in cut_y if y0 < v < y1)})
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
        return ("open", layers, fall.per_metre, fall.from_wall, fall.to_wall, fall.to_drain)
    return (
        "falling",
        round(level - layers, 3),
        zone.finished_level.at_wall,
        fall.per_metre,
        fall.from_wall,
        fall.to_wall,
        fall.to_drain,
    )


def _differ(one: Key | None, other: Key | None) -> bool:
    return one is not None and other is not None and one != other


def _box(area: ServiceArea, room: RoomOutline) -> Polygon:
    x, y = room.corners[0]
    return box(area.start[0] + x, area.start[1] + y, area.end[0] + x, area.end[1] + y)


def _owner(at: Point, boxes: Sequence[tuple[_Plane, Polygon]], whole: Sequence[_Plane]) -> Key | None:
    for plane, shape in boxes:
        x0, y0, x1, y1 = bounds(shape)
        if x0 < at[0] < x1 and y0 < at[1] < y1:
            return plane.key(at)
    return whole[0].key(at) if whole else None


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
