"""Versions stay within the bounds that the file states, all of them narrower than the trade's habits."""

from __future__ import annotations

from statistics import median

import pytest

from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet
from packgen.exercise.vary_levels import levels_of
from packgen.project.model import Project

BOUNDS = {
    "sizes": "80",
    "wall step": "20",
    "staff readings": "40",
    "level of the base": "6",
    "bumps": "4",
    "misclosure": "2",
    "covering thickness": "10 to 12",
    "thresholds": "5",
    "backsight of the day": "1300 to 1330",
    "start date": "2 weeks",
}
VARY = ("sizes", "base levels", "misclosure", "covering", "thresholds", "fill", "bag size", "start date")


@pytest.fixture(scope="module")
def narrow(bay: Project) -> ClassSet:
    assert bay.exercise is not None
    asked = bay.exercise.model_copy(update={"vary": VARY, "keep": (), "bounds": tuple(BOUNDS.items())})
    return choose_versions(bay.model_copy(update={"exercise": asked}), 5, 1)


def test_sizes(narrow: ClassSet) -> None:
    base = narrow.base.rooms[0].walls
    changes = [
        w.length - b.length for v in narrow.versions for w, b in zip(v.project.rooms[0].walls, base, strict=True)
    ]
    assert all(abs(c) <= 80 and c % 20 == 0 for c in changes)
    assert any(changes)


def test_base(narrow: ClassSet) -> None:
    """Against the rails the whole base moves by 6 at most; single spots stay within 4 of that, 1 for rounding."""
    before = levels_of(narrow.base)
    for v in narrow.versions:
        old, new = narrow.base.finishes[0], v.project.finishes[0]
        up = sum(x.thickness for x in old.layers) - sum(x.thickness for x in new.layers)
        assert old.finished_level.level is not None
        assert new.finished_level.level is not None
        up += new.finished_level.level - old.finished_level.level
        moved = [mm - before[spot] - up for spot, mm in levels_of(v.project).items()]
        assert abs(median(moved)) <= 6 + 4
        assert max(moved) - min(moved) <= 2 * (4 + 1)


def test_readings_are_moved_by_the_laser_within_its_bound(narrow: ClassSet) -> None:
    for v in narrow.versions:
        pairs = zip(v.project.levels.setups, narrow.base.levels.setups, strict=True)
        assert all(abs(s.start_on.reading - b.start_on.reading) <= 40 for s, b in pairs)


def test_the_rest(narrow: ClassSet) -> None:
    start = narrow.base.calendar.start
    for v in narrow.versions:
        assert abs(v.plan.survey.levels.misclosure_mm or 9) <= 2
        assert 10 <= v.project.finishes[0].layers[0].thickness <= 12
        assert abs((v.project.finishes[0].finished_level.level or 99) + 20) <= 5
        assert 1300 <= v.case.backsight_mm <= 1330
        assert 0 <= (v.project.calendar.start - start).days <= 14
        assert v.project.fills.use in ("granulate", "sand cement")
