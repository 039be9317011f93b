"""Bars over days as small drawings, one a row of a table, all on one axis."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, THIN, Canvas
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.core.figures import day

HIGH_MM, BAR_MM = 5.5, 3.0
LEAST_BAR_MM = 1.2
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
ONE_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Axis:
    """From a day to another, both whole, over so much paper."""

    first: datetime.date
    last: datetime.date
    wide_mm: float

    def x(self, when: datetime.date) -> float:
        """Where a day begins."""
        return (when - self.first).days / ((self.last - self.first).days + 1) * self.wide_mm

    def ticks(self) -> tuple[tuple[datetime.date, str], ...]:
        """Mondays for a short time, else the first of each month, thinned where their names would touch."""
        days = [self.first + ONE_DAY * k for k in range((self.last - self.first).days + 1)]
        weekly = len(days) <= 42
        found = [d for d in days if (d.weekday() == 0 if weekly else d.day == 1)] or [self.first]
        if found[0] != self.first and not weekly and self.x(found[0]) > width("Mmm", LEAST_MM) + 2.0:
            found.insert(0, self.first)
        said = [(d, f"{d.day} {MONTHS[d.month - 1]}" if weekly else MONTHS[d.month - 1]) for d in found]
        step = 1
        while len(said) > 1 and step < len(said):
            kept = said[::step]
            if all(self.x(b[0]) - self.x(a[0]) > width(a[1], LEAST_MM) + 2.0 for a, b in pairwise(kept)):
                break
            step += 1
        return tuple(said[::step])


def scale(axis: Axis) -> Markup:
    """The axis with its names, for the first row."""
    canvas = Canvas(axis.wide_mm, HIGH_MM)
    for when, name in axis.ticks():
        x = axis.x(when)
        canvas.line((x, HIGH_MM - 1.5), (x, HIGH_MM), THIN)
        if x + width(name, LEAST_MM) + 0.8 <= axis.wide_mm:
            canvas.label(Label(x + 0.8 + width(name, LEAST_MM) / 2, HIGH_MM - 2.0, name, LEAST_MM))
    return _svg(canvas, f"Days from {day(axis.first)} to {day(axis.last)}")


def bar(axis: Axis, first: datetime.date, last: datetime.date, waits: bool, says: str) -> Markup:
    """One bar from a day to another, both counted; waiting is hatched, work is full."""
    canvas = Canvas(axis.wide_mm, HIGH_MM)
    for when, _ in axis.ticks():
        x = axis.x(when)
        canvas.line((x, 0), (x, HIGH_MM), THIN)
    x0, x1 = axis.x(first), axis.x(last + ONE_DAY)
    if x1 - x0 < LEAST_BAR_MM:
        x1 = min(x0 + LEAST_BAR_MM, axis.wide_mm)
        x0 = x1 - LEAST_BAR_MM
    y0, y1 = (HIGH_MM - BAR_MM) / 2, (HIGH_MM + BAR_MM) / 2
    ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    canvas.area([ring], "#fff" if waits else "#000", CUT)
    if waits and x1 - x0 > 2 * LEAST_BAR_MM:
        canvas.strokes(hatched([[ring]], 45.0, 2.4), THIN)
        canvas.path(ring, CUT, close=True)
    return _svg(canvas, says)


def _svg(canvas: Canvas, title: str) -> Markup:
    """The drawing as a block, so that it makes its row no taller than itself."""
    return Markup('<span style="display:block;line-height:0">{}</span>').format(canvas.svg(title))
