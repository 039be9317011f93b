"""The school bay read once, and class sets of it made once a session."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet
from packgen.project.model import Project
from packgen.project.read import read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"
BAY = "07-school-exercise-bay"


@cache
def read(name: str) -> Project:
    """A demo project by its name."""
    found = read_project((PROJECTS / f"{name}.yaml").read_bytes(), f"{name}.yaml")
    assert found.project is not None, found.faults
    return found.project


@cache
def made(name: str, pupils: int, level: int) -> ClassSet:
    """A class set of a demo project."""
    return choose_versions(read(name), pupils, level)


@pytest.fixture(scope="session")
def bay() -> Project:
    return read(BAY)


@pytest.fixture(scope="session")
def read_project_of() -> object:
    """Reads a demo project by its name."""
    return read


@pytest.fixture(scope="session")
def class_of() -> object:
    """Makes a set by name, pupils and level, each once."""
    return made


@pytest.fixture(scope="session", params=[1, 2, 3])
def bay_set(request: pytest.FixtureRequest) -> ClassSet:
    """Six pupils of the school bay at each level of difficulty."""
    return made(BAY, 6, request.param)
