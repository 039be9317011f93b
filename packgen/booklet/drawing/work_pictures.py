"""Small line pictures of each operation of filling, drawn from the plan's own module, rail and depth.

Sections stand at 1:10, heights and widths alike; the two seen from above are not to scale and say so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY, RAIL, THIN, Canvas, Pen, arrow_head, box_ring
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM
from packgen.core.figures import number, plain
from packgen.core.plane import Point
from packgen.plan import Plan

WIDE_MM, HIGH_MM = 86.0, 35.0
SCALE = 10.0
FLOOR_Y = 26.0  # underside of the fill in the picture


@dataclass(frozen=True, slots=True)
class Bay:
    """A bay in section, paper mm at 1:10: between two rails, with the fill's depth."""

    module: float
    rail_w: float
    rail_h: float
    depth: float
    depth_mm: float
    module_mm: float

    @property
    def top(self) -> float:
        return FLOOR_Y - self.depth


def bay_of(plan: Plan) -> Bay:
    """This job's bay: its module, its rail and its mean depth; a wide module is cut to the picture."""
    kit, depth = plan.project.kit, plan.heights.depth.mean_mm
    wide = min(kit.module / SCALE, WIDE_MM - 18)
    return Bay(wide, kit.rail.width / SCALE, kit.rail.height / SCALE, min(depth / SCALE, 18.0), depth, kit.module)


# ------------------------------------------------------------------------------------ parts of a section


def _ground(c: Canvas, x0: float = 2.0, x1: float = WIDE_MM - 2.0) -> None:
    c.line((x0, FLOOR_Y), (x1, FLOOR_Y), CUT)
    ring = box_ring((x0, FLOOR_Y, x1, FLOOR_Y + 2.5))
    c.strokes(hatched([[ring]], 45, 2.0), THIN)


def _rail(c: Canvas, x: float, b: Bay) -> None:
    """A rail on its leg, the rail's middle at x."""
    half = b.rail_w / 2
    c.line((x, b.top + b.rail_h), (x, FLOOR_Y), HEAVY)
    c.line((x - 3, FLOOR_Y), (x + 3, FLOOR_Y), HEAVY)
    c.area([box_ring((x - half, b.top, x + half, b.top + b.rail_h))], "#fff", CUT)


def _grains(c: Canvas, x0: float, y0: float, x1: float, y1: float) -> None:
    """A few grains: the fill."""
    k = 0
    y = y0 + 1.0
    while y < y1 - 0.4:
        x = x0 + 1.2 + (k % 2) * 1.5
        while x < x1 - 0.6:
            c.circle((x, y), 0.3, THIN)
            x += 3.0
        y += 1.6
        k += 1


def _dimension(c: Canvas, x: float, y0: float, y1: float, text: str) -> None:
    """An upright dimension with ticks, its figure at the right."""
    c.line((x, y0), (x, y1), THIN)
    for y in (y0, y1):
        c.line((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), RAIL)
    c.words(x + 1.6, (y0 + y1) / 2 + 0.36 * LEAST_MM, text, anchor="start")


def _arrow(c: Canvas, a: Point, b: Point) -> None:
    c.line(a, b, RAIL)
    c.area([arrow_head(b, a)], "#000")


def _two_rails(c: Canvas, b: Bay) -> tuple[float, float]:
    left = (WIDE_MM - 8 - b.module) / 2
    right = left + b.module
    _ground(c)
    _rail(c, left, b)
    _rail(c, right, b)
    return left, right


# ------------------------------------------------------------------------------------ pictures


