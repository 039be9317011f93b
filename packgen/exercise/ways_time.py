"""Time: right and wrong ways to drying days and to the earliest day of a moisture test. Day of the pour is day 0.

days of drying = first part / first rate + rest / rest rate, rounded up, by the greatest depth.
Source: J8 of the trade's rules; trade/waiting.py.
"""

from __future__ import annotations

import datetime

from packgen.core.figures import day, half_up, plain, round_up
from packgen.exercise.model import Answers, Case, CaseFill, Way
from packgen.exercise.ways_height import base_of


def greatest_depth(case: Case, top_id: str, a: Answers) -> float:
    """Depth at the lowest of the spots that are asked, below a level floor."""
    return half_up(a[top_id] - min(base_of(leg, a) for leg in case.legs), 1)


def _days(depth: float, rates: tuple[float, float, float]) -> tuple[float, str]:
    first, fast, slow = rates
    if depth <= first:
        return round_up(depth / fast), f"ceil({plain(depth)} / {plain(fast)})"
    value = round_up(first / fast + (depth - first) / slow)
    return value, f"ceil({plain(first)} / {plain(fast)} + ({plain(depth)} - {plain(first)}) / {plain(slow)})"


def drying(case: Case, fill: CaseFill, top_id: str, a: Answers) -> Way | None:
    if fill.drying is None:
        return None
    value, numbers = _days(greatest_depth(case, top_id, a), fill.drying)
    return Way(value, "greatest depth: first part / its rate + rest / its rate, rounded up", numbers)


def drying_mean(fill: CaseFill, key: str, a: Answers) -> Way | None:
    """W20, by the mean depth."""
    if fill.drying is None:
        return None
    value, numbers = _days(a[f"mean depth/{key}"], fill.drying)
    return Way(value, "mean depth dried", numbers)


def drying_one_rate(case: Case, fill: CaseFill, top_id: str, a: Answers) -> Way | None:
    """W20, all of it at the first rate."""
    depth = greatest_depth(case, top_id, a)
    if fill.drying is None or fill.drying[1] == fill.drying[2] or depth <= fill.drying[0]:
        return None
    return Way(
        round_up(depth / fill.drying[1]), "all at the first rate", f"ceil({plain(depth)} / {plain(fill.drying[1])})"
    )


def earliest_test(fill: CaseFill, start: datetime.date, key: str, a: Answers, shift: int = 0) -> Way:
    """Day of the pour + days covered + days of drying. A `shift` of a day is W21."""
    covered = fill.covered_days or 0
    days = covered + int(a[f"drying/{key}"]) + shift
    date = start + datetime.timedelta(days=days)
    formula = "day of the pour + days covered + days of drying" if not shift else "the day of the pour counted"
    return Way(float(date.toordinal()), formula, f"{day(start)} + {days} days = {day(date)}")
