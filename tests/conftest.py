"""The five demo projects, planned once a session."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from packgen.generate import plan_file
from packgen.plan import Plan

PROJECTS = Path(__file__).parent.parent / "projects"
SCENARIOS = (
    "01-attic-studio",
    "02-extension-heated",
    "05-terrace-with-falls",
    "07-school-exercise-bay",
    "08-skew-old-house-room",
)


@cache
def planned(name: str) -> Plan:
    outcome = plan_file(PROJECTS / f"{name}.yaml")
    assert outcome.plan is not None, outcome.faults
    return outcome.plan


@pytest.fixture(scope="session", params=SCENARIOS)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each of the five projects in turn."""
    return planned(request.param)


@pytest.fixture(scope="session")
def plan_of() -> object:
    """Plans a project of projects/ by its name, once."""
    return planned
