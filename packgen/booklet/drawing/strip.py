"""Six small line pictures of the work, in the order it is done: for a reader who has never seen it. Not to scale."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY, RAIL, THIN, Canvas, Pen, arrow_head, box_ring
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.tools import boarded, mixed
from packgen.core.plane import Point
from packgen.plan import Plan

WIDE_MM, HIGH_MM = 28.0, 22.0
FLOOR = 20.0  # top of the base
TOP = 12.0  # of the rails
RAIL_W, RAIL_H = 3.2, 2.0


@dataclass(frozen=True, slots=True)
class Picture:
    """What is done in one word, one line about it, and the drawing."""

    name: str
    says: str
    drawing: Markup


def strip(plan: Plan) -> tuple[Picture, ...]:
    """Cut, clip, set, fill, strike off; then rub where the fill is mixed, or board where boards close it."""
    wool = all(fill.family == "wool" for fill in fills_in_use(plan))
    rows: list[tuple[str, str, Callable[[Canvas], None]]] = [
        ("Cut", "rails to the list, name on each", _cut),
        ("Clip", "rails on the legs at the nodes", _clip),
        ("Set", "turn till the staff shows the target", _set),
        ("Fill", "pieces a little larger than the bay" if wool else "bay by bay, from far to the door", _fill),
    ]
    if not wool:
        rows.append(("Strike off", "straight board on two rails, sawing", _rule))
    if mixed(plan):
        rows.append(("Rub", "float in circles, level with rails", _rub))
    if boarded(plan) and len(rows) < 6:
        rows.append(("Board", "joints on rails, screws along them", _board))
    return tuple(Picture(name, says, _drawn(name, says, draw)) for name, says, draw in rows)


def _drawn(name: str, says: str, draw: Callable[[Canvas], None]) -> Markup:
    c = Canvas(WIDE_MM, HIGH_MM)
    draw(c)
    return c.svg(f"{name}: {says}")


# ------------------------------------------------------------------------------------ parts


def _base(c: Canvas) -> None:
    c.line((0.5, FLOOR), (WIDE_MM - 0.5, FLOOR), CUT)
    c.strokes(hatched([[box_ring((0.5, FLOOR, WIDE_MM - 0.5, FLOOR + 1.8))]], 45, 2.0), THIN)


def _leg(c: Canvas, x: float) -> None:
    """Foot, threaded stem and head under a rail."""
    c.area([box_ring((x - 2.4, FLOOR - 1.0, x + 2.4, FLOOR))], "#fff", RAIL)
    c.area([box_ring((x - 0.8, TOP + RAIL_H + 0.8, x + 0.8, FLOOR - 1.0))], "#fff", RAIL)
    y = TOP + RAIL_H + 2.0
    while y < FLOOR - 1.4:
        c.line((x - 0.8, y + 0.5), (x + 0.8, y), THIN)
        y += 1.1
    c.area([box_ring((x - 1.8, TOP + RAIL_H, x + 1.8, TOP + RAIL_H + 0.9))], "#fff", RAIL)


def _end_on(c: Canvas, x: float) -> None:
    """A rail seen from its end, on its leg."""
    _leg(c, x)
    c.area([box_ring((x - RAIL_W / 2, TOP, x + RAIL_W / 2, TOP + RAIL_H))], "#fff", CUT)


def _grains(c: Canvas, x0: float, x1: float, top: Callable[[float], float]) -> None:
    """The fill as dots in staggered rows under its surface."""
    y, k = FLOOR - 0.9, 0
    spots: list[Point] = []
    while y > 0:
        x = x0 + 0.9 + (k % 2) * 0.95
        while x < x1 - 0.5:
            if y > top(x) + 0.5:
                spots.append((x, y))
            x += 1.9
        y -= 1.25
        k += 1
    c.discs(spots, 0.24, "#000")


def _arrow(c: Canvas, a: Point, b: Point, pen: Pen = RAIL) -> None:
    c.line(a, b, pen)
    c.area([arrow_head(b, a)], "#000")


def _bow(c: Canvas, middle: Point, rx: float, ry: float, start: float, end: float) -> None:
    """Part of an ellipse with an arrow head at its end; angles in degrees, clockwise on paper."""
    steps = 24
    points = [
        (middle[0] + rx * math.cos(math.radians(a)), middle[1] + ry * math.sin(math.radians(a)))
        for a in (start + (end - start) * k / steps for k in range(steps + 1))
    ]
    c.path(points, RAIL)
    c.area([arrow_head(points[-1], points[-4], 1.9)], "#000")


# ------------------------------------------------------------------------------------ pictures


def _cut(c: Canvas) -> None:
    """A rail on two trestles, the saw half through it."""
    y = 14.0
    for x in (5.0, 21.5):
        c.path(((x - 2.2, FLOOR + 1.5), (x, y + 2.2), (x + 2.2, FLOOR + 1.5)), RAIL)
    c.area([box_ring((1.0, y, 27.0, y + 2.2))], "#fff", CUT)
    blade = [(6.5, 3.6), (18.2, 11.4), (16.6, 15.2), (14.9, 15.4), (4.4, 7.6)]
    c.area([blade], "#fff", RAIL)
    tooth: list[Point] = []
    (ax, ay), (bx, by) = blade[4], blade[3]
    for k in range(13):
        t = k / 12
        off = 0.55 if k % 2 else 0.0
        tooth.append((ax + (bx - ax) * t - off * 0.6, ay + (by - ay) * t + off * 0.8))
    c.path(tooth, RAIL)
    c.area([[(6.9, 3.4), (3.6, 1.2), (1.4, 3.2), (2.2, 6.6), (4.6, 7.8)]], "#fff", CUT)
    c.area([[(5.2, 3.9), (3.7, 3.0), (2.8, 3.9), (3.2, 5.5), (4.3, 6.0)]], "#fff", RAIL)
    c.line((15.8, y + 2.2), (15.8, y + 4.2), DASHED)
    _arrow(c, (20.5, 10.5), (24.6, 10.5))
    _arrow(c, (24.0, 10.5), (19.6, 10.5))


def _clip(c: Canvas) -> None:
    """A rail lies on one leg; the next one comes down on the free half of its head."""
    _base(c)
    _leg(c, 14.0)
    c.area([box_ring((0.5, TOP, 14.0, TOP + RAIL_H))], "#fff", CUT)
    lift = [(14.0, TOP - 1.4), (27.0, TOP - 6.4), (27.0, TOP - 4.4), (14.6, TOP + 0.5)]
    c.area([lift], "#fff", CUT)
    c.path(((14.0, TOP), (27.0, TOP), (27.0, TOP + RAIL_H), (14.0, TOP + RAIL_H)), DASHED)
    _arrow(c, (23.0, TOP - 9.6), (23.0, TOP - 5.4))


def _set(c: Canvas) -> None:
    """Staff upright on the rail over the leg, the laser's line across it, the leg being turned."""
    _base(c)
    _leg(c, 12.0)
    c.area([box_ring((1.0, TOP, 23.0, TOP + RAIL_H))], "#fff", CUT)
    c.area([box_ring((11.0, 0.6, 13.0, TOP))], "#fff", RAIL)
    for k in range(8):
        y = 1.6 + k * 1.3
        c.line((11.0, y), (12.2 if k % 2 else 11.8, y), THIN)
    c.line((13.0, 4.2), (23.8, 4.2), DASHED)
    c.area([box_ring((23.8, 2.9, 27.2, 5.6))], "#fff", CUT)
    for x in (24.0, 27.0):
        c.line((25.5, 5.6), (x, FLOOR), RAIL)
    c.area([arrow_head((13.2, 4.2), (16.0, 4.2))], "#000")
    _bow(c, (12.0, 17.0), 5.0, 1.7, 20, 330)


