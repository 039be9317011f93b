"""Which part of the floor a day's plan shows, at which scale, in how many strips."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from packgen.booklet.drawing.canvas import Canvas
from packgen.booklet.drawing.frame import Margins, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, width
from packgen.booklet.drawing.plan_view import floor_box, name_margins, plan_view
from packgen.booklet.drawing.scale import KEYS, Window, largest
from packgen.plan import Plan
from packgen.sequence.model import Pour
from packgen.survey.model import RoomOutline

BAY_MM = 4.9  # a bay narrower than this on paper holds no turn: then only today's part of the floor is drawn
ROUND_MM = 150.0  # floor shown round today's bays
STRIP_SCALES = (50, 100)
TOP_MM, LOW_MM, BAR_MM = 6.5, 4.0, 7.0  # room over and under a strip for names, under the last for the scale bar
GAP_MM = 1.0


def day_views(plan: Plan, pour: Pour, width_mm: float, height_mm: float) -> tuple[tuple[PlanView, ...], bool]:
    """Views of a day's part, from top to bottom, and whether they show the whole floor.

    The whole floor where its bays are large enough on paper; else the part round today's bays, cut across its length
    into strips where that gives a larger scale.
    """
    rooms = rooms_of(plan, pour)
    view = plan_view(plan, width_mm, height_mm, _margins(plan, rooms), 0.0, rooms)
    if plan.project.kit.module / view.scale >= BAY_MM:
        return (view,), True
    side = width("tonight", LEAST_MM, True) + 5
    m, last = Margins(side, TOP_MM, side, LOW_MM), Margins(side, TOP_MM, side, LOW_MM + BAR_MM)
    part = _round_today(plan, pour, rooms)
    for scale in STRIP_SCALES:
        strips = _strips(plan, part, scale, width_mm - 2 * side, height_mm)
        if strips:
            ends = [m] * (len(strips) - 1) + [last]
            return tuple(_view(w, scale, width_mm, e) for w, e in zip(strips, ends, strict=True)), False
    free_w, free_h = width_mm - 2 * side, height_mm - TOP_MM - LOW_MM - BAR_MM
    scale = largest(part.x1 - part.x0, part.y1 - part.y0, free_w, free_h, KEYS)
    return (_view(part, scale, width_mm, last),), False


def rooms_of(plan: Plan, pour: Pour) -> tuple[RoomOutline, ...]:
    """The rooms that are filled on this day."""
    today = set(pour.bays)
    here = {b.room for b in plan.layout.bays if b.name in today}
    return tuple(r for r in plan.survey.rooms if r.name in here)


def extent(plan: Plan, pour: Pour) -> tuple[float, float, float, float]:
    """Bounds of today's bays, room mm."""
    today = set(pour.bays)
    spots = [p for b in plan.layout.bays if b.name in today for p in b.shape.shell]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def _margins(plan: Plan, rooms: Sequence[RoomOutline]) -> Margins:
    """Margins with room for the mixer and the stops' names outside the walls."""
    m = name_margins(plan, rooms=rooms)
    least = width("tonight", LEAST_MM, True) + 6
    return Margins(max(m.left, least), max(m.top - 1, 12), max(m.right, least), max(m.bottom - 1, 8))


def _round_today(plan: Plan, pour: Pour, rooms: Sequence[RoomOutline]) -> Window:
    x0, y0, x1, y1 = extent(plan, pour)
    fx0, fy0, fx1, fy1 = floor_box(rooms)
    return Window(max(x0 - ROUND_MM, fx0), max(y0 - ROUND_MM, fy0), min(x1 + ROUND_MM, fx1), min(y1 + ROUND_MM, fy1))


def _strips(plan: Plan, part: Window, scale: int, wide_mm: float, height_mm: float) -> tuple[Window, ...]:
    """The part cut at lettered lines into strips that stand one below the other; () where they do not fit."""
    count = max(1, math.ceil((part.x1 - part.x0) / (wide_mm * scale) - 1e-9))
    high = (part.y1 - part.y0) / scale + TOP_MM + LOW_MM + GAP_MM
    lines = sorted({ln.at_mm for ln in plan.layout.lines if ln.kind == "lettered"})
    while count * high + BAR_MM <= height_mm:
        even = [part.x0 + (part.x1 - part.x0) * i / count for i in range(1, count)]
        cuts = sorted({_nearest(lines, e) for e in even})
        edges = [part.x0, *(c for c in cuts if part.x0 < c < part.x1), part.x1]
        pairs = list(pairwise(edges))
        if all(b - a <= wide_mm * scale + 1e-6 for a, b in pairs):
            return tuple(Window(a, part.y0, b, part.y1, i) for i, (a, b) in enumerate(pairs))
        count += 1
    return ()


def _nearest(lines: Sequence[float], at: float) -> float:
    return min(lines, key=lambda line: (abs(line - at), line), default=at)


def _view(window: Window, scale: int, width_mm: float, m: Margins) -> PlanView:
    wide, high = (window.x1 - window.x0) / scale, (window.y1 - window.y0) / scale
    canvas = Canvas(width_mm, high + m.top + m.bottom)
    spare = max(0.0, width_mm - wide - m.left - m.right)
    return PlanView(canvas, scale, window, m, m.left + spare / 2, m.top)
