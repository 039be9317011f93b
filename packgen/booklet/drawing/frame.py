"""A view of the floor on paper: room mm to paper mm, strokes and areas clipped to the sheet's part of the floor."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from packgen.booklet.drawing.canvas import THIN, Canvas, Pen
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.scale import Window
from packgen.core.plane import Point, Polygon, Ring, pairs
from packgen.survey.model import RoomOutline

BAND_MM = 3.0  # hatched band outside the room
NAME_MM = 3.5  # 10 pt
BAR_MM = 12.0  # strip of the scale bar
LOW_BAR_MM = 8.0  # the same close under a drawing
SLACK_MM = 6.0  # a parted floor shows so much beyond the shared line


class Outlines(Protocol):
    """Rooms with their walls, doors and what stands in them."""

    @property
    def rooms(self) -> tuple[RoomOutline, ...]: ...


class Drawn(Protocol):
    """What walls and their names are drawn from: a whole plan, or outlines before there is one."""

    @property
    def survey(self) -> Outlines: ...


@dataclass(frozen=True, slots=True)
class Margins:
    """Paper kept free round the floor, for names, dimensions and marks."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass
class PlanView:
    """A canvas with the part of the floor it shows. `window` room mm; `scale` is the figure after the colon."""

    canvas: Canvas
    scale: int
    window: Window
    margins: Margins
    left: float
    top: float

    def at(self, p: Point) -> Point:
        """Room mm to paper mm."""
        return (self.left + (p[0] - self.window.x0) / self.scale, self.top + (p[1] - self.window.y0) / self.scale)

    def shows(self, p: Point, slack_mm: float = 0.0) -> bool:
        """Whether a place of the room lies on this sheet; slack in paper mm."""
        s, w = slack_mm * self.scale, self.window
        return w.x0 - s <= p[0] <= w.x1 + s and w.y0 - s <= p[1] <= w.y1 + s

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """What is drawn, room mm: the window and a little more."""
        s, w = SLACK_MM * self.scale, self.window
        return (w.x0 - s, w.y0 - s, w.x1 + s, w.y1 + s)

    def line(self, a: Point, b: Point, pen: Pen = THIN, taken: bool = True) -> None:
        """A stroke, room mm, clipped to the sheet; its place is taken unless words may lie on it."""
        cut = clipped(a, b, self.reach)
        if cut:
            self.canvas.line(self.at(cut[0]), self.at(cut[1]), pen, taken)

    def ring(self, ring: Sequence[Point], pen: Pen = THIN, taken: bool = True) -> None:
        """An outline, room mm, clipped to the sheet."""
        for a, b in pairs(ring):
            self.line(a, b, pen, taken)

    def rings(self, shapes: Iterable[Polygon]) -> list[list[Ring]]:
        """Polygons as rings in paper mm, those that miss the sheet left out."""
        x0, y0, x1, y1 = self.reach
        out = []
        for p in shapes:
            xs, ys = [x for x, _ in p.shell], [y for _, y in p.shell]
            if max(xs) >= x0 and min(xs) <= x1 and max(ys) >= y0 and min(ys) <= y1:
                cut = [clipped_ring(r, self.reach) for r in (p.shell, *p.holes)]
                out.append([tuple(self.at(q) for q in r) for r in cut if len(r) > 2])
        return [r for r in out if r]

    def hatch(self, shapes: Iterable[Polygon], angle: float, spacing: float, pen: Pen = THIN) -> None:
        """Hatch lines over polygons given in room mm; spacing in paper mm."""
        self.canvas.strokes(hatched(self.rings(shapes), angle, spacing), pen)


def clipped(a: Point, b: Point, box: tuple[float, float, float, float]) -> tuple[Point, Point] | None:
    """The part of a stroke inside a box (Liang and Barsky); None where it misses."""
    t0, t1 = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for p, q in ((-dx, a[0] - box[0]), (dx, box[2] - a[0]), (-dy, a[1] - box[1]), (dy, box[3] - a[1])):
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            t0 = max(t0, q / p)
        else:
            t1 = min(t1, q / p)
    if t0 >= t1:
        return None
    return (a[0] + dx * t0, a[1] + dy * t0), (a[0] + dx * t1, a[1] + dy * t1)


def clipped_ring(ring: Sequence[Point], box: tuple[float, float, float, float]) -> list[Point]:
    """A ring cut by a box (Sutherland and Hodgman)."""
    out = list(ring)
    for axis, limit, sign in ((0, box[0], 1), (0, box[2], -1), (1, box[1], 1), (1, box[3], -1)):
        if all((p[axis] - limit) * sign >= 0 for p in out):
            continue
        kept: list[Point] = []
        for p, q in pairs(out):
            s, t = (p[axis] - limit) * sign, (q[axis] - limit) * sign
            if s >= 0:
                kept.append(p)
            if (s >= 0) != (t >= 0):
                f = s / (s - t)
                kept.append((p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f))
        out = kept
        if not out:
            break
    return out
