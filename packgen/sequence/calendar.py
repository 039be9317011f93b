"""Working days, and which of them a fill can be poured on: nights, frost, rain."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from packgen.core.figures import day, plain
from packgen.project.work_model import Calendar, Fill
from packgen.sequence.model import MissedDay
from packgen.trade.waiting import night_least

ONE_DAY = datetime.timedelta(days=1)


def working_days(calendar: Calendar, start: datetime.date) -> Iterator[datetime.date]:
    """The days on which work is done, from `start` on, without end. ValueError where no weekday is worked."""
    if not calendar.working_days:
        raise ValueError("no working day in the week")
    at = start
    while True:
        if at.weekday() in calendar.working_days and at not in calendar.not_working:
            yield at
        at += ONE_DAY


@dataclass(frozen=True, slots=True)
class NightRule:
    """How many nights from the pour's own evening on a fill must not be colder than so many °C."""

    nights: int
    least_celsius: float


def night_rule(fill: Fill) -> NightRule | None:
    """The night rule of a mixed fill; None where frost does no harm.

    Nights d ... d + max(3, keep covered) - 1; a night is named by its evening's date.
    """
    if not fill.mixed:
        return None
    rule = night_least(fill.family)
    least = rule.celsius if fill.lowest_temperature is None else fill.lowest_temperature
    return NightRule(max(rule.nights, fill.keep_covered or 0), least)


def night_celsius(calendar: Calendar, night: datetime.date) -> float | None:
    """Lowest temperature of a night; None where the file says nothing of it."""
    temperature = calendar.lowest_night_temperature
    if temperature is None:
        return None
    return dict(temperature.by_night).get(night, temperature.always)


def nights_of(
    calendar: Calendar, rule: NightRule | None, poured: datetime.date
) -> tuple[tuple[datetime.date, float | None], ...]:
    """The nights that count for a pour, with their temperatures."""
    nights = [poured + k * ONE_DAY for k in range(rule.nights if rule else 0)]
    return tuple((n, night_celsius(calendar, n)) for n in nights)


def pour_days(
    calendar: Calendar, fill: Fill, start: datetime.date, outside: bool
) -> Iterator[tuple[datetime.date, tuple[MissedDay, ...]]]:
    """Days from `start` on that a fill can be poured on, each with the working days lost just before it.

    A night without a figure is not taken for a cold one. Where every night is too cold no day is better than the
    next: the days are given as they come, and their cold nights stand with the pour.
    """
    rule = night_rule(fill)
    lost: list[MissedDay] = []
    for at in working_days(calendar, start):
        reason = _why_not(calendar, fill, rule, at, outside)
        if reason is None:
            yield at, tuple(lost)
            lost = []
        else:
            lost.append(reason)


def _why_not(
    calendar: Calendar, fill: Fill, rule: NightRule | None, at: datetime.date, outside: bool
) -> MissedDay | None:
    always = calendar.lowest_night_temperature.always if calendar.lowest_night_temperature else None
    if rule is not None and (always is None or always >= rule.least_celsius):
        cold = [(n, t) for n, t in nights_of(calendar, rule, at) if t is not None and t < rule.least_celsius]
        if cold:
            night, celsius = cold[0]
            says = (
                f"the night of {day(night)} is {plain(celsius, 1)} °C and the fill needs {plain(rule.least_celsius, 1)}"
            )
            return MissedDay(at, "frost", night, celsius, rule.least_celsius, says)
    if outside and at in calendar.rain_expected:
        return MissedDay(at, "rain", None, None, None, "rain is expected")
    return None
