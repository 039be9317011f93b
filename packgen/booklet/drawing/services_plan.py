"""Services in the floor: where pipes and cables lie, where rails cross them, where feet come too near."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import RAIL, THIN, box_ring
from packgen.booklet.drawing.labels import around
from packgen.booklet.drawing.plan_marks import Sign, joints, legend, line_marks, rails, ringed, service_names, services
from packgen.booklet.drawing.plan_view import base_plan, marked_view, scale_bar
from packgen.core.plane import Point
from packgen.plan import Plan

LEGEND_MM = 7.0


def services_plan(plan: Plan, width_mm: float, height_mm: float, numbered: Sequence[Point]) -> tuple[Markup, float]:
    """The drawing and its height. numbered: crossings to ring, in the order of their numbers."""
    view, off = marked_view(plan, width_mm, height_mm - LEGEND_MM)
    canvas = view.canvas
    canvas.height_mm += LEGEND_MM
    rails(view, plan, THIN)
    joints(view, plan, words=False)
    services(view, plan, words=False)
    line_marks(view, plan, 3.8, both=False)
    base_plan(view, plan, off=off)
    near = {c.node for c in plan.layout.foot_clashes}
    spots = [view.at(n.at) for n in plan.layout.nodes if n.id in near and view.shows(n.at, 0.5)]
    canvas.discs(spots, 0.9, "#000", RAIL)
    for x, y in spots:
        canvas.room.take((x - 1, y - 1, x + 1, y + 1), 3.0)
    for k, at in enumerate(numbered, 1):
        if view.shows(at):
            ringed(view, at, k)
    for run in plan.layout.services:
        if run.at is not None and not run.stretches and view.shows(run.at):
            x, y = view.at(run.at)
            canvas.area([box_ring((x - 1.5, y - 1.5, x + 1.5, y + 1.5))], "#000", RAIL)
            canvas.place(around(x, y, run.name, 2.0), clear=True)
    service_names(view, plan)
    for node in (n for n in plan.layout.nodes if n.id in near and view.shows(n.at, 0.5)):
        canvas.place(around(*view.at(node.at), node.id, 1.2), most_cost=0.3)
    scale_bar(view)
    entries = [Sign("service", "pipe or cable"), Sign("rail", "rail")]
    if numbered:
        entries.append(Sign("crossing", "crossing in the table"))
    if near:
        entries.append(Sign("foot", "foot on a pipe or too near"))
    legend(canvas, canvas.height_mm - 12.0 - LEGEND_MM / 2, entries)
    return canvas.svg("Plan of pipes and cables with the rails that cross them"), canvas.height_mm
