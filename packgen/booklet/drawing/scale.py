"""Scales of drawings and how a large floor is parted over several sheets.

Scales are those of ISO 5455 and 1:25. The largest that fits on one sheet is taken. A floor that would need less than
1:50 is parted over several sheets at 1:50 with a shared line; more than SHEETS of them, and the next scale is tried:
a set-out plan of thirty sheets is harder to follow than one at 1:100. The smallest scale takes what it takes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

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
    """A part of the plan that goes on one sheet, room mm; column and row of the part counted from 0."""

    x0: float
    y0: float
    x1: float
    y1: float
    column: int = 0
    row: int = 0


def _cuts(low: float, high: float, at: tuple[float, ...], reach: float) -> list[tuple[float, float]]:
    """Stretches not longer than `reach`, each ending on a line that begins the next; even where lines allow it."""
    if high - low <= reach:
        return [(low, high)]
    count = math.ceil((high - low) / reach)
    while True:
        cuts, start = [], low
        for i in range(1, count):
            wanted = low + (high - low) * i / count
            fit = [a for a in at if start + 1 < a <= start + reach and a < high - 1]
            if not fit:
                break
            cuts.append((start, start := min(fit, key=lambda a: (abs(a - wanted), a))))
        if len(cuts) == count - 1 and high - start <= reach:
            return [*cuts, (start, high)]
        count += 1
        if count > 4 * math.ceil((high - low) / reach) + 4:
            return [(low + i * reach, min(high, low + (i + 1) * reach)) for i in range(math.ceil((high - low) / reach))]


def parted(
    box: tuple[float, float, float, float],
    xs: tuple[float, ...],
    ys: tuple[float, ...],
    paper_w: float,
    paper_h: float,
    least: int = PARTED_AT,
) -> tuple[int, tuple[Window, ...]]:
    """Scale and windows for a plan with lines at `xs` and `ys`; windows meet on a line that both sheets show."""
    x0, y0, x1, y1 = box
    one = largest(x1 - x0, y1 - y0, paper_w, paper_h)
    if one <= least and (x1 - x0) / one <= paper_w + 1e-9 and (y1 - y0) / one <= paper_h + 1e-9:
        return one, (Window(x0, y0, x1, y1),)
    for scale in (s for s in PLANS if s >= least):
        columns = _cuts(x0, x1, xs, paper_w * scale)
        rows = _cuts(y0, y1, ys, paper_h * scale)
        if len(columns) * len(rows) <= SHEETS or scale == PLANS[-1]:
            break
    return scale, tuple(Window(a, c, b, d, i, j) for j, (c, d) in enumerate(rows) for i, (a, b) in enumerate(columns))
