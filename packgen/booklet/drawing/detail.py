"""The parts a section is drawn from: base, wall, strip, leg, rail, fill, layers, levels, leaders. True to scale."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, HIDDEN, RAIL, THIN, Canvas, box_ring
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, width, wrapped
from packgen.booklet.drawing.leaders import column
from packgen.core.plane import Point

GROUND_MM = 5.0  # hatched strip of the base
FOOT_HIGH = 6.0  # drawn height of a foot plate, real mm
SCREW = 16.0  # drawn width of a leg's screw, real mm


class Detail:
    """A vertical section on a canvas: x real mm from its left edge, level real mm (up is plus)."""

    def __init__(self, width_mm: float, left: float, right: float, scale: int, high: float, low: float) -> None:
        """Words take `left` and `right` paper mm; levels from `high` to `low` are shown with air for words above."""
        self.left, self.right, self.scale, self.high = left, right, scale, high
        self.top = 4.5
        drawn = (high - low) / scale
        self.canvas = Canvas(width_mm, self.top + drawn + GROUND_MM + 0.5)
        self.span = (width_mm - left - right) * scale
        self._left: list[tuple[Point, tuple[str, ...]]] = []
        self._right: list[tuple[Point, tuple[str, ...]]] = []

    def at(self, x: float, level: float) -> Point:
        return (self.left + x / self.scale, self.top + (self.high - level) / self.scale)

    def box(self, x0: float, x1: float, low: float, high: float) -> tuple[Point, ...]:
        (a, d), (c, b) = self.at(x0, low), self.at(x1, high)
        return box_ring((a, b, c, d))

    # ------------------------------------------------------------------------------ parts

    def base(self, x0: float, x1: float, left: float, right: float) -> None:
        """The base from x0 to x1, its level at both ends: a heavy line, hatch below."""
        a, b = self.at(x0, left), self.at(x1, right)
        ring = (a, b, (b[0], b[1] + GROUND_MM), (a[0], a[1] + GROUND_MM))
        self.canvas.strokes(hatched([[ring]], 45, 2.0), THIN)
        self.canvas.line(a, b, CUT)

    def foil(self, x0: float, x1: float, left: float, right: float, up_to: float | None = None) -> None:
        """The separating layer just above the base, turned up at the left where `up_to` says how high."""
        lift = 0.8 * self.scale / 2
        a, b = self.at(x0, left + lift), self.at(x1, right + lift)
        start = [self.at(x0, up_to)] if up_to is not None else []
        self.canvas.path([*start, a, b], DASHED)

    def wall(self, x0: float, x1: float, low: float, top: float) -> None:
        """A wall or an obstacle, hatched, open at the top."""
        ring = self.box(x0, x1, low, top)
        self.canvas.strokes(hatched([[ring]], 45, 2.0), THIN)
        self.canvas.path((ring[0], ring[3]), CUT)
        self.canvas.path((ring[1], ring[2]), CUT)

    def solid(self, x0: float, x1: float, low: float, top: float, angle: float = 45.0) -> None:
        """A floor or slab that is there already: outlined and hatched."""
        ring = self.box(x0, x1, low, top)
        self.canvas.area([ring])
        self.canvas.strokes(hatched([[ring]], angle, 2.0), THIN)
        self.canvas.path(ring, CUT, close=True)

    def strip(self, x0: float, x1: float, low: float, top: float) -> None:
        """The perimeter strip, crossed."""
        ring = self.box(x0, x1, low, top)
        self.canvas.area([ring], "#fff", THIN)
        (a, b), (c, d) = ring[0], ring[2]
        count = max(1, round((d - b) / max(c - a, 1.2)))
        for k in range(count):
            y0, y1 = b + (d - b) * k / count, b + (d - b) * (k + 1) / count
            self.canvas.line((a, y0), (c, y1), THIN)

    def fill(self, x0: float, x1: float, low: float, top: float, low_right: float | None = None) -> None:
        """Fill from the base to the rail top."""
        a, b = self.at(x0, top), self.at(x1, top)
        c, d = self.at(x1, low if low_right is None else low_right), self.at(x0, low)
        self.canvas.strokes(hatched([[(a, b, c, d)]], 135, 3.0), THIN)
        self.canvas.line(a, b, RAIL)

    def layers(self, x0: float, x1: float, bottom: float, layers: Sequence[tuple[str, float]]) -> None:
        """The layers above the rail, given from the top; the covering hatched the other way."""
        level = bottom
        for k, (_, thick) in enumerate(reversed(layers)):
            ring = self.box(x0, x1, level, level + thick)
            self.canvas.area([ring])
            if k == len(layers) - 1 and thick / self.scale >= 1.2:
                self.canvas.strokes(hatched([[ring]], 60, 2.0), THIN)
            self.canvas.path(ring, RAIL, close=True)
            level += thick

    def rail_along(self, x0: float, x1: float, top: float, high: float) -> None:
        """A rail that runs in the section's plane."""
        ring = self.box(x0, x1, top - high, top)
        self.canvas.area([ring])
        self.canvas.path(ring, CUT, close=True)

    def rail_across(self, x: float, top: float, wide: float, high: float) -> None:
        """A rail cut across: solid."""
        ring = self.box(x - wide / 2, x + wide / 2, top - high, top)
        self.canvas.area([ring], "#fff", CUT)
        self.canvas.strokes([(ring[0], ring[2]), (ring[1], ring[3])], THIN)

    def leg(
        self,
        x: float,
        base: float,
        rail_top: float,
        rail_high: float,
        foot: float,
        adds: float = 0.0,
        pack: float = 0.0,
    ) -> None:
        """A leg from the base to the rail's underside: foot plate, screw, extension sleeve, packing plate."""
        canvas = self.canvas
        if pack:
            canvas.area([self.box(x - foot / 2 - 4, x + foot / 2 + 4, base, base + pack)], "#fff", CUT)
        low = base + pack
        under = rail_top - rail_high
        canvas.area([self.box(x - SCREW / 2, x + SCREW / 2, low, under)], "#fff", CUT)
        if adds:
            canvas.area([self.box(x - SCREW, x + SCREW, low + FOOT_HIGH, low + FOOT_HIGH + adds)], "#fff", CUT)
        canvas.area([self.box(x - foot / 2, x + foot / 2, low, low + FOOT_HIGH)], "#fff", CUT)

    def pipe(self, x: float, low: float, outside: float, support: float) -> None:
        """A pipe cut across on its support."""
        if support:
            self.canvas.area([self.box(x - outside * 0.9, x + outside * 0.9, low, low + support)], "#fff", RAIL)
        r = outside / 2
        at = self.at(x, low + support + r)
        self.canvas.discs([at], r / self.scale, "#fff", CUT)
        self.canvas.discs([at], max(0.3, r / self.scale - 0.7), "#fff", THIN)

    def break_line(self, x: float, low: float, top: float) -> None:
        """Where the drawing leaves something out."""
        (a, b), (_, c) = self.at(x, top), self.at(x, low)
        self.canvas.area([box_ring((a - 1.0, b - 1.0, a + 1.0, c + GROUND_MM + 0.5))])
        for off in (-1.0, 1.0):
            points = [(a + off, b - 1.0)]
            middle = (b + c) / 2
            points += [(a + off, middle - 1.5), (a + off + 1.2, middle - 0.5), (a + off - 1.2, middle + 0.5)]
            points += [(a + off, middle + 1.5), (a + off, c + GROUND_MM + 0.5)]
            self.canvas.path(points, THIN)

    # ------------------------------------------------------------------------------ words

    def level_line(self, x0: float, x1: float, level: float) -> None:
        """A level carried across, dashed."""
        self.canvas.line(self.at(x0, level), self.at(x1, level), HIDDEN)

    def say_left(self, x: float, level: float, *lines: str) -> None:
        """Words at the left with a leader to a place."""
        self._left.append((self.at(x, level), lines))

    def say(self, x: float, level: float, text: str) -> None:
        """Words at the right with a leader to a place; long ones are broken."""
        self._right.append((self.at(x, level), wrapped(text, LEAST_MM, self.right - 6.0)))

    def inside(self, x: float, level: float, text: str, anchor: str = "start") -> None:
        """Words in the drawing itself, on white, their middle at a level."""
        px, py = self.at(x, level)
        self.canvas.words(px, py + 0.36 * LEAST_MM, text, anchor=anchor, clear=True)

    def above(self, x: float, text: str, bold: bool = False) -> None:
        """Words over the drawing."""
        self.canvas.words(self.at(x, 0)[0], 3.6, text, bold=bold)

    def dim(self, x: float, low: float, high: float, text: str) -> None:
        """An upright dimension, its figure upright at the left of the line."""
        a, b = self.at(x, high), self.at(x, low)
        self.canvas.line(a, b, THIN)
        for p in (a, b):
            self.canvas.line((p[0] - 1.0, p[1]), (p[0] + 1.0, p[1]), CUT)
        half = width(text, LEAST_MM, True) / 2
        one = Label(a[0] - 1.2 - half, (a[1] + b[1]) / 2 + 0.36 * LEAST_MM, text, LEAST_MM, True)
        self.canvas.label(one, clear=True)

    def dim_level(self, level: float, x0: float, x1: float, text: str) -> None:
        """A level dimension, its figure above the line."""
        a, b = self.at(x0, level), self.at(x1, level)
        self.canvas.line(a, b, THIN)
        for p in (a, b):
            self.canvas.line((p[0], p[1] - 1.0), (p[0], p[1] + 1.0), CUT)
        self.canvas.label(Label((a[0] + b[0]) / 2, a[1] - 1.0, text), clear=True)

    def svg(self, title: str) -> Markup:
        """The finished drawing; words at both sides are spread so that none lies on another."""
        for items, left in ((self._left, True), (self._right, False)):
            edge = self.left - 4.0 if left else self.canvas.width_mm - self.right + 4.0
            column(self.canvas, items, edge, left)
        return self.canvas.svg(title)


def scale_for(real_high: float) -> int:
    """1:5 for the usual build-up, 1:10 where that would be higher than a quarter of a page."""
    return 5 if real_high <= 230 else 10
