"""A demo project changed by a few words, planned once, and its findings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

import pytest

from packgen.core.finding import Finding
from packgen.plan import Plan, make_plan
from packgen.project.read import read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"
Changes = Sequence[Sequence[str]]


def changed(number: str, changes: Changes = ()) -> str:
    """The text of a demo project, each change made exactly once."""
    text = next(PROJECTS.glob(f"{number}-*.yaml")).read_text(encoding="utf-8")
    for was, typed in changes:
        assert text.count(was) == 1, f"{was!r} stands {text.count(was)} times in {number}"
        text = text.replace(was, typed)
    return text


@cache
def planned(text: str) -> Plan:
    read = read_project(text.encode(), "case.yaml")
    assert read.project is not None, [f"{f.place}: {f.says}" for f in read.faults]
    return make_plan(read.project)


@pytest.fixture(scope="session")
def plan_with() -> Callable[..., Plan]:
    """plan_with("07", [["was", "typed"], ...])"""
    return lambda number, changes=(): planned(changed(number, changes))


@pytest.fixture(scope="session")
def findings_with(plan_with: Callable[..., Plan]) -> Callable[..., tuple[Finding, ...]]:
    return lambda number, changes=(): plan_with(number, changes).findings
