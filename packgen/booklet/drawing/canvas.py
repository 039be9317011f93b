"""A drawing in paper mm: strokes gathered by pen into one path each, fills, words; written as one compact SVG.

The viewBox is in mm and so are width and height: a line of 0.35 is 0.35 mm on paper at every scale. Styles are
attributes on groups and paths, never classes: a page's style sheet reaches into an SVG in a browser but not in print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from markupsafe import Markup

from packgen.booklet.drawing.labels import LEAST_MM, Box, Label, Room, short, written
from packgen.core.plane import Point


@dataclass(frozen=True, slots=True)
class Pen:
    """Line width and dashes in mm. Nothing thinner than 0.25 survives a photocopier (measured, booklet.md 9)."""

    width: float = 0.25
    dash: str = ""
    cap: str = "butt"


THIN = Pen(0.25)
RAIL = Pen(0.35)
CUT = Pen(0.5)
HEAVY = Pen(0.7)
STOP = Pen(1.2)
JOINT = Pen(0.35, "6 1.5 1 1.5")
SERVICE = Pen(0.35, "5 1.5")
DASHED = Pen(0.25, "2 1")
HIDDEN = Pen(0.25, "1 1")


class Canvas:
    """Gathers a drawing from back to front. `room` knows what is taken, for labels that must find a free place.

    Strokes of one pen that follow each other become one path; `under` starts a new layer, so that what comes later
    lies in front. Words are always in front of all lines.
    """

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.width_mm, self.height_mm = width_mm, height_mm
        self.room = Room((0.0, 0.0, width_mm, height_mm))
        self._parts: list[str] = []
        self._pen: Pen | None = None
        self._data: list[str] = []
        self._labels: list[Label] = []

    # ------------------------------------------------------------------------------ lines

    def line(self, a: Point, b: Point, pen: Pen = THIN, taken: bool = False) -> None:
        self.path((a, b), pen)
        if taken:
            self.room.take_line(a, b)

    def path(self, points: Sequence[Point], pen: Pen = THIN, close: bool = False) -> None:
        """A line through points, joined to its start where `close` says so."""
        if pen != self._pen:
            self._flush()
            self._pen = pen
        self._data.append(_data(points, close))

    def strokes(self, pieces: Iterable[tuple[Point, Point]], pen: Pen = THIN) -> None:
        for a, b in pieces:
            self.path((a, b), pen)

    def circle(self, at: Point, radius: float, pen: Pen = THIN) -> None:
        if pen != self._pen:
            self._flush()
            self._pen = pen
        self._data.append(_round(at, radius))

    # ------------------------------------------------------------------------------ areas

    def area(self, rings: Sequence[Sequence[Point]], fill: str = "#fff", pen: Pen | None = None) -> None:
        """A filled area with holes: white to cover, black for a solid sign, outlined where a pen is given."""
        self._flush()
        outline = f' stroke-width="{short(pen.width)}"' if pen else ' stroke="none"'
        data = "".join(_data(ring, True) for ring in rings)
        self._parts.append(f'<path fill="{fill}" fill-rule="evenodd"{outline} d="{data}"/>')

    def discs(self, spots: Iterable[Point], radius: float, fill: str = "#fff", pen: Pen | None = None) -> None:
        """Equal discs as one path."""
        data = "".join(_round(at, radius) for at in spots)
        if data:
            self._flush()
            outline = f' stroke-width="{short(pen.width)}"' if pen else ' stroke="none"'
            self._parts.append(f'<path fill="{fill}"{outline} d="{data}"/>')

    # ------------------------------------------------------------------------------ words

    def label(self, one: Label | None, clear: bool = False) -> None:
        """Writes a label and takes its place; `clear` lays white under it, so that no line crosses the word."""
        if one is None:
            return
        if clear:
            x0, y0, x1, y1 = one.box
            self.area([[(x0 - 0.5, y0), (x1 + 0.5, y0), (x1 + 0.5, y1), (x0 - 0.5, y1)]])
        self.room.take(one.box)
        self._labels.append(one)

    def place(self, candidates: Iterable[Label], most_cost: float = math.inf, clear: bool = False) -> Label | None:
        """Writes the first candidate that is free, else the one that covers least; None where none may stand."""
        one = self.room.place(candidates, most_cost)
        self.label(one, clear)
        return one

    def words(
        self,
        x: float,
        y: float,
        text: str,
        size: float = LEAST_MM,
        bold: bool = False,
        anchor: str = "middle",
        clear: bool = False,
    ) -> Label:
        """A text on a baseline, its middle, start or end at x."""
        half = (Label(0, 0, text, size, bold).box[2]) * {"middle": 0, "start": 1, "end": -1}[anchor]
        one = Label(x + half, y, text, size, bold)
        self.label(one, clear)
        return one

    # ------------------------------------------------------------------------------ out

    def _flush(self) -> None:
        if self._pen and self._data:
            dash = f' stroke-dasharray="{self._pen.dash}"' if self._pen.dash else ""
            cap = f' stroke-linecap="{self._pen.cap}"' if self._pen.cap != "butt" else ""
            width = short(self._pen.width)
            self._parts.append(f'<path stroke-width="{width}"{dash}{cap} d="{"".join(self._data)}"/>')
        self._pen, self._data = None, []

    def svg(self, title: str) -> Markup:
        """The drawing on white with its spoken title, every text escaped; here alone drawings become markup."""
        self._flush()
        w, h = short(self.width_mm), short(self.height_mm)
        lines = "".join(self._parts)
        words = "".join(written(self._labels))
        return Markup(
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}">'
            f"<title>{escape(title)}</title>"
            f'<path fill="#fff" d="M0 0H{w}V{h}H0Z"/>'
            f'<g fill="none" stroke="#000">{lines}</g>'
            f'<g font-family="Pack, Sym" fill="#000">{words}</g></svg>'
        )


def box_ring(box: Box) -> tuple[Point, ...]:
    """The corners of a box."""
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def arrow_head(tip: Point, towards: Point, size: float = 2.2) -> tuple[Point, ...]:
    """A slim triangle with its point at `tip`, coming from `towards`' opposite: it points from the line to the tip."""
    d = math.dist(tip, towards) or 1.0
    ux, uy = (tip[0] - towards[0]) / d, (tip[1] - towards[1]) / d
    bx, by = tip[0] - ux * size, tip[1] - uy * size
    n = size * 0.3
    return (tip, (bx - uy * n, by + ux * n), (bx + uy * n, by - ux * n))


def _data(points: Sequence[Point], close: bool) -> str:
    x, y = short(points[0][0]), short(points[0][1])
    out = [f"M{x} {y}"]
    for px, py in points[1:]:
        nx, ny = short(px), short(py)
        out.append(f"V{ny}" if nx == x else f"H{nx}" if ny == y else f"L{nx} {ny}")
        x, y = nx, ny
    return "".join(out) + ("Z" if close else "")


def _round(at: Point, radius: float) -> str:
    r, d = short(radius), short(2 * radius)
    return f"M{short(at[0] - radius)} {short(at[1])}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0-{d} 0"
