"""Entries under `lifted`: a paper lifts its stop and lapses; a stop by numbers is lifted by nothing."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from packgen.core.finding import Finding
from packgen.plan import Plan
from packgen.project.read import read_project
from packgen.review.codes import CODES
from packgen.review.judge import judge

CASES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "cases.toml").read_text(encoding="utf-8"))["case"]
PAPER = [c for c in CASES if "lift" in c]
NUMBERS = [
    c for c in CASES if c.get("kind", "stop") == "stop" and CODES[c["code"]].lift == "numbers" and "lift" not in c
]
PROJECTS = Path(__file__).parent.parent.parent / "projects"


def entry(case: dict[str, Any], keys: dict[str, str], date: str) -> str:
    told = {"stop": case["code"], "by": "the site manager", "date": keys.get("date", date), "paper": "paper 7"}
    told |= {k: v for k, v in keys.items() if k in ("where", "for")}
    return "\nlifted:\n  - {" + ", ".join(f"{k}: {v}" for k, v in told.items()) + "}\n"


def judged(plan_with: Callable[..., Plan], case: dict[str, Any], keys: dict[str, str]) -> list[Finding]:
    """The findings of the case with one entry added to its file. No stage but the review reads the entry."""
    before = plan_with(case["file"], case["change"])
    text = next(PROJECTS.glob(f"{case['file']}-*.yaml")).read_text(encoding="utf-8")
    for was, typed in case["change"]:
        text = text.replace(was, typed)
    read = read_project((text + entry(case, keys, before.project.project.date.isoformat())).encode(), "case.yaml")
    assert read.project is not None, [f.says for f in read.faults]
    return list(judge(read.project, before.survey, before.layout, before.heights, before.quantities, before.sequence))


def stops(case: dict[str, Any], findings: list[Finding]) -> list[Finding]:
    where = case.get("where")
    return [f for f in findings if f.code == case["code"] and f.kind == "stop" and where in (None, f.where)]


@pytest.mark.parametrize("case", PAPER, ids=[c["code"] for c in PAPER])
def test_a_paper_lifts_its_stop(case: dict[str, Any], plan_with: Callable[..., Plan]) -> None:
    (stop,) = stops(case, judged(plan_with, case, case["lift"]))
    assert stop.lifted_by is not None
    assert (stop.lifted_by.by, stop.lifted_by.paper) == ("the site manager", "paper 7")
    assert not stop.open_stop


@pytest.mark.parametrize("case", PAPER, ids=[c["code"] for c in PAPER])
def test_a_paper_lapses(case: dict[str, Any], plan_with: Callable[..., Plan]) -> None:
    (stop,) = stops(case, judged(plan_with, case, case["lapses"]))
    assert stop.open_stop
    assert "It was lifted by the site manager on " in stop.says
    assert case["lapses"]["says"] in stop.says


@pytest.mark.parametrize("case", NUMBERS, ids=[c["code"] for c in NUMBERS])
def test_no_paper_lifts_a_stop_by_numbers(case: dict[str, Any], plan_with: Callable[..., Plan]) -> None:
    findings = judged(plan_with, case, {"where": case["where"]} if "where" in case else {})
    assert all(f.open_stop for f in stops(case, findings))
    (refused,) = [f for f in findings if f.code == "not-by-paper"]
    assert "only when the numbers change" in refused.says
    assert refused.place is not None


def test_an_entry_without_its_number_lifts_nothing(plan_with: Callable[..., Plan]) -> None:
    case = next(c for c in PAPER if c["code"] == "pressure-test-open")
    (stop,) = stops(case, judged(plan_with, case, {"where": "circuit 1"}))
    assert stop.open_stop
    assert "does not say for which number" in stop.says


def test_an_entry_must_say_which_of_two_places(plan_with: Callable[..., Plan]) -> None:
    case = next(c for c in PAPER if c["code"] == "pressure-test-open")
    findings = judged(plan_with, case, {"for": "5 bar"})
    assert all(f.open_stop for f in findings if f.code == "pressure-test-open")
    (asked,) = [f for f in findings if f.code == "lift-fits-nothing"]
    assert "circuit 1 and circuit 2: say where" in asked.says


@pytest.mark.parametrize(
    ("code", "where", "says"),
    [
        ("presure-test-open", "circuit 1", "did you mean pressure-test-open?"),
        ("pressure-test-open", "circut 1", "did you mean circuit 1?"),
        ("no-membrane", "base", "no such stop stands in this plan"),
    ],
)
def test_an_entry_that_fits_nothing_is_told(code: str, where: str, says: str, plan_with: Callable[..., Plan]) -> None:
    case = {"file": "02", "change": [], "code": code}
    (told,) = [f for f in judged(plan_with, case, {"where": where, "for": "5 bar"}) if f.code == "lift-fits-nothing"]
    assert says in told.says
    assert told.kind == "caution"
