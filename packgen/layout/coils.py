"""A heating pipe laid out from a short description: which zone, how far apart, along which wall."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.plane import Point, Polygon, Segment, bounds, common, inset, pieces_inside, without
from packgen.layout.ground import SAME_MM
from packgen.project.room_model import Service, ServiceArea
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline

Span = tuple[float, float]


def coil_floor(
    service: Service, room: RoomOutline, zones: Sequence[Zone], strip_mm: float, from_walls_mm: float
) -> tuple[Polygon, ...]:
    """The floor that a coil covers: its zone's part of the room, what stays left out, so far from every edge.

    Boxes of other zones are not its floor where its own zone is the rest of a room.
    """
    x, y = room.origin
    named = next(z for z in zones if z.zone.casefold() == (service.zone or "").casefold())

    def shape(area: ServiceArea) -> Polygon:
        xs, ys = sorted((area.start[0], area.end[0])), sorted((area.start[1], area.end[1]))
        ring = ((xs[0] + x, ys[0] + y), (xs[1] + x, ys[0] + y), (xs[1] + x, ys[1] + y), (xs[0] + x, ys[1] + y))
        return Polygon(ring)

    parts: tuple[Polygon, ...] = room.floor
    if isinstance(named.covers, ServiceArea):
        parts = tuple(q for p in parts for q in common(p, shape(named.covers)))
    else:
        others = [shape(z.covers) for z in zones if z is not named and isinstance(z.covers, ServiceArea)]
        parts = tuple(q for p in parts for q in (without(p, others) if others else (p,)))
    return tuple(q for p in parts for q in inset(p, max(from_walls_mm, strip_mm)))


def coil_in(
    floor: Sequence[Polygon], spacing: float, along_x: bool, from_high: bool, towards: Point | None
) -> tuple[Segment, ...]:
    """Runs to and fro over any floor, `spacing` apart, with straight bends from run to run.

    along_x: whether runs lie along x. from_high: the first run lies at the far edge. towards: the pipe begins at that
    end of the first run which is nearer to this place, the manifold; else at the low end.
    Where something that stays parts a run, each side has a strand of its own; strands are joined where the straight way
    from one to the next lies on the floor, and else come as pieces beside each other that the fitter leads round.
    """
    out: list[Segment] = []
    last: Point | None = towards
    for part in floor:
        strands = _strands(part, spacing, along_x, from_high)
        while strands:
            k, backward = _nearest(strands, last, along_x)
            strand = strands.pop(k)
            made = _to_and_fro(strand, along_x, backward)
            if out and last is not None and made:
                way = Segment(last, made[0].a)
                inside = sum(s.length_mm for q in floor for s in pieces_inside(q, way)) if way.length_mm else 0.0
                if way.length_mm > SAME_MM and inside > way.length_mm - 1.0:
                    out.append(way)
            out += made
            last = made[-1].b if made else last
    return tuple(out)


def _strands(part: Polygon, spacing: float, along_x: bool, from_high: bool) -> list[list[tuple[float, Span]]]:
    """Runs gathered into strands: a run goes on in the next one as long as the two lie side by side one to one."""
    x0, y0, x1, y1 = bounds(part)
    low, high = (y0, y1) if along_x else (x0, x1)
    count = math.floor((high - low) / spacing + SAME_MM)
    rest = (high - low - count * spacing) / 2
    places = [low + rest + k * spacing for k in range(count + 1)]
    if from_high:
        places.reverse()
    open_: list[list[tuple[float, Span]]] = []
    done: list[list[tuple[float, Span]]] = []
    for c in places:
        at = min(max(c, low + 0.1), high - 0.1)
        line = Segment((x0 - 1, at), (x1 + 1, at)) if along_x else Segment((at, y0 - 1), (at, y1 + 1))
        side = 0 if along_x else 1
        spans = [
            (min(s.a[side], s.b[side]), max(s.a[side], s.b[side]))
            for s in pieces_inside(part, line)
            if s.length_mm > spacing
        ]
        going: list[list[tuple[float, Span]]] = []
        for span in spans:
            mine = [s for s in open_ if _beside(s[-1][1], span)]
            alone = len(mine) == 1 and sum(_beside(mine[0][-1][1], other) for other in spans) == 1
            strand = mine[0] if alone else []
            strand.append((at, span))
            going.append(strand)
        done += [s for s in open_ if s not in going]
        open_ = going
    return done + open_


def _beside(one: Span, other: Span) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > SAME_MM


def _place(along: float, across: float, along_x: bool) -> Point:
    return (along, across) if along_x else (across, along)


def _nearest(strands: Sequence[list[tuple[float, Span]]], last: Point | None, along_x: bool) -> tuple[int, bool]:
    """The strand that begins nearest to a place, and whether its first run goes backward."""
    if last is None:
        return 0, False
    ends = [
        (math.dist(last, _place(strand[0][1][side], strand[0][0], along_x)), k, side == 1)
        for k, strand in enumerate(strands)
        for side in (0, 1)
    ]
    _, k, backward = min(ends)
    return k, backward


def _to_and_fro(strand: Sequence[tuple[float, Span]], along_x: bool, backward: bool) -> list[Segment]:
    out: list[Segment] = []
    for at, (lo, hi) in strand:
        here, there = (hi, lo) if backward else (lo, hi)
        start, end = _place(here, at, along_x), _place(there, at, along_x)
        if out:
            out.append(Segment(out[-1].b, start))
        out.append(Segment(start, end))
        backward = not backward
    return out