def _bay(c: Canvas) -> tuple[float, float]:
    _base(c)
    for x in (4.5, 23.5):
        _end_on(c, x)
    return 6.4, 21.6


def _fill(c: Canvas) -> None:
    """A bag tipped out over a bay between two rails."""
    left, right = _bay(c)
    heap = [
        (left + 0.3, 18.0),
        (9.4, 16.2),
        (12.2, 13.2),
        (14.4, 12.3),
        (16.6, 13.4),
        (19.0, 16.6),
        (right - 0.3, 18.4),
    ]
    c.path(heap, RAIL)
    _grains(c, left, right, _over(heap))
    c.area([[(13.4, 6.4), (19.4, 0.8), (24.6, 3.2), (24.2, 5.4), (17.8, 9.0), (15.6, 8.6)]], "#fff", CUT)
    c.path(((13.4, 6.4), (15.0, 6.7), (15.6, 8.6)), RAIL)
    for k in range(3):
        x = 14.2 + 0.45 * k
        c.line((x, 8.2 + 0.4 * k), (x - 0.2, 11.4), THIN)


def _over(points: Sequence[Point]) -> Callable[[float], float]:
    """The height of a line of points, left to right, at any x."""

    def at(x: float) -> float:
        for (ax, ay), (bx, by) in pairwise(points):
            if ax <= x <= bx:
                return ay + (by - ay) * (x - ax) / (bx - ax)
        return FLOOR

    return at


