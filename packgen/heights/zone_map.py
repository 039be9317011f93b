"""Which zone a place of the floor belongs to.

Zones are upright boxes, rooms or everything. The edges of all boxes of a room cut it into cells, and each cell has
one owner; a sliver between a box and a wall goes to the zone beside it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from packgen.core.plane import Point, Polygon, bounds, box, common, inset, together
from packgen.project.model import Project
from packgen.project.room_model import ServiceArea
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline
from packgen.survey.sinks import Sink, sink_of
from packgen.trade.grid_rules import value

Rect = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class RoomZones:
    """The cells of one room: cell (i, j) lies between xs[i - 1] and xs[i], ys[j - 1] and ys[j]; owner by zone index."""

    room: str
    outline: Polygon
    xs: tuple[float, ...]
    ys: tuple[float, ...]
    owner: tuple[tuple[int, ...], ...]

    def zone_at(self, at: Point) -> int:
        """Index of the zone that owns the place; a place on an edge belongs to the cell beyond it."""
        return self.owner[bisect_right(self.xs, at[0])][bisect_right(self.ys, at[1])]

    def cells(self, reach: float) -> Iterable[tuple[int, Rect]]:
        """Owner and rectangle of every cell; the outer ones run on to `reach` on all sides."""
        for i, column in enumerate(self.owner):
            for j, zone in enumerate(column):
                yield zone, _rect(self.xs, self.ys, i, j, reach)


@dataclass(frozen=True, slots=True)
class ZoneMap:
    """All rooms; `regions` the outline of each zone in the file's order, `unclaimed` floor that no zone covers."""

    rooms: tuple[RoomZones, ...]
    regions: tuple[tuple[Polygon, ...], ...]
    unclaimed: tuple[Polygon, ...]

    def zone_at(self, room: str, at: Point) -> int:
        return next(r for r in self.rooms if r.room == room).zone_at(at)


def map_zones(project: Project, rooms: Sequence[RoomOutline]) -> ZoneMap:
    """Gives every place of every room to one zone.

    A box goes before a zone that covers a whole room; of boxes that overlap the one named first keeps the place.
    """
    claims = [[(i, z) for i, z in enumerate(project.finishes) if room in rooms_of(z, rooms)] for room in rooms]
    sinks = [
        [sink_of(z, rooms_of(z, rooms), project.drains)[0] for _, z in claimed if z.fall.to_drain is not None]
        for claimed in claims
    ]
    mapped = [_map_room(*of_room) for of_room in zip(claims, rooms, sinks, strict=True)]
    pieces: list[list[Polygon]] = [[] for _ in project.finishes]
    for m, _ in mapped:
        for zone, cell in m.cells(_reach(m)):
            pieces[zone] += common(m.outline, box(*cell))
    regions = tuple(together(p) if len(p) > 1 else tuple(p) for p in pieces)
    return ZoneMap(tuple(m for m, _ in mapped), regions, tuple(u for _, unclaimed in mapped for u in unclaimed))


def rooms_of(zone: Zone, rooms: Sequence[RoomOutline]) -> tuple[RoomOutline, ...]:
    """The rooms a zone may lie in: the one it names, covers or is called after, else all."""
    for name in (zone.room, zone.covers, zone.zone):
        named = tuple(r for r in rooms if r.name == name)
        if named:
            return named
    return tuple(rooms)


def _reach(room: RoomZones) -> float:
    """Farther from the origin than anything of the room or its zones."""
    return max(abs(c) for c in (*bounds(room.outline), *room.xs, *room.ys)) + 1_000


def _map_room(
    zones: Sequence[tuple[int, Zone]], room: RoomOutline, sinks: Sequence[Sink]
) -> tuple[RoomZones, tuple[Polygon, ...]]:
    """The cells of a room; a drain that the floor falls to cuts them along its valleys, so that each is one plane."""
    boxes = [(i, b) for i, zone in zones if (b := _box_of(zone, room.origin)) is not None]
    whole = [i for i, zone in zones if not isinstance(zone.covers, ServiceArea)]
    xs = tuple(sorted({x for _, b in boxes for x in (b[0], b[2])} | {x for s in sinks for x in s.folds(0)}))
    ys = tuple(sorted({y for _, b in boxes for y in (b[1], b[3])} | {y for s in sinks for y in s.folds(1)}))
    bare = RoomZones(room.name, Polygon(room.ring), xs, ys, ())
    reach = _reach(bare)
    rects = {(i, j): _rect(xs, ys, i, j, reach) for i in range(len(xs) + 1) for j in range(len(ys) + 1)}
    known: dict[tuple[int, int], int] = {}
    for key, cell in rects.items():
        x, y = (cell[0] + cell[2]) / 2, (cell[1] + cell[3]) / 2
        inside = [z for z, b in boxes if b[0] < x < b[2] and b[1] < y < b[3]]
        if inside or whole:
            known[key] = (inside or whole)[0]
    free = [cell for key, cell in rects.items() if key not in known]
    unclaimed = [p for cell in free for p in common(bare.outline, box(*cell)) if inset(p, value("at_wall") / 2)]
    owner = tuple(
        tuple(known[i, j] if (i, j) in known else _nearest(rects[i, j], rects, known) for j in range(len(ys) + 1))
        for i in range(len(xs) + 1)
    )
    return replace(bare, owner=owner), tuple(unclaimed)


def _box_of(zone: Zone, origin: Point) -> Rect | None:
    if not isinstance(zone.covers, ServiceArea):
        return None
    (x0, y0), (x1, y1), (x, y) = zone.covers.start, zone.covers.end, origin
    return min(x0, x1) + x, min(y0, y1) + y, max(x0, x1) + x, max(y0, y1) + y


def _rect(xs: Sequence[float], ys: Sequence[float], i: int, j: int, reach: float) -> Rect:
    return (
        xs[i - 1] if i > 0 else -reach,
        ys[j - 1] if j > 0 else -reach,
        xs[i] if i < len(xs) else reach,
        ys[j] if j < len(ys) else reach,
    )


def _nearest(cell: Rect, rects: dict[tuple[int, int], Rect], known: dict[tuple[int, int], int]) -> int:
    """Owner of the nearest owned cell, of several the one with the longest edge beside it; the first zone if none."""

    def far(other: Rect) -> tuple[float, float]:
        dx = max(other[0] - cell[2], cell[0] - other[2], 0.0)
        dy = max(other[1] - cell[3], cell[1] - other[3], 0.0)
        beside_x = min(cell[2], other[2]) - max(cell[0], other[0])
        beside_y = min(cell[3], other[3]) - max(cell[1], other[1])
        return math.hypot(dx, dy), -max(beside_x, beside_y)

    return known[min(known, key=lambda key: (far(rects[key]), key))] if known else 0
