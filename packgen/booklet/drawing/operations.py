"""Small line pictures of what is done with rails and legs: cut a piece, clip it on its legs. This job's own sizes, 1:5.

Pictures of filling are in work_pictures.
"""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY, RAIL, THIN, Canvas, arrow_head, box_ring
from packgen.booklet.drawing.hatch import hatched
from packgen.core.figures import plain
from packgen.core.plane import Point
from packgen.plan import Plan

WIDE_MM, HIGH_MM = 86.0, 40.0
SCALE = 5.0
MARGIN_MM = 6.0


def _arrow(c: Canvas, a: Point, b: Point) -> None:
    c.line(a, b, RAIL)
    c.area([arrow_head(b, a)], "#000")


def _level_dim(c: Canvas, x0: float, x1: float, y: float, text: str) -> None:
    """A level dimension with ticks, its figure above the line."""
    c.line((x0, y), (x1, y), THIN)
    for x in (x0, x1):
        c.line((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), RAIL)
    c.words((x0 + x1) / 2, y - 1.0, text)


def cut_piece(plan: Plan) -> Markup | None:
    """A bar with its first cut: the uncut end stays on the piece, the saw takes its width, the rest is offcut.

    The first bar of the cut list, shortened to fit; None where nothing is cut.
    """
    bars = plan.layout.cut_list.bars
    if not bars:
        return None
    bar, kit = bars[0], plan.project.kit
    c = Canvas(WIDE_MM, HIGH_MM)
    high = kit.rail.height / SCALE
    x0, x1 = MARGIN_MM, WIDE_MM - MARGIN_MM
    at = x0 + (x1 - x0) * min(0.75, max(0.3, bar.lengths_mm[0] / bar.stock_mm))
    y = 21.0
    c.area([box_ring((x0, y - high, x1, y))], "#fff", CUT)
    waste = box_ring((at, y - high, x1, y))
    c.strokes(hatched([[waste]], 45, 2.0), THIN)
    c.line((at, y - high - 4), (at, y + 4), HEAVY)
    _arrow(c, (at, y - high - 13), (at, y - high - 5))
    c.words(at, y - high - 14.2, f"saw cut {plain(bar.saw_cut_mm)}")
    c.words(x0, y - high - 2.2, "uncut end: to the node", anchor="start")
    c.words(x1, y - high - 2.2, "offcut", anchor="end")
    _level_dim(c, x0, at, y + 8, f"{bar.pieces[0]}: {bar.lengths_mm[0]}")
    c.words((x0 + at) / 2, y + 13.5, "write its name on it before you lay it down")
    return c.svg(f"Cut: piece {bar.pieces[0]} of {bar.lengths_mm[0]} from a bar of {bar.stock_mm}")


def clip_on(plan: Plan) -> Markup:
    """Rails clipped on a leg, the end at the wall clear of it by the strip."""
    kit = plan.project.kit
    legs = sorted(leg.leg_mm for leg in plan.heights.legs)
    leg = legs[len(legs) // 2] if legs else 70
    c = Canvas(WIDE_MM, HIGH_MM)
    floor = HIGH_MM - 6.0
    top = floor - leg / SCALE
    under = top + kit.rail.height / SCALE
    wall = 10.0
    c.strokes(hatched([[box_ring((2, floor, WIDE_MM - 2, floor + 4))]], 45, 2.0), THIN)
    c.line((2, floor), (WIDE_MM - 2, floor), CUT)
    c.strokes(hatched([[box_ring((wall - 5, 4, wall, floor))]], 45, 2.0), THIN)
    c.line((wall, 4), (wall, floor), CUT)
    strip = max(kit.edge_strip / SCALE, 1.2)
    c.area([box_ring((wall, 10, wall + strip, floor))], "#fff", THIN)
    start = wall + strip
    x = wall + kit.first_line_from_wall / SCALE + 12
    foot = kit.foot.diameter / SCALE / 2
    c.area([box_ring((x - 1.6, under, x + 1.6, floor - 1.2))], "#fff", CUT)
    c.area([box_ring((x - foot, floor - 1.2, x + foot, floor))], "#fff", CUT)
    c.area([box_ring((start, top, x, under))], "#fff", CUT)
    c.area([box_ring((x, top, WIDE_MM - 6, under))], "#fff", CUT)
    lift = 9.0
    c.path(((x, top - 1), (WIDE_MM - 6, top - lift), (WIDE_MM - 6, top - lift + 3.5), (x, top + 2)), DASHED)
    _arrow(c, (WIDE_MM - 12, top - lift + 3), (WIDE_MM - 12, top - 0.6))
    c.words(WIDE_MM - 6, top - lift - 1.5, "press down till it snaps in", anchor="end")
    c.words(x + foot + 3, floor - 4, f"leg {leg}, over the chalk crossing", anchor="start")
    gap = plain(kit.edge_strip)
    c.words(wall + 2, 4.4, f"strip {gap}: the rail ends short of the wall", anchor="start")
    return c.svg("Clip: rails snap on the leg at the node; the end stays clear of the wall by the strip")