def _rule(c: Canvas) -> None:
    """A board lies across two rails and is sawn to and fro; the fill under it is level."""
    left, right = _bay(c)
    _grains(c, left, right, lambda _: TOP)
    c.area([box_ring((1.0, TOP - 3.4, 27.0, TOP))], "#fff", CUT)
    c.line((1.0, TOP), (27.0, TOP), HEAVY)
    _arrow(c, (14.0, 5.0), (23.0, 5.0))
    _arrow(c, (14.0, 5.0), (5.0, 5.0))


def _rub(c: Canvas) -> None:
    """The float on the filled bay, seen slantwise, and the circles it makes."""
    c.area([[(1.0, 21.0), (6.5, 6.0), (27.4, 6.0), (24.5, 21.0)]], "#fff", CUT)
    c.path(((3.0, 21.0), (8.2, 6.0)), RAIL)
    c.path(((22.4, 21.0), (25.6, 6.0)), RAIL)
    loops = [
        (8.6 + t * 0.42 + 3.0 * math.cos(t), 17.2 - t * 0.17 + 2.3 * math.sin(t))
        for t in (k * math.pi / 14 for k in range(14 * 6 + 12))
    ]
    c.path(loops, RAIL)
    c.area([[(14.6, 11.6), (22.4, 10.2), (23.2, 12.4), (15.4, 13.9)]], "#fff", CUT)
    c.path(((17.0, 11.8), (17.4, 7.6), (20.8, 7.0), (21.0, 11.2)), Pen(0.9))


def _board(c: Canvas) -> None:
    """Boards on the rails over the filled bay, their joint on a rail, a screw going in."""
    _base(c)
    for x in (4.5, 14.0, 23.5):
        _end_on(c, x)
    for x0, x1 in ((6.4, 11.9), (16.1, 21.4)):
        _grains(c, x0, x1, lambda _: TOP)
    for x0, x1 in ((0.8, 13.9), (14.1, 27.2)):
        c.area([box_ring((x0, TOP - 2.2, x1, TOP))], "#fff", CUT)
    for x in (4.5, 13.2, 14.8):
        c.line((x, TOP - 2.2), (x, TOP + 1.2), HEAVY)
    c.line((23.5, TOP - 7.0), (23.5, TOP - 3.0), HEAVY)
    c.line((22.6, TOP - 7.0), (24.4, TOP - 7.0), HEAVY)
    _arrow(c, (26.0, TOP - 8.0), (26.0, TOP - 3.4))
