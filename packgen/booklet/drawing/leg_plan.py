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


def leg_plan(plan: Plan, width_mm: float, height_mm: float) -> tuple[Markup, float]:
    """The drawing and its height."""
    view, off = marked_view(plan, width_mm, height_mm, LOW_BAR_MM)
    canvas = view.canvas
    crowded = view.scale > plan.project.kit.module / 5.5
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
    legs(
        view,
        plan,
        lambda _, leg: str(leg.order) if leg.set_with == "laser" else "",
        half=0.7 if crowded else 0.9,
        bold=True,
    )
    right = scale_bar(view, check=False, left=0.0)
    legend(canvas, canvas.height_mm - 3.5, leg_signs(plan), right + 6.0)
    return canvas.svg("Key plan of the legs with the order of the masters"), canvas.height_mm
