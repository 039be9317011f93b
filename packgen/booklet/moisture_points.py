"""Where residual moisture is tested: the deepest places of each room that keep clear of pipes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packgen.core.plane import Point, Segment, bounds, contains, edge_distance, segment_distance
from packgen.core.surface import level_at
from packgen.layout.model import Bay
from packgen.plan import Plan
from packgen.trade.site_readings import reading_rule, test_point_count

RASTER_MM = 100.0
DEEPEST_BAYS = 40  # looked into in any room, and so many more for each point, so that a hall takes seconds
BAYS_A_POINT = 4
CLEAR_STEPS = 4  # rows and columns of places tried in a bay without pipes


@dataclass(frozen=True, slots=True)
class MoisturePoint:
    """number counts over the job. clear_mm: distance to the nearest pipe's axis, None without pipes."""

    number: int
    room: str
    at: Point
    depth_mm: float
    clear_mm: float | None


def test_points(plan: Plan) -> tuple[MoisturePoint, ...]:
    """The points in the order of the rooms; none where no fill has to dry."""
    if not any(w.key == "test_not_before" for w in plan.sequence.waiting):
        return ()
    found: list[MoisturePoint] = []
    for room in plan.survey.rooms:
        bays = [b for b in plan.layout.bays if b.room == room.name]
        for spot in _choose(plan, bays, test_point_count(room.area_m2)):
            found.append(MoisturePoint(len(found) + 1, room.name, *spot))
    return tuple(found)


def _choose(plan: Plan, bays: list[Bay], count: int) -> list[tuple[Point, float, float | None]]:
    """Deepest first among those clear of pipes and well apart; where none is clear, the clearest."""
    deep = {name: d.most_mm for name, d in plan.heights.bay_depths}
    bays = sorted(bays, key=lambda b: (-deep.get(b.name, 0.0), b.name))[: DEEPEST_BAYS + BAYS_A_POINT * count]
    pipes = [s for run in plan.layout.services for s in run.stretches]
    want = reading_rule("test_point_clear").value
    spots = [spot for b in bays if (spot := _best_in(plan, b, pipes, want))]
    apart = math.sqrt(sum(b.area_m2 for b in bays) / max(count, 1)) * 500 if count > 1 else 0.0
    chosen: list[tuple[Point, float, float | None]] = []
    for near in (apart, 0.0):
        for spot in sorted(spots, key=lambda s: (_short_of(s[2], want), -s[1], s[0])):
            if len(chosen) < count and all(math.dist(spot[0], c[0]) > near for c in chosen):
                chosen.append(spot)
    return chosen


def _short_of(clear_mm: float | None, want_mm: float) -> float:
    return 0.0 if clear_mm is None else round(max(0.0, want_mm - clear_mm), 1)


def _best_in(plan: Plan, bay: Bay, pipes: list[Segment], want_mm: float) -> tuple[Point, float, float | None] | None:
    x0, y0, x1, y1 = bounds(bay.shape)
    near = [
        s
        for s in pipes
        if min(s.a[0], s.b[0]) - want_mm < x1
        and max(s.a[0], s.b[0]) + want_mm > x0
        and min(s.a[1], s.b[1]) - want_mm < y1
        and max(s.a[1], s.b[1]) + want_mm > y0
    ]
    best: tuple[tuple[float, float, Point], tuple[Point, float, float | None]] | None = None
    across, down = math.ceil((x1 - x0) / RASTER_MM), math.ceil((y1 - y0) / RASTER_MM)
    if not near:
        across, down = min(across, CLEAR_STEPS), min(down, CLEAR_STEPS)
    for i in range(1, max(2, across)):
        for j in range(1, max(2, down)):
            at = (x0 + (x1 - x0) * i / max(2, across), y0 + (y1 - y0) * j / max(2, down))
            if not contains(bay.shape, at, 0.0) or edge_distance(bay.shape, at) < RASTER_MM / 2:
                continue
            clear = min((segment_distance(at, s) for s in near), default=None) if pipes else None
            if pipes and clear is None:
                clear = want_mm
            depth = level_at(plan.heights.rail_top, at) - level_at(plan.survey.base, at)
            rank = (_short_of(clear, want_mm), -round(depth, 3), at)
            if best is None or rank < best[0]:
                best = (rank, (at, depth, clear))
    return best[1] if best else None
