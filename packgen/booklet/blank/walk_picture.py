"""A small room from above: how the walk goes, and what turning right, left and skew means."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, RAIL, THIN, Canvas, arrow_head
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM
from packgen.core.plane import Point, pairs

HIGH_MM = 50.0
ROOM: tuple[Point, ...] = ((6, 8), (66, 8), (70, 44), (38, 44), (38, 32), (6, 32))
WORDS = (
    (36.0, 6.0, "wall 1"),
    (75.5, 27.0, "wall 2"),
    (54.0, 49.0, "wall 3"),
    (31.0, 42.0, "wall 4"),
    (22.0, 37.5, "wall 5"),
    (0.0, 21.0, "6"),
)
SAYS = (
    "corner 2 is not square: after wall 1 tick skew",
    "corner 3 is not square: after wall 2 tick skew",
    "corner 4: after wall 3 turn right",
    "corner 5 sticks into the room: after wall 4 turn left",
    "corner 6 and corner 1: turn right",
)


def walk_picture(width_mm: float) -> tuple[Markup, float]:
    """The drawing and its height."""
    canvas = Canvas(width_mm, HIGH_MM)
    off = 6.0
    ring = tuple((x + off, y) for x, y in ROOM)
    band = tuple(_outer(ring, 2.5))
    canvas.strokes(hatched([[band, ring]], 45, 2.0), THIN)
    canvas.path(ring, CUT, close=True)
    inner = _outer(ring, -4.0)
    for a, b in pairs(inner):
        canvas.line(a, b, RAIL)
        canvas.area([arrow_head(_at(a, b, 0.55), a, 3.0)], "#000")
    for n, (x, y) in enumerate(ring, 1):
        canvas.discs([(x, y)], 2.5, "#fff", RAIL)
        canvas.words(x, y + 1.2, str(n), LEAST_MM + 0.3, True)
    for x, y, text in WORDS:
        canvas.words(x + off, y - 1.0 if y < 10 else y, text, LEAST_MM, clear=True)
    canvas.words(92.0, 8.0, "seen from above, wall 1 at the top", 3.9, True, anchor="start")
    for k, text in enumerate(SAYS):
        canvas.words(92.0, 15.5 + 6.5 * k, text, 3.6, anchor="start")
    canvas.words(92.0, 48.0, "The arrows are your walk.", 3.6, anchor="start")
    return canvas.svg("A room from above with its walls and corners numbered in the order of the walk"), HIGH_MM


def _at(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


def _outer(ring: tuple[Point, ...], by: float) -> list[Point]:
    """The ring with every side moved outward by so much (inward where below 0)."""
    out: list[Point] = []
    for i, p in enumerate(ring):
        (px, py), (nx, ny) = _normal(ring[i - 1], p), _normal(p, ring[(i + 1) % len(ring)])
        k = by / (1 + px * nx + py * ny)
        out.append((p[0] + (px + nx) * k, p[1] + (py + ny) * k))
    return out


def _normal(a: Point, b: Point) -> Point:
    d = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    return ((b[1] - a[1]) / d, -(b[0] - a[0]) / d)
