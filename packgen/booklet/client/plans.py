"""The plans of a method statement: what a small scale cannot show clearly is left out, not crowded in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup

from packgen.booklet.drawing.canvas import THIN
from packgen.booklet.drawing.depth_plan import depth_plan
from packgen.booklet.drawing.frame import Margins
from packgen.booklet.drawing.plan_view import plan_view, scale_bar
from packgen.booklet.drawing.walls import cut_outs, names, walls
from packgen.booklet.moisture_points import MoisturePoint
from packgen.booklet.rows import SHEET_MM
from packgen.booklet.small_plans import below_plan
from packgen.plan import Plan

LEAST_MODULE_MM = 2.5  # paper between rails below which they are left out
MOST_CUT_OUTS = 12  # more things in the floor than this are drawn without their names
PLAIN_MARGINS_MM = (18.0, 10.0, 18.0, 10.0)  # left, top, right, bottom: room for the names of walls


def small_plan(plan: Plan, wide_mm: float, high_mm: float) -> Markup:
    """The floor with its walls, doors and rails, small; without the doors' names where these leave it no room."""
    view = plan_view(plan, wide_mm, high_mm)
    named = view.canvas.height_mm <= high_mm
    if not named:
        view = plan_view(plan, wide_mm, high_mm, Margins(*PLAIN_MARGINS_MM))
    if view.scale <= plan.project.kit.module / LEAST_MODULE_MM:
        for rail in plan.layout.rails:
            view.line(rail.start, rail.end, THIN, taken=False)
    cut_outs(view, plan)
    walls(view, plan)
    names(view, _without_names(plan), doors=named)
    scale_bar(view, check=False)
    return view.canvas.svg(f"Plan of the floor with its doors, wall 1 on top, scale 1 to {view.scale}")


def floor_plan(plan: Plan, points: Sequence[MoisturePoint], high_mm: float) -> Markup:
    """Rails, joints, services and moisture test points; on a very large floor walls, doors and what stands in it."""
    if not shows_rails(plan, high_mm):
        return small_plan(plan, SHEET_MM, high_mm)
    return below_plan(_without_names(plan), points, high_mm)


def shows_rails(plan: Plan, high_mm: float) -> bool:
    """Whether rails stand far enough apart on paper of this height."""
    return plan_view(plan, SHEET_MM, high_mm).scale <= plan.project.kit.module / LEAST_MODULE_MM


def depth_map(plan: Plan, high_mm: float) -> Markup:
    """Where the fill is thin and thick."""
    return depth_plan(_without_names(plan), SHEET_MM, high_mm)[0]


def _without_names(plan: Plan) -> Plan:
    """The plan for drawing, without the names of things in the floor where there are many."""
    if sum(len(r.cut_outs) for r in plan.survey.rooms) <= MOST_CUT_OUTS:
        return plan
    rooms = tuple(replace(r, cut_outs=()) for r in plan.survey.rooms)
    return replace(plan, survey=replace(plan.survey, rooms=rooms))
