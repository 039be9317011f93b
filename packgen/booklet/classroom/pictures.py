"""Plans for pupils: walls, lines, and where the legs asked stand, all by one sign so that none is given away."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.canvas import RAIL, THIN
from packgen.booklet.drawing.frame import BAND_MM, LOW_BAR_MM
from packgen.booklet.drawing.labels import LEAST_MM, around
from packgen.booklet.drawing.plan_marks import Sign, joints, legend, line_marks, rails
from packgen.booklet.drawing.plan_view import base_plan, marked_view, scale_bar
from packgen.plan import Plan

DOT_MM = 1.1


@dataclass(frozen=True, slots=True)
class PupilPlan:
    """A drawing, its height and its scale (1 to so many)."""

    svg: Markup
    high_mm: float
    scale: float


def pupil_plan(plan: Plan, asked: Collection[str], width_mm: float, height_mm: float) -> PupilPlan:
    """The floor with its lines and the legs asked."""
    view, off = marked_view(plan, width_mm, height_mm, LOW_BAR_MM)
    canvas = view.canvas
    rails(view, plan, THIN)
    joints(view, plan)
    line_marks(view, plan, BAND_MM + 0.8, both=False)
    base_plan(view, plan, off=off)
    spots = [n for n in plan.layout.nodes if n.id in asked]
    for n in spots:
        x, y = view.at(n.at)
        canvas.room.take((x - DOT_MM, y - DOT_MM, x + DOT_MM, y + DOT_MM), 3.0)
    canvas.discs([view.at(n.at) for n in spots], DOT_MM, "#fff", RAIL)
    for n in spots:
        x, y = view.at(n.at)
        canvas.place(around(x, y, n.id, DOT_MM + 0.3, 3.9, True), most_cost=1.2 * LEAST_MM, clear=True)
    right = scale_bar(view, check=False, left=0.0)
    legend(canvas, canvas.height_mm - 3.5, (Sign("plain", "leg that is asked"), Sign("rail", "rail")), right + 8.0)
    svg = canvas.svg(f"Plan with the legs asked, wall 1 on top, scale 1 to {view.scale}")
    return PupilPlan(svg, canvas.height_mm, float(view.scale))
