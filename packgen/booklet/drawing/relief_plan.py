"""The base as it was read: levels at the readings, contours between them, high and low places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import HIDDEN
from packgen.booklet.drawing.depth_map import band_limits, depth_pieces, draw_contours
from packgen.booklet.drawing.labels import around
from packgen.booklet.drawing.plan_marks import STEP, Sign, legend, readings, ringed, triangle
from packgen.booklet.drawing.plan_view import base_plan, plan_view, scale_bar
from packgen.core.figures import whole
from packgen.core.plane import Point
from packgen.core.surface import plane_surface
from packgen.plan import Plan

LEGEND_MM = 7.0


def below(mm: float, mixed: bool) -> str:
    """A level as a figure on the relief: mm below the datum; where both occur the side is said."""
    n = whole(mm)
    if not mixed:
        return str(abs(n))
    return f"{abs(n)} {'above' if n > 0 else 'below'}" if n else "0"


def mixed_levels(plan: Plan) -> bool:
    """Whether the base lies above the datum at some readings and below at others."""
    levels = [p.level_mm for p in plan.survey.levels.points]
    return any(v > 0 for v in levels) and any(v < 0 for v in levels)


def relief_plan(
    plan: Plan,
    width_mm: float,
    height_mm: float,
    highs: Mapping[str, Point],
    lows: Mapping[str, Point],
    read_next: Sequence[Point] = (),
) -> tuple[Markup, float]:
    """The drawing and its height. highs, lows: places to mark, by name; read_next: places to number in their order."""
    view = plan_view(plan, width_mm, height_mm - LEGEND_MM)
    canvas = view.canvas
    canvas.height_mm += LEGEND_MM
    mixed = mixed_levels(plan)
    levels = [p.level_mm for p in plan.survey.levels.points]
    if levels:
        pieces = depth_pieces(plane_surface(0.0), plan.survey.base, plan.layout.floor)
        limits = band_limits(-max(levels), -min(levels))
        draw_contours(view, pieces, limits, HIDDEN, lambda mm: below(-mm, mixed))
    base_plan(view, plan)
    for spots, up in ((highs, True), (lows, False)):
        for at in spots.values():
            if view.shows(at, 1.0):
                x, y = view.at(at)
                y += -2.6 if up else 2.6
                triangle(canvas, (x, y), up)
                canvas.room.take((x - 1.6, y - 1.4, x + 1.6, y + 1.4), 3.0)
    for step in plan.survey.steps:
        canvas.line(view.at(step.line.a), view.at(step.line.b), STEP)
    for n, at in enumerate(read_next, 1):
        if view.shows(at, 1.0):
            ringed(view, at, n)
    values = {p.id: p.level_mm for p in plan.survey.levels.points}
    readings(view, plan, lambda name: below(values[name], mixed))
    for spots in (highs, lows):
        for name, at in spots.items():
            if name not in values:
                x, y = view.at(at)
                canvas.place(around(x, y, name, 1.8), most_cost=6.0)
    scale_bar(view)
    entries = [Sign("reading", "read here")]
    entries += [Sign("high", "high"), Sign("low", "low")] if highs or lows else []
    entries.append(Sign("hidden", "level line"))
    if read_next:
        entries.append(Sign("crossing", "read next"))
    if plan.survey.steps:
        entries.append(Sign("step", "step"))
    legend(canvas, canvas.height_mm - 12.0 - LEGEND_MM / 2, entries)
    return canvas.svg("Relief of the base: levels at the readings, high and low places"), canvas.height_mm
