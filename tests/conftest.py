"""The five demo projects, planned once a session."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

from packgen.generate import plan_file
from packgen.plan import Plan

# The same rooms in every run: what is green stays green until somebody changes the code.
settings.register_profile("fixed", derandomize=True, deadline=None)
settings.load_profile("fixed")

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
