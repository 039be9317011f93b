"""How a rail meets a wall, seen from above: along it, across to it, and two rails in a corner; side by side."""

from __future__ import annotations

from packgen.booklet.drawing.canvas import CUT, HIDDEN, RAIL, THIN, Canvas
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.booklet.drawing.section_parts import Section
from packgen.core.figures import plain
from packgen.core.plane import Point
from packgen.plan import Plan
from packgen.project.work_model import Kit
from packgen.trade.layout_rules import layout_rules

SCALE = 10
PANEL_MM = 58.0  # three on a sheet's width, with a little between
DRAWN_MM = 50.0
WALL_MM = 5.0
DEEP_MM = 38.0
BAR_MM = 10.0  # 100 mm of the job at 1:10


def edge_plans(plan: Plan) -> Section:
    """Three plan details from the kit's own sizes."""
    kit, over = plan.project.kit, layout_rules().overhang
    canvas = Canvas(3 * PANEL_MM + 4.0, DEEP_MM + 27.0)
    first, strip = plain(kit.first_line_from_wall), plain(kit.edge_strip)
    words = (
        (
            "Along a wall",
            (f"middle {first} from the wall", "strip bears on the wall, rail", "does not; float over the rail"),
        ),
        (
            "Across to a wall",
            (
                f"rail ends {strip} short: the strip",
                f"at most {plain(over)} beyond its last leg",
                "strip closes the bay's end",
            ),
        ),
        (
            "In a corner",
            ("one leg where both lines meet", f"both rails end {strip} short", "corner filled with its neighbour"),
        ),
    )
    for n, draw in enumerate((_along, _across, _corner)):
        x = 2.0 + n * PANEL_MM
        draw(canvas, kit, x, over)
        title, lines = words[n]
        for k, text in enumerate((title, *lines)):
            label = Label(x + DRAWN_MM / 2, DEEP_MM + 5.0 + 4.2 * k, text, LEAST_MM, k == 0)
            canvas.label(label)
    y = DEEP_MM + 24.5
    canvas.line((2.0, y), (2.0 + BAR_MM, y), CUT)
    canvas.label(Label(4.0 + BAR_MM + width("100 mm", LEAST_MM) / 2, y + 1.1, "100 mm"))
    drawing = canvas.svg(f"Three ways a rail meets a wall, from above, scale 1 to {SCALE}")
    sums = (
        f"from above; strip {strip}, rail {plain(kit.rail.width)} wide, foot {plain(kit.foot.diameter)} across, first "
        f"line {first} from the wall; no rail end lies on nothing and none touches a wall"
    )
    return Section("edge-plans", "Rails at walls, from above", SCALE, drawing, sums)


def _wall(canvas: Canvas, x0: float, y0: float, x1: float, y1: float) -> None:
    ring: list[Point] = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    canvas.strokes(hatched([[ring]], 45.0, 1.6), THIN)


def _face(canvas: Canvas, kit: Kit, a: Point, b: Point, inward: Point) -> None:
    """A wall's face and the inner edge of the strip before it."""
    off = kit.edge_strip / SCALE
    canvas.line(a, b, CUT)
    if off:
        canvas.line((a[0] + inward[0] * off, a[1] + inward[1] * off), (b[0] + inward[0] * off, b[1] + inward[1] * off))


def _rail(canvas: Canvas, kit: Kit, x0: float, y0: float, x1: float, y1: float) -> None:
    """A rail from one end of its middle to the other, upright or level, white inside."""
    half = kit.rail.width / SCALE / 2
    dx, dy = (half, 0.0) if x0 == x1 else (0.0, half)
    canvas.area([[(x0 - dx, y0 - dy), (x1 - dx, y1 - dy), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy)]], "#fff", RAIL)


def _foot(canvas: Canvas, kit: Kit, x: float, y: float) -> None:
    canvas.circle((x, y), kit.foot.diameter / SCALE / 2, HIDDEN)


def _along(canvas: Canvas, kit: Kit, x: float, over: float) -> None:
    _wall(canvas, x, 0.0, x + DRAWN_MM, WALL_MM)
    _face(canvas, kit, (x, WALL_MM), (x + DRAWN_MM, WALL_MM), (0.0, 1.0))
    y = WALL_MM + kit.first_line_from_wall / SCALE
    _rail(canvas, kit, x, y, x + DRAWN_MM, y)
    _rail(canvas, kit, x + DRAWN_MM / 2, y + kit.rail.width / SCALE / 2, x + DRAWN_MM / 2, DEEP_MM)
    _foot(canvas, kit, x + DRAWN_MM / 2, y)


def _across(canvas: Canvas, kit: Kit, x: float, over: float) -> None:
    _wall(canvas, x, 0.0, x + DRAWN_MM, WALL_MM)
    _face(canvas, kit, (x, WALL_MM), (x + DRAWN_MM, WALL_MM), (0.0, 1.0))
    end = WALL_MM + kit.edge_strip / SCALE
    middle, leg = x + DRAWN_MM / 2, end + over / SCALE
    _rail(canvas, kit, x, leg, x + DRAWN_MM, leg)
    _rail(canvas, kit, middle, end, middle, DEEP_MM)
    _foot(canvas, kit, middle, leg)
    side = middle + kit.rail.width / SCALE / 2 + 3.0
    canvas.line((side, end), (side, leg))
    for at in (end, leg):
        canvas.line((side - 0.9, at + 0.9), (side + 0.9, at - 0.9))
    text = plain(over)
    canvas.label(Label(side + 2.0 + width(text, LEAST_MM) / 2, (end + leg) / 2 + 1.1, text), clear=True)


def _corner(canvas: Canvas, kit: Kit, x: float, over: float) -> None:
    _wall(canvas, x, 0.0, x + DRAWN_MM, WALL_MM)
    _wall(canvas, x, WALL_MM, x + WALL_MM, DEEP_MM)
    _face(canvas, kit, (x + WALL_MM, WALL_MM), (x + DRAWN_MM, WALL_MM), (0.0, 1.0))
    _face(canvas, kit, (x + WALL_MM, WALL_MM), (x + WALL_MM, DEEP_MM), (1.0, 0.0))
    first, strip = kit.first_line_from_wall / SCALE, kit.edge_strip / SCALE
    nx, ny = x + WALL_MM + first, WALL_MM + first
    _rail(canvas, kit, nx, WALL_MM + strip, nx, DEEP_MM)
    _rail(canvas, kit, x + WALL_MM + strip, ny, x + DRAWN_MM, ny)
    _foot(canvas, kit, nx, ny)