def strike_off(plan: Plan, over_mm: float) -> Markup:
    """A straight board rides on two rails; before it the fill stands over them."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    left, right = _two_rails(c, b)
    _grains(c, left + 2, b.top, right - 2, FLOOR_Y)
    c.line((left - 6, b.top), (right + 6, b.top), HEAVY)
    c.area([box_ring((left - 6, b.top - 5, right + 6, b.top))], "#fff", CUT)
    c.words((left + right) / 2, b.top - 1.4, "board on both rails", clear=False)
    mid = (left + right) / 2
    _arrow(c, (mid - 4, b.top - 9), (mid - 16, b.top - 9))
    _arrow(c, (mid + 4, b.top - 9), (mid + 16, b.top - 9))
    c.words(mid, b.top - 12, f"sawing to and fro; fill {plain(over_mm)} over before")
    _dimension(c, right + 9, b.top, FLOOR_Y, number(b.depth_mm))
    c.words(mid, FLOOR_Y + 6.6, f"{number(b.module_mm)} from rail to rail")
    return c.svg("A straight board rides on two rails and strikes the fill off level with them")


def float_edge(most_mm: float) -> Markup:
    """A float whose leading edge is lifted a little; not to scale."""
    c = Canvas(WIDE_MM, HIGH_MM)
    c.line((4, FLOOR_Y), (WIDE_MM - 4, FLOOR_Y), CUT)
    _grains(c, 4, FLOOR_Y, WIDE_MM - 4, FLOOR_Y + 5)
    x0, x1, lift = 22.0, 62.0, 6.0
    c.area(
        [((x0, FLOOR_Y), (x1, FLOOR_Y - lift), (x1 - 0.3, FLOOR_Y - lift - 2), (x0 - 0.3, FLOOR_Y - 2))], "#fff", CUT
    )
    c.path(((34, FLOOR_Y - 4.2), (35, FLOOR_Y - 9), (49, FLOOR_Y - 11), (50, FLOOR_Y - 6.4)), HEAVY)
    _arrow(c, (56, FLOOR_Y - 15), (72, FLOOR_Y - 15))
    c.words(54, FLOOR_Y - 14, "way of the float", anchor="end")
    c.line((x1, FLOOR_Y - lift), (x1 + 6, FLOOR_Y - lift), THIN)
    _dimension(c, x1 + 4, FLOOR_Y - lift, FLOOR_Y, f"{plain(most_mm)} at most")
    return c.svg(f"The float's leading edge is lifted {plain(most_mm)} at most")


def circles() -> Markup:
    """The path of the large float seen from above: loops that overlap; not to scale."""
    c = Canvas(WIDE_MM, HIGH_MM)
    c.path(box_ring((6, 2, WIDE_MM - 6, 30)), CUT, close=True)
    for y in (2.0, 30.0):
        c.line((6, y + (1 if y < 20 else -1)), (WIDE_MM - 6, y + (1 if y < 20 else -1)), THIN)
    loops = [
        (16 + t / (2 * math.pi) * 8 + 7.5 * math.cos(t), 16 + 7.5 * math.sin(t))
        for t in (k * math.pi / 18 for k in range(0, 36 * 6 - 8))
    ]
    c.path(loops, RAIL)
    c.area([arrow_head(loops[-1], loops[-4], 3.0)], "#000")
    c.words(WIDE_MM / 2, HIGH_MM - 1.2, "from rail to rail, each circle over half of the last")
    return c.svg("The large float goes in circles that overlap, from rail to rail")


def closed_edge(plan: Plan) -> Markup:
    """An edge bay closed with an upright board before filling, the strip left standing."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    _ground(c)
    x = 54.0
    _rail(c, x - 26, b)
    c.line((x, b.top - 4), (x, FLOOR_Y), HEAVY)
    c.area([box_ring((x, b.top, x + 2, FLOOR_Y))], "#fff", CUT)
    c.area([((x + 2, FLOOR_Y - 5), (x + 7, FLOOR_Y), (x + 2, FLOOR_Y))], "#fff", CUT)
    _grains(c, x - 24, b.top, x, FLOOR_Y)
    c.line((x - 30, b.top), (x, b.top), THIN)
    c.words(x + 4, FLOOR_Y - 12, "board or foam,", anchor="start")
    c.words(x + 4, FLOOR_Y - 8, "wedged outside", anchor="start")
    c.words(x - 2, b.top - 6, "open edge", anchor="end")
    _arrow(c, (x - 12, b.top - 5), (x - 0.6, b.top - 2))
    return c.svg("The open edge of a bay is closed with an upright board before filling")


