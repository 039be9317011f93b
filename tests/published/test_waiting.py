"""Published days of heating, drying and traffic."""

from __future__ import annotations

import pytest

from packgen.plan import Plan, make_plan
from packgen.project.model import Project
from packgen.trade.waiting import drying_days, drying_rule, night_least, waiting_rule


def with_kind(plan: Plan, kind: str) -> Project:
    """The heated extension with another kind of screed and no waiting times of its own."""
    project = plan.project
    fill = project.fills.used.model_copy(update={"kind": kind, "keep_covered": None, "walk_on_after": None})
    fills = project.fills.model_copy(update={"described": ((project.fills.use, fill),)})
    return project.model_copy(update={"fills": fills, "heating": None})


@pytest.mark.parametrize(
    ("kind", "first", "second", "over"), [("sand-cement screed", 21, 24, 28), ("calcium sulfate screed", 7, 10, 14)]
)
def test_first_heating(plan_of, kind: str, first: int, second: int, over: int) -> None:  # type: ignore[no-untyped-def]
    """EN 1264-4 as quoted by haustechnikdialog.de 2704 and 846: not before 21 days (cement) or 7 (calcium sulfate), 3
    days at 25 °C, 4 at full flow. That it is over after 28 and 14 days agrees with bautrocknung-matter.de."""
    plan = make_plan(with_kind(plan_of("02-extension-heated"), kind))
    last = plan.sequence.pours[-1].date
    days = {key: (date - last).days for key, date in plan.sequence.dates.items()}
    assert days["heat_up_not_before"] == first
    assert days["second_stage"] == second
    assert days["heating_done"] == over


@pytest.mark.parametrize(
    ("family", "depth_mm", "days"),
    [
        ("sand-cement", 65, 80),
        ("sand-cement", 75, 100),
        ("calcium sulfate", 75, 110),
        ("calcium sulfate", 50, 60),
        ("calcium sulfate", 40, 40),
    ],
)
def test_drying(family: str, depth_mm: float, days: int) -> None:
    """75 cement 75 to 100 days, 75 flowing 75 to 110 (allaboutscreeds.com); 50 flowing about 60 (force-dry.co.uk)."""
    rule = drying_rule(family)
    assert rule is not None
    assert drying_days(depth_mm, rule.first_mm, rule.first_rate, rule.rest_rate) == days


def test_traffic_and_cover() -> None:
    """betontechnische-daten.de 15.5; polythene 7 days or more (Tomorrow's Flooring, March 2015): the later counts."""
    assert waiting_rule("sand-cement", "walk_on").days == 3
    assert waiting_rule("sand-cement", "load").days == 7
    assert waiting_rule("sand-cement", "covered").days == 7
    assert waiting_rule("calcium sulfate", "walk_on").days == 3
    assert waiting_rule("calcium sulfate", "load").days == 5
    assert waiting_rule("calcium sulfate", "covered").days == 2
    assert (night_least("sand-cement").nights, night_least("sand-cement").celsius) == (3, 5)
