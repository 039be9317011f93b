"""A room made longer or shorter stays the room it was: turns, closing error, tapes, what stands in it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from packgen.exercise.vary_walls import stretched
from packgen.project.checks import check
from packgen.project.kinds import Spoken
from packgen.project.model import Project
from packgen.survey.reduce import survey_project

NAMES = (
    "01-attic-studio",
    "02-extension-heated",
    "05-terrace-with-falls",
    "07-school-exercise-bay",
    "08-skew-old-house-room",
)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("dx", "dy"), [(0.0, 0.0), (120.0, 0.0), (0.0, -90.0), (-70.0, 110.0)])
def test_stretched(name: str, dx: float, dy: float, read_project_of: Callable[[str], Project]) -> None:
    project = read_project_of(name)
    before = survey_project(project).rooms[0]
    other = stretched(project, before, dx, dy)
    sections = {n: getattr(other, n) for n in Project.model_fields}
    assert check({**sections, "spoken": Spoken(other.datum.name)}) == []
    after = survey_project(other).rooms[0]
    assert [w.turn for w in other.rooms[0].walls] == [w.turn for w in project.rooms[0].walls]
    xs, ys = zip(*before.corners, strict=True)
    new_xs, new_ys = zip(*after.corners, strict=True)
    assert max(new_xs) - min(new_xs) == pytest.approx(max(xs) - min(xs) + dx, abs=1.5)
    assert max(new_ys) - min(new_ys) == pytest.approx(max(ys) - min(ys) + dy, abs=1.5)
    if before.closing_error_mm is not None and after.closing_error_mm is not None:
        assert after.closing_error_mm == pytest.approx(before.closing_error_mm, abs=1.5)
    for old, new in zip(before.tapes, after.tapes, strict=True):
        assert new.residual_mm == pytest.approx(old.residual_mm, abs=2.0)
    assert len(after.doors) == len(before.doors)
    assert [d.line.length_mm for d in after.doors] == pytest.approx([d.line.length_mm for d in before.doors])


def test_nothing_moved_is_the_same_project(bay: Project) -> None:
    assert stretched(bay, survey_project(bay).rooms[0], 0.0, 0.0) == bay
