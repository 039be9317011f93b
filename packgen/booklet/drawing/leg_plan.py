"""The key plan of the leg table: every leg by its sign, masters ringed and numbered, joined in the order of setting."""

from __future__ import annotations

import math
from itertools import pairwise

from markupsafe import Markup

from packgen.booklet.drawing.canvas import DASHED, THIN
from packgen.booklet.drawing.frame import BAND_MM, LOW_BAR_MM
from packgen.booklet.drawing.plan_marks import joints, leg_signs, legend, legs, line_marks, rails
from packgen.booklet.drawing.plan_view import base_plan, marked_view, scale_bar
from packgen.plan import Plan

RAILS_FROM_MM = 2.0  # lines closer than this on paper would be a grey field: masters alone are drawn
NUMBERS_FROM_MM = 2.8  # closer than this only the first master of each line is numbered


def leg_plan(plan: Plan, width_mm: float, height_mm: float) -> tuple[Markup, float]:
    """The drawing and its height."""
    view, off = marked_view(plan, width_mm, height_mm, LOW_BAR_MM)
    canvas = view.canvas
    pitch = plan.project.kit.module / view.scale
    if pitch >= RAILS_FROM_MM:
        rails(view, plan, THIN)
    joints(view, plan, words=False)
    masters = sorted((leg for leg in plan.heights.legs if leg.set_with == "laser"), key=lambda leg: leg.order)
    spots = {n.id: n for n in plan.layout.nodes}
    walk = [spots[leg.node] for leg in masters if leg.node in spots]
    for a, b in pairwise(walk):
        if a.room == b.room and math.dist(a.at, b.at) / view.scale > 4:
            view.line(a.at, b.at, DASHED, taken=False)
    line_marks(view, plan, BAND_MM + 0.8, both=False)
    base_plan(view, plan, off=off)
    starts = {leg.node for k, leg in enumerate(masters) if k == 0 or masters[k - 1].along != leg.along}
    named = {leg.node for leg in masters} if pitch >= NUMBERS_FROM_MM else starts
    set_by_laser = {leg.node for leg in masters}
    legs(
        view,
        plan,
        lambda node, leg: str(leg.order) if node.id in named else "",
        half=0.9 if pitch > 5.5 else 0.7,
        only=None if pitch >= RAILS_FROM_MM else lambda node: node.id in set_by_laser,
        bold=True,
    )
    right = scale_bar(view, check=False, left=0.0)
    legend(canvas, canvas.height_mm - 3.5, leg_signs(plan), right + 6.0)
    return canvas.svg("Key plan of the legs with the order of the masters"), canvas.height_mm
