"""Demo projects settled once, and small changes to them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from packgen.heights.model import Heights
from packgen.heights.settle import find_heights
from packgen.layout.arrange import arrange
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.read import read_project
from packgen.survey.model import Survey
from packgen.survey.reduce import survey_project

PROJECTS = Path(__file__).parents[2] / "projects"
DEMOS = (
    "01-attic-studio",
    "02-extension-heated",
    "05-terrace-with-falls",
    "07-school-exercise-bay",
    "08-skew-old-house-room",
)


@dataclass(frozen=True)
class Settled:
    project: Project
    survey: Survey
    layout: Layout
    heights: Heights


@cache
def text_of(name: str) -> str:
    return (PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")


def settle_project(project: Project) -> Settled:
    survey = survey_project(project)
    layout = arrange(project, survey)
    return Settled(project, survey, layout, find_heights(project, survey, layout))


@cache
def settle_text(text: str) -> Settled:
    read = read_project(text.encode(), "test.yaml")
    assert read.project is not None, [f.says for f in read.faults]
    return settle_project(read.project)


@pytest.fixture(scope="session")
def settle() -> Callable[..., Settled]:
    """settle(name, (old, new), ...): the demo project with pieces of its text replaced, settled."""

    def make(name: str, *changes: tuple[str, str]) -> Settled:
        text = text_of(name)
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        return settle_text(text)

    return make


@pytest.fixture(scope="session")
def resettle() -> Callable[[Project], Settled]:
    """Settles a project record."""
    return settle_project


@pytest.fixture(scope="session", params=DEMOS)
def demo(request: pytest.FixtureRequest) -> Settled:
    """Each of the five demo projects in turn, settled."""
    return settle_text(text_of(request.param))
