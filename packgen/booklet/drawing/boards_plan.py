"""The boards plan: every piece of board where it lies, named by row and place, the rails below as hidden lines."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, HIDDEN
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label
from packgen.booklet.drawing.plan_marks import Sign, joints, legend, line_marks, rails
from packgen.booklet.drawing.plan_view import base_plan, marked_view, name_margins, plan_views, scale_bar
from packgen.core.plane import label_point
from packgen.layout.board_model import BoardPiece
from packgen.plan import Plan

LEGEND_MM = 7.0
SMALLEST = 100  # a plan at a smaller scale has no room for names


def boards_plans(plan: Plan, width_mm: float, first_mm: float, page_mm: float) -> list[tuple[Markup, float]]:
    """Drawings with their heights: one in `first_mm` where the floor fits there at 1:100, else parts a page high."""
    view, off = marked_view(plan, width_mm, first_mm - LEGEND_MM)
    views: tuple[PlanView, ...] = (view,)
    if view.scale > SMALLEST:
        views = plan_views(plan, width_mm, page_mm - LEGEND_MM, name_margins(plan, off), least=SMALLEST)
    pieces = [p for boards in plan.quantities.boards for p in boards.pieces]
    return [
        _drawn(plan, v, off, pieces, f", part {n} of {len(views)}" if len(views) > 1 else "")
        for n, v in enumerate(views, 1)
    ]


def _drawn(
    plan: Plan, view: PlanView, off: dict[str, float], pieces: Sequence[BoardPiece], part: str
) -> tuple[Markup, float]:
    canvas = view.canvas
    canvas.height_mm += LEGEND_MM
    rails(view, plan, HIDDEN)
    for piece in pieces:
        view.ring(piece.shape.shell, CUT)
        for hole in piece.shape.holes:
            view.ring(hole, CUT)
    joints(view, plan, words=False)
    line_marks(view, plan, 3.8, both=False)
    base_plan(view, plan, off=off)
    for piece in pieces:
        middle = label_point(piece.shape)
        if view.shows(middle):
            x, y = view.at(middle)
            spots = [(x + dx, y + dy) for dy in (0.0, -4.2, 4.2, -8.0, 8.0) for dx in (0.0, 6.0, -6.0)]
            names = [Label(px, py + 0.36 * LEAST_MM, piece.name) for px, py in spots]
            canvas.place(names, most_cost=3.0, clear=True)
    scale_bar(view)
    signs = [Sign("cut", "edge of a board"), Sign("hidden", "rail below")]
    signs += [Sign("joint", "movement joint")] * bool(plan.layout.joints)
    legend(canvas, canvas.height_mm - 12.0 - LEGEND_MM / 2, signs)
    return canvas.svg(f"Boards plan{part}: pieces of board by row and place, rails below"), canvas.height_mm
