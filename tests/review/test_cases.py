"""One change of a demo project for each code: it brings that finding and no other; at the limit nothing is found."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from packgen.core.figures import half_up
from packgen.core.finding import Finding
from packgen.core.worked import By
from packgen.explain.lines import Lines
from packgen.plan import Plan

CASES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "cases.toml").read_text(encoding="utf-8"))["case"]
IDS = [f"{c['code']}-{n}" for n, c in enumerate(CASES)]
Review = Callable[..., tuple[Finding, ...]]


def of_case(case: dict[str, Any], findings: tuple[Finding, ...]) -> list[Finding]:
    kind, where = case.get("kind", "stop"), case.get("where")
    return [f for f in findings if f.code == case["code"] and f.kind == kind and where in (None, f.where)]


def places(findings: tuple[Finding, ...]) -> Counter[tuple[str, str, str]]:
    return Counter((f.kind, f.code, f.where) for f in findings)


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_the_change_brings_this_finding_and_no_other(case: dict[str, Any], findings_with: Review) -> None:
    before, after = findings_with(case["file"]), findings_with(case["file"], case["change"])
    hits = of_case(case, after)
    assert hits, [(f.kind, f.code, f.where) for f in after]
    if "number" in case:
        assert any(f.number == pytest.approx(case["number"], abs=0.051) for f in hits), [f.number for f in hits]
    if "limit" in case:
        assert any(f.limit == pytest.approx(case["limit"], abs=0.051) for f in hits), [f.limit for f in hits]
    new = {code for _, code, _ in places(after) - places(before)}
    unchanged = not case["change"] or case.get("standing")
    if not unchanged:
        assert case["code"] in new
    assert new - {case["code"]} <= {*case.get("also", ()), *(("start-before-plan",) if unchanged else ())}


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_its_figures_can_be_explained(case: dict[str, Any], plan_with: Callable[..., Plan]) -> None:
    """Number and limit say where they come from; where that is a line, the line gives the figure."""
    plan = plan_with(case["file"], case["change"])
    lines = Lines(plan)
    for f in of_case(case, plan.findings):
        for value, figure in ((f.number, f.number_from), (f.limit, f.limit_from)):
            assert (value is None) == (figure is None)
            line = lines.find(figure.key) if isinstance(figure, By) else None
            if isinstance(figure, By):
                assert line is not None, figure.key
                assert half_up(abs(value or 0.0), line.digits) == half_up(line.value, line.digits)
        assert all(lines.find(key) for key in f.more)


@pytest.mark.parametrize("case", [c for c in CASES if "passes" in c])
def test_the_nearest_value_that_keeps_the_limit_passes(case: dict[str, Any], findings_with: Review) -> None:
    assert of_case(case, findings_with(case["file"], case["passes"])) == []
