"""A pupil's right answers are the figures of the version's own plan, which another part of the program worked out."""

from __future__ import annotations

from typing import Any

import pytest

from packgen.core.figures import whole
from packgen.exercise.model import ClassSet

NAMES = ("01-attic-studio", "02-extension-heated", "05-terrace-with-falls", "07-school-exercise-bay")


@pytest.fixture(scope="module", params=NAMES)
def some(request: pytest.FixtureRequest, class_of: Any) -> ClassSet:
    return class_of(request.param, 2, 2)


def test_levels_legs_and_targets(some: ClassSet) -> None:
    for v in some.versions:
        levels = {p.id: whole(p.level_mm) for p in v.plan.survey.levels.points}
        legs = {leg.node: leg for leg in v.plan.heights.legs}
        for id, value in v.right.items():
            kind, _, name = id.partition("/")
            if kind == "level":
                assert value == levels[name]
            if kind == "leg":
                assert value == legs[name].leg_mm
            if kind == "target":
                node = name or v.case.legs[0].node
                assert value == legs[node].target_mm
            if kind == "rail top" and name:
                assert value == legs[name].rail_top_mm


def test_lines_and_misclosure(some: ClassSet) -> None:
    for v in some.versions:
        book = v.plan.survey.levels
        lines = {f"collimation/{s.name}": s.collimation_mm for s in book.setups}
        corrections = {f"correction/{s.name}": s.correction_mm for s in book.setups}
        for id, value in v.known.items():
            assert value == {**lines, **corrections, "misclosure": book.misclosure_mm}.get(id, value)


def test_fill_is_that_of_the_pours(some: ClassSet) -> None:
    for v in some.versions:
        pours = v.plan.sequence.pours
        for n, part in enumerate(v.case.parts, 1):
            if part.bags:
                assert v.right[f"bags/{n}"] == pours[n - 1].bags
                assert v.right[f"volume/{n}"] == pytest.approx(pours[n - 1].volume_l, rel=0.01)
