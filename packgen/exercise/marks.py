"""Marks of every blank: by steps, whole, and adding up to the total and its shares (largest remainder)."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packgen.exercise.model import Blank
from packgen.exercise.settings import Settings
from packgen.trade.classroom import marks_rule


@dataclass(frozen=True, slots=True)
class Marks:
    """Marks of one blank: for the line of working, for the answer, for unit and tidiness."""

    method: int
    answer: int
    tidy: int

    @property
    def whole(self) -> int:
        return self.method + self.answer + self.tidy


def apportioned(total: int, weights: Sequence[float], most: Sequence[int] | None = None) -> list[int]:
    """Whole parts of a total in proportion to weights: rounded down, then one more by largest remainder, the earlier
    first where remainders are alike; none beyond `most`. Sums to the total, or to the sum of `most` where that is less.

    >>> apportioned(10, [1, 1, 1])
    [4, 3, 3]
    """
    limits = list(most) if most is not None else [total] * len(weights)
    total = min(total, sum(limits))
    if not weights or sum(weights) <= 0:
        return [0] * len(weights)
    exact = [total * w / sum(weights) for w in weights]
    parts = [min(math.floor(e + 1e-9), m) for e, m in zip(exact, limits, strict=True)]
    while sum(parts) < total:
        open_ones = [i for i in range(len(parts)) if parts[i] < limits[i]]
        parts[max(open_ones, key=lambda i: (exact[i] - parts[i], -i))] += 1
    return parts


def total_marks(blanks: int) -> int:
    """Marks of a sheet with so many blanks: a round number that leaves each blank some.

    >>> total_marks(20), total_marks(34)
    (100, 150)
    """
    step = marks_rule("round_to")
    return int(max(marks_rule("least"), math.ceil(marks_rule("each") * blanks / step) * step))


def marks_of(blanks: Sequence[Blank], settings: Settings) -> Mapping[str, Marks]:
    """Marks by blank id. The sheet adds up to the total, and its columns to the shares; a tick has no working, so all
    of its marks are for the answer."""
    total = total_marks(len(blanks))
    each = apportioned(total, [b.steps for b in blanks])
    _method, answer, tidy = apportioned(total, settings.marks)
    ticks = [n if b.writing == "choice" else 0 for b, n in zip(blanks, each, strict=True)]
    rest = [n - t for n, t in zip(each, ticks, strict=True)]
    tidied = apportioned(tidy, rest, rest)
    left = [n - t for n, t in zip(rest, tidied, strict=True)]
    answered = apportioned(max(0, answer - sum(ticks)), left, left)
    return {
        b.id: Marks(n - a - t - tick, a + tick, t)
        for b, n, a, t, tick in zip(blanks, each, answered, tidied, ticks, strict=True)
    }


def accepted(blank: Blank, right: float) -> tuple[float, float]:
    """From and to of what is accepted, rounded inward to the answer's own digits. Levels as sizes, least first."""
    unit = 10.0**-blank.digits
    tolerance = blank.tolerance.mm(right)
    low = math.ceil((abs(right) - tolerance) / unit - 1e-9) * unit
    high = math.floor((abs(right) + tolerance) / unit + 1e-9) * unit
    return round(low, blank.digits) + 0.0, round(high, blank.digits) + 0.0
