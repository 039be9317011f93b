"""The depth map as it is printed: bands, contours, depths at the legs, the thinnest and thickest places."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.depth_map import (
    band_key,
    band_limits,
    depth_pieces,
    draw_bands,
    draw_contours,
    extreme,
)
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import Box, Label, centred
from packgen.booklet.drawing.plan_view import base_plan, plan_view, scale_bar
from packgen.core.figures import whole
from packgen.plan import Plan

KEY_MM = 8.0
NEAR_MM = 11.0  # legs closer than this on paper: only the masters have their depth printed


def depth_plan(plan: Plan, width_mm: float, height_mm: float) -> tuple[Markup, float]:
    """The drawing and its height."""
    view = plan_view(plan, width_mm, height_mm - KEY_MM)
    canvas = view.canvas
    canvas.height_mm += KEY_MM
    depth = plan.heights.depth
    pieces = depth_pieces(plan.heights.rail_top, plan.survey.base, plan.layout.floor)
    limits = band_limits(depth.least_mm, depth.most_mm)
    draw_bands(view, pieces, limits)
    draw_contours(view, pieces, limits)
    base_plan(view, plan)
    extreme(view, depth.least_at, f"smallest {whole(depth.least_mm)}", "least")
    extreme(view, depth.most_at, f"greatest {whole(depth.most_mm)}", "most")
    covers = sorted(plan.heights.covers, key=lambda c: (c.cover_mm - (c.needed_mm or 0.0), c.service))
    if covers and covers[0].needed_mm is not None:
        extreme(view, covers[0].at, f"least cover {whole(covers[0].cover_mm)}", "least")
    _figures(view, plan)
    scale_bar(view)
    band_key(canvas, canvas.height_mm - 12.0 - KEY_MM / 2, limits)
    return canvas.svg("Depth map of the fill with hatch bands and contours"), canvas.height_mm


def _figures(view: PlanView, plan: Plan) -> None:
    """Depths at the legs, where they find a free place."""
    legs = {leg.node: leg for leg in plan.heights.legs}
    every = plan.project.kit.module / view.scale >= NEAR_MM
    for node in plan.layout.nodes:
        leg = legs.get(node.id)
        if leg is None or not (every or leg.master) or not view.shows(node.at, -1.0):
            continue
        x, y = view.at(node.at)
        words = str(whole(leg.depth_mm))
        spots = [centred(x + dx, y + dy, words) for dx, dy in ((0, 0), (3, -3), (-3, 3), (3, 3), (-3, -3))]
        apart = [one for one in spots if view.canvas.room.cost(_wider(one)) <= 0.4]
        view.canvas.place(apart[:1], clear=True)


def _wider(one: Label) -> Box:
    """A label's box with air at both sides, so that two figures never read as one."""
    x0, y0, x1, y1 = one.box
    return (x0 - 1.0, y0, x1 + 1.0, y1)
