"""Scales of drawings and how a large floor is parted over several sheets.

Scales are those of ISO 5455 and 1:25. The largest that fits on one sheet is taken. A floor that would need less than
1:50 is parted over several sheets at 1:50 with a shared line; more than SHEETS of them, and the next scale is tried:
a set-out plan of thirty sheets is harder to follow than one at 1:100. The smallest scale takes what it takes.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

SCALES = (5, 10, 20, 25, 50, 100, 200)
PLANS = (20, 25, 50, 100, 200)
KEYS = (*PLANS, 500, 1000, 2000)  # a plan that only shows where things are
PARTED_AT = 50
SHEETS = 6


def largest(width_mm: float, height_mm: float, paper_w: float, paper_h: float, scales: tuple[int, ...] = PLANS) -> int:
    """The largest scale, as the figure after the colon, at which a thing fits on the paper; the smallest if none does.

    >>> largest(6200, 4400, 150, 150), largest(20_000, 10_000, 178, 200)
    (50, 200)
    """
    fitting = (s for s in scales if width_mm / s <= paper_w + 1e-9 and height_mm / s <= paper_h + 1e-9)
    return next(fitting, scales[-1])


@dataclass(frozen=True, slots=True)
class Window:
    """A part of the plan that goes on one sheet, room mm; column and row counted from 0, and how many there are."""

    x0: float
    y0: float
    x1: float
    y1: float
    column: int = 0
    row: int = 0
    columns: int = 1
    rows: int = 1


@dataclass(frozen=True, slots=True)
class Strip:
    """Paper across or down: its whole length, what the outer sides take, and what a side with a neighbour takes; mm."""

    whole: float
    before: float
    after: float
    inner: float

    def free(self, i: int, count: int) -> float:
        """What part i of `count` leaves for the floor."""
        return self.whole - (self.before if i == 0 else self.inner) - (self.after if i == count - 1 else self.inner)


def cuts(low: float, high: float, at: tuple[float, ...], strip: Strip, scale: float) -> list[tuple[float, float]]:
    """The stretch from low to high in as few parts as the paper allows, each ending on a line that begins the next.

    Where the lines allow no such cut it is made without a line.
    """
    for count in range(1, 200):
        reach = [strip.free(i, count) * scale for i in range(count)]
        if sum(reach) < high - low - 1e-6 or min(reach) <= 0:
            continue
        parts = _cut_on_lines(low, high, at, reach)
        if parts:
            return parts
        if count > 1 and sum(reach) > 1.5 * (high - low):
            break
    share = (high - low) / count
    ends = [*(low + i * share for i in range(count)), high]
    return list(pairwise(ends))


def _cut_on_lines(low: float, high: float, at: tuple[float, ...], reach: list[float]) -> list[tuple[float, float]]:
    """Ends on lines so that the parts are about equally full; [] where the lines allow none that fit."""
    parts, start = [], low
    for i, free in enumerate(reach[:-1]):
        wanted = low + (high - low) * sum(reach[: i + 1]) / sum(reach)
        fit = [a for a in at if start + 1 < a <= start + free + 1e-6 and high - a <= sum(reach[i + 1 :]) + 1e-6]
        if not fit:
            return []
        end = min(fit, key=lambda a: (abs(a - wanted), a))
        parts.append((start, end))
        start = end
    return [*parts, (start, high)] if high - start <= reach[-1] + 1e-6 else []


def parted(
    box: tuple[float, float, float, float],
    xs: tuple[float, ...],
    ys: tuple[float, ...],
    across: Strip,
    down: Strip,
    least: int = PARTED_AT,
) -> tuple[int, tuple[Window, ...]]:
    """Scale and windows for a plan with lines at `xs` and `ys`; windows meet on a line that both sheets show."""
    x0, y0, x1, y1 = box
    one = largest(x1 - x0, y1 - y0, across.free(0, 1), down.free(0, 1))
    fits = (x1 - x0) / one <= across.free(0, 1) + 1e-9 and (y1 - y0) / one <= down.free(0, 1) + 1e-9
    if one <= least and fits:
        return one, (Window(x0, y0, x1, y1),)
    for scale in (s for s in PLANS if s >= least):
        columns = cuts(x0, x1, xs, across, scale)
        rows = cuts(y0, y1, ys, down, scale)
        if len(columns) * len(rows) <= SHEETS or scale == PLANS[-1]:
            break
    return scale, tuple(
        Window(a, c, b, d, i, j, len(columns), len(rows))
        for j, (c, d) in enumerate(rows)
        for i, (a, b) in enumerate(columns)
    )
