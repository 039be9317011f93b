"""Dates after the pours of the demo projects and of projects changed a little."""

from __future__ import annotations

import datetime

import pytest

from packgen.core.place import NOWHERE
from packgen.plan import Plan, make_plan
from packgen.project.model import Project


def days_after_last_pour(plan: Plan) -> dict[str, int]:
    last = plan.sequence.pours[-1].date
    return {key: (date - last).days for key, date in plan.sequence.dates.items()}


def with_fill(project: Project, **change: object) -> Project:
    used = project.fills.used.model_copy(update=change)
    described = tuple((n, used if n == project.fills.use else f) for n, f in project.fills.described)
    return project.model_copy(update={"fills": project.fills.model_copy(update={"described": described})})


def test_every_row_is_its_day_plus_its_days(plan: Plan) -> None:
    for row in plan.sequence.waiting:
        assert row.date == row.counted_from + datetime.timedelta(days=row.days)
        assert row.source
        assert row.rule


def test_dry_fill_waits_for_nothing(plan_of) -> None:  # type: ignore[no-untyped-def]
    for name in ("01-attic-studio", "07-school-exercise-bay"):
        assert plan_of(name).sequence.waiting == ()
        assert plan_of(name).sequence.boards_same_day


def test_heated_extension(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Worked by hand: 21 days, 3 at 25, 4 at full, 2 to cool; 7 covered + 40 / 1 + 34 / 0.5 of drying."""
    assert days_after_last_pour(plan_of("02-extension-heated")) == {
        "walk_on": 3,
        "covered_until": 7,
        "load": 7,
        "heat_up_not_before": 21,
        "second_stage": 24,
        "heating_done": 28,
        "cooled_down": 30,
        "test_not_before": 115,
    }


def test_a_floor_is_not_tested_before_it_has_cooled_down(plan_of) -> None:  # type: ignore[no-untyped-def]
    project = plan_of("02-extension-heated").project
    drying = project.fills.used.drying.model_copy(update={"first_rate": 10.0, "rest_rate": 10.0})
    plan = make_plan(with_fill(project, drying=drying))
    assert days_after_last_pour(plan)["test_not_before"] == days_after_last_pour(plan)["cooled_down"] == 30


def test_each_pour_has_its_own_test_date_and_the_floor_waits_for_the_last(plan_of) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("08-skew-old-house-room")
    tests = {r.pour: r for r in plan.sequence.waiting if r.key == "test_not_before"}
    assert set(tests) == {0, *(p.number for p in plan.sequence.pours)}
    assert tests[0].date == max(t.date for t in tests.values())
    for pour in plan.sequence.pours:
        assert tests[pour.number].counted_from == pour.date


def test_days_of_the_file_go_before_published_ones_and_these_are_named(plan_of) -> None:  # type: ignore[no-untyped-def]
    project = plan_of("02-extension-heated").project
    assert not any(a.overrule == "fills: walk on after" for a in make_plan(project).sequence.assumed)
    plan = make_plan(with_fill(project, walk_on_after=None, keep_covered=None, drying=None, marks=NOWHERE))
    assumed = {a.overrule for a in plan.sequence.assumed}
    assert {"fills: walk on after", "fills: keep covered", "fills: drying"} <= assumed
    assert days_after_last_pour(plan)["test_not_before"] == 7 + 50 + (74 - 50) * 2


@pytest.mark.parametrize("name", ["05-terrace-with-falls"])
def test_no_test_outside_where_nothing_dries(plan_of, name: str) -> None:  # type: ignore[no-untyped-def]
    assert "test_not_before" not in plan_of(name).sequence.dates
