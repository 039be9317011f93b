"""Days and rates of a fill as figures with where they come from: the file, or the published ones of its family."""

from __future__ import annotations

from packgen.core.worked import Given
from packgen.project.given import given
from packgen.project.work_model import Fill
from packgen.quantities.compare import covered_days
from packgen.trade.waiting import drying_rule, waiting_rule


def covered_given(fill: Fill) -> Given:
    """How long a fill is kept covered."""
    says, days = "days kept covered", covered_days(fill)
    if fill.keep_covered is not None:
        return given(fill, "keep covered", says, days, "days")
    return Given(says, days, "days", waiting_rule(fill.family, "covered").source)


def drying_given(fill: Fill) -> tuple[Given, ...]:
    """Depth that dries at the first rate, that rate, and the rate of the rest; nothing where nothing dries."""
    names = (
        ("first mm", "depth that dries at the first rate", "mm"),
        ("first rate", "first rate", "mm a day"),
        ("rest rate", "rate of the rest", "mm a day"),
    )
    if fill.drying is not None:
        own = (fill.drying.first_mm, fill.drying.first_rate, fill.drying.rest_rate)
        return tuple(given(fill.drying, key, says, v, unit) for (key, says, unit), v in zip(names, own, strict=True))
    rule = drying_rule(fill.family)
    if rule is None:
        return ()
    found = (rule.first_mm, rule.first_rate, rule.rest_rate)
    return tuple(Given(says, v, unit, rule.source) for (_, says, unit), v in zip(names, found, strict=True))
