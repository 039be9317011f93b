"""The parts plan: every piece of rail with its ends, cut pieces heavy and named."""

from __future__ import annotations

import math

from markupsafe import Markup

from packgen.booklet.drawing.canvas import HEAVY, RAIL, THIN
from packgen.booklet.drawing.frame import SLACK_MM, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.booklet.drawing.plan_marks import Sign, leg_signs, legend, legs, line_marks
from packgen.booklet.drawing.plan_view import base_plan, marked_view, name_margins, plan_views, scale_bar
from packgen.layout.model import Piece
from packgen.plan import Plan

LEGEND_MM = 7.0
TICK_MM = 1.3
SMALLEST = 100  # a parts plan at a smaller scale shows no pieces


def parts_plans(plan: Plan, width_mm: float, first_mm: float, page_mm: float) -> list[tuple[Markup, float]]:
    """Drawings with their heights: one in `first_mm` where the floor fits there at 1:100, else parts a page high."""
    view, off = marked_view(plan, width_mm, first_mm - LEGEND_MM)
    views: tuple[PlanView, ...] = (view,)
    if view.scale > SMALLEST:
        margins = name_margins(plan, off)
        views = plan_views(plan, width_mm, page_mm - LEGEND_MM, margins, least=SMALLEST)
    return [
        _drawn(plan, v, off, f", part {n} of {len(views)}" if len(views) > 1 else "") for n, v in enumerate(views, 1)
    ]


def _drawn(plan: Plan, view: PlanView, off: dict[str, float], part: str) -> tuple[Markup, float]:
    canvas = view.canvas
    canvas.height_mm += LEGEND_MM
    shown = [p for p in plan.layout.pieces if view.shows(p.start, SLACK_MM) or view.shows(p.end, SLACK_MM)]
    for piece in shown:
        view.line(piece.start, piece.end, HEAVY if piece.cut else RAIL)
    for piece in shown:
        _ends(view, piece)
    line_marks(view, plan, 3.8, both=False)
    base_plan(view, plan, off=off)
    settings = {leg.node: leg for leg in plan.heights.legs}
    plain = {node for node, leg in settings.items() if leg.fits and leg.parts == "plain"}
    legs(view, plan, masters=False, half=0.8, only=lambda n: n.id not in plain)
    for piece in sorted(shown, key=lambda p: (not p.cut, p.id)):
        if piece.cut or piece.length_mm > 1.5 * plan.project.kit.module:
            _name(view, piece)
    scale_bar(view)
    signs = [s for s in leg_signs(plan) if s.kind not in ("plain", "ring")]
    entries = [Sign("rail", "whole piece"), Sign("heavy", "cut piece, named"), *signs]
    legend(canvas, canvas.height_mm - 12.0 - LEGEND_MM / 2, entries)
    return canvas.svg(f"Parts plan{part}: pieces of rail with their ends, cut pieces named"), canvas.height_mm


def _ends(view: PlanView, piece: Piece) -> None:
    """A short tick across each end of a piece."""
    (ax, ay), (bx, by) = view.at(piece.start), view.at(piece.end)
    d = math.hypot(bx - ax, by - ay) or 1.0
    nx, ny = -(by - ay) / d * TICK_MM, (bx - ax) / d * TICK_MM
    for real, (x, y) in ((piece.start, (ax, ay)), (piece.end, (bx, by))):
        if view.shows(real, 0.5):
            view.canvas.line((x + nx, y + ny), (x - nx, y - ny), THIN)


def _name(view: PlanView, piece: Piece) -> None:
    """A piece's name beside its middle."""
    middle = ((piece.start[0] + piece.end[0]) / 2, (piece.start[1] + piece.end[1]) / 2)
    if not view.shows(middle, 0.5):
        return
    x, y = view.at(middle)
    half = width(piece.id, LEAST_MM) / 2
    upright = abs(piece.start[0] - piece.end[0]) < abs(piece.start[1] - piece.end[1])
    beside = [(x + 1.0 + half, y), (x - 1.0 - half, y)]
    over = [(x, y - 2.4), (x, y + 2.6)]
    spots = [*beside, *over] if upright else [*over, *beside]
    spots += [(px, py + dy) for px, py in spots for dy in (-4.2, 4.2)]
    view.canvas.place([Label(px, py + 0.36 * LEAST_MM, piece.id) for px, py in spots], most_cost=1.5)
