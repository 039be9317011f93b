"""Days for work and for filling."""

from __future__ import annotations

import datetime
from itertools import islice

from hypothesis import given
from hypothesis import strategies as st

from packgen.plan import Plan
from packgen.project.work_model import Calendar, Fill, NightTemperature
from packgen.sequence.calendar import night_rule, nights_of, pour_days, working_days

MONDAY = datetime.date(2027, 3, 22)


def calendar(**more: object) -> Calendar:
    return Calendar.model_construct(**{**Calendar(start=MONDAY).__dict__, **more})


def on(day: int, month: int = 3) -> datetime.date:
    return datetime.date(2027, month, day)


@given(
    start=st.dates(datetime.date(2027, 1, 1), datetime.date(2028, 12, 31)),
    days=st.sets(st.integers(0, 6), min_size=1),
    off=st.sets(st.dates(datetime.date(2027, 1, 1), datetime.date(2027, 3, 1))),
)
def test_work_is_done_on_working_days_only_and_none_is_left_out(
    start: datetime.date, days: set[int], off: set[datetime.date]
) -> None:
    cal = calendar(start=start, working_days=tuple(sorted(days)), not_working=tuple(sorted(off)))
    found = list(islice(working_days(cal, start), 8))
    every = [start + datetime.timedelta(days=k) for k in range((found[-1] - start).days + 1)]
    assert found == [d for d in every if d.weekday() in days and d not in off]


def fill(plan_of, name: str = "05-terrace-with-falls") -> Fill:  # type: ignore[no-untyped-def]
    plan: Plan = plan_of(name)
    return plan.project.fills.used


def test_nights_run_from_the_evening_of_the_pour(plan_of) -> None:  # type: ignore[no-untyped-def]
    """EN 1264-4 and the traffic rules of cement ask for 3 days; the file's longer cover asks for more."""
    terrace, screed = fill(plan_of), fill(plan_of, "02-extension-heated")
    assert [n for n, _ in nights_of(calendar(), night_rule(terrace), on(30))] == [on(30), on(31), on(1, 4)]
    assert len(nights_of(calendar(), night_rule(screed), on(30))) == 7
    assert night_rule(fill(plan_of, "01-attic-studio")) is None


def first(cal: Calendar, plan_of, outside: bool = True):  # type: ignore[no-untyped-def]
    return next(pour_days(cal, fill(plan_of), MONDAY, outside))


def test_a_cold_night_within_three_moves_the_pour(plan_of) -> None:  # type: ignore[no-untyped-def]
    cold = calendar(lowest_night_temperature=NightTemperature(by_night=((on(24), 4.9), (on(23), 5.0))))
    date, lost = first(cold, plan_of)
    assert date == on(25)
    assert [(m.date, m.why, m.night) for m in lost] == [(on(d), "frost", on(24)) for d in (22, 23, 24)]


def test_rain_counts_outside_only(plan_of) -> None:  # type: ignore[no-untyped-def]
    wet = calendar(rain_expected=(MONDAY,))
    assert first(wet, plan_of)[0] == on(23)
    assert first(wet, plan_of, outside=False)[0] == MONDAY


def test_a_night_without_a_figure_is_not_a_cold_one_and_stays_marked(plan_of) -> None:  # type: ignore[no-untyped-def]
    unknown = calendar(lowest_night_temperature=NightTemperature(by_night=((MONDAY, 8.0),)))
    assert first(unknown, plan_of)[0] == MONDAY
    assert [t for _, t in nights_of(unknown, night_rule(fill(plan_of)), MONDAY)] == [8.0, None, None]


def test_where_every_night_is_too_cold_the_plan_goes_on_and_says_so(plan_of) -> None:  # type: ignore[no-untyped-def]
    always = calendar(lowest_night_temperature=NightTemperature(always=2.0))
    assert first(always, plan_of) == (MONDAY, ())
