"""Plans of rooms that the demo projects lack: a corner with a column, two zones with other tops."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from packgen.generate import plan_file
from packgen.plan import Plan

HERE = Path(__file__).parent
PROJECTS = HERE.parent.parent / "projects"
FILES = (*sorted(PROJECTS.glob("0*.yaml")), *sorted((HERE / "rooms").glob("*.yaml")))


@cache
def planned(file: Path) -> Plan:
    outcome = plan_file(file)
    assert outcome.plan is not None, outcome.faults
    return outcome.plan


@pytest.fixture(scope="session", params=FILES, ids=lambda f: f.stem)
def any_plan(request: pytest.FixtureRequest) -> Plan:
    """Each demo project, then a corner room with a column, then a room of two zones with today's backsight."""
    return planned(request.param)


@pytest.fixture(scope="session")
def plan_named() -> object:
    """Plans one of the files by the start of its name."""

    def find(start: str) -> Plan:
        return planned(next(f for f in FILES if f.stem.startswith(start)))

    return find