def end_at_rail(plan: Plan, damp: bool) -> Markup:
    """Where work stops: the fill ends upright at the rail's far side, the rail top wiped clean."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    _ground(c)
    x = 46.0
    _rail(c, x - 30, b)
    _rail(c, x, b)
    edge = x + b.rail_w / 2
    _grains(c, 6, b.top, x - 3, FLOOR_Y)
    c.line((6, b.top), (x, b.top), THIN)
    c.line((edge, b.top), (edge, FLOOR_Y), CUT)
    c.line((edge, b.top - 6), (edge, FLOOR_Y + 2), DASHED)
    c.words(edge + 3, b.top - 3, "cut upright", anchor="start")
    low = FLOOR_Y + 6.6
    c.words(edge + 3, low, "next bay swept" + (", damp" if damp else ""), anchor="start")
    _arrow(c, (edge + 10, low - 4), (edge + 10, FLOOR_Y - 1))
    c.words(x - 20, b.top - 5, "rail top wiped clean")
    _arrow(c, (x - 6, b.top - 4), (x - 1, b.top - 0.6))
    return c.svg("The fill ends upright at the far side of a rail, the rail top wiped clean")


def rake_and_rap(plan: Plan, over_mm: float) -> Markup:
    """Loose fill raked out over the rails' height by what it settles."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    left, right = _two_rails(c, b)
    up = max(over_mm / SCALE, 1.2)
    c.path(((left + 2, b.top), (left + 8, b.top - up), (right - 8, b.top - up), (right - 2, b.top)), RAIL)
    _grains(c, left + 3, b.top - up, right - 3, FLOOR_Y)
    c.words((left + right) / 2, b.top - 6, f"rake {number(over_mm)} over, rap, strike off")
    _dimension(c, right + 9, b.top, FLOOR_Y, number(b.depth_mm))
    c.words((left + right) / 2, FLOOR_Y + 6.6, f"{number(b.module_mm)} from rail to rail")
    return c.svg("Loose fill is raked a little over the rails, rapped and struck off")


def board_on_rails(plan: Plan, thick_mm: float, gap_mm: float) -> Markup:
    """Boards whose ends lie on rails, clear of the wall by the strip."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    _ground(c, 8.0)
    wall, first = 8.0, 16.0
    c.area([box_ring((2, b.top - 12, wall, FLOOR_Y + 2.5))], "#fff", CUT)
    c.strokes(hatched([[box_ring((2, b.top - 12, wall, FLOOR_Y + 2.5))]], 45, 2.0), THIN)
    second = min(first + b.module, WIDE_MM - 12)
    for x in (first, second):
        _rail(c, x, b)
    _grains(c, wall + 1, b.top, second + 6, FLOOR_Y)
    t = max(thick_mm / SCALE, 1.2)
    c.area([box_ring((wall + max(gap_mm / SCALE, 1.0), b.top - t, second, b.top))], "#fff", CUT)
    c.area([box_ring((second + 0.4, b.top - t, WIDE_MM - 3, b.top))], "#fff", CUT)
    for x in (first, second - 1.0, second + 1.4):
        c.line((x, b.top - t - 0.4), (x, b.top + b.rail_h * 0.7), Pen(0.5))
    c.words(wall + 3, b.top - t - 6.5, f"{plain(gap_mm)} free at the wall", anchor="start")
    _arrow(c, (wall + 2.4, b.top - t - 6), (wall + 0.7, b.top - t - 0.6))
    c.words(second - 2, b.top - t - 2.2, "joint on the rail", anchor="end")
    return c.svg("Boards meet on a rail and stay clear of the wall")


def wool_in_bay(plan: Plan) -> Markup:
    """Pieces of wool a little larger than the bay."""
    b, c = bay_of(plan), Canvas(WIDE_MM, HIGH_MM)
    left, right = _two_rails(c, b)
    ring: Sequence[Point] = box_ring((left + b.rail_w / 2, b.top, right - b.rail_w / 2, FLOOR_Y))
    c.path(ring, RAIL, close=True)
    wave = [
        (left + 3 + (right - left - 6) * k / 60, FLOOR_Y - b.depth / 2 + b.depth * 0.35 * math.sin(k * math.pi / 3))
        for k in range(61)
    ]
    c.path(wave, THIN)
    c.words((left + right) / 2, b.top - 5, "cut 5 to 10 larger than the bay, push in dry")
    _dimension(c, right + 9, b.top, FLOOR_Y, number(b.depth_mm))
    return c.svg("A piece of wool a little larger than the bay is pushed in between the rails")
