"""What every set must be: versions valid, buildable, equally hard, unlike one another, kept as the file asks."""

from __future__ import annotations

from itertools import combinations

from packgen.exercise.model import ClassSet
from packgen.project.checks import check
from packgen.project.kinds import Spoken
from packgen.project.model import Project


def test_each_is_a_valid_project_that_can_be_built(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        sections = {n: getattr(v.project, n) for n in Project.model_fields}
        assert check({**sections, "spoken": Spoken(v.project.datum.name)}) == []
        assert v.project.exercise is None
        assert not v.plan.heights.window.empty, "the planted hold has a cure: another finished level"
        assert v.plan.survey.levels.misclosure_mm is not None
        assert 0 < abs(v.plan.survey.levels.misclosure_mm) <= v.project.levels.largest_misclosure


def test_each_keeps_one_leg_below_the_shortest_and_two_extended(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        legs = v.plan.heights.legs
        shortest = v.project.kit.shortest_leg.shortest
        assert [leg.leg_mm < shortest for leg in legs if not leg.fits] == [True]
        assert sum(leg.extensions > 0 for leg in legs) == 2
        asked = {leg.node for leg in v.case.legs}
        assert {leg.node for leg in legs if not leg.fits or leg.extensions} <= asked


def test_they_are_equally_hard(bay_set: ClassSet) -> None:
    for what in ("setups", "zones", "nodes", "parts", "extended", "misfits", "holds", "blanks"):
        assert len({getattr(v.difficulty, what) for v in bay_set.versions}) == 1, what
    digits = [v.difficulty.digits for v in bay_set.versions]
    assert max(digits) <= 1.1 * min(digits)


def test_no_two_share_more_than_an_eighth_of_their_answers(bay_set: ClassSet) -> None:
    for a, b in combinations(bay_set.versions, 2):
        figures = [x.id for x in a.blanks if x.writing != "choice"]
        alike = [id for id in figures if id in b.right and a.right[id] == b.right[id]]
        assert len(alike) <= len(figures) / 8, alike
        assert a.project != b.project
        assert a.case.backsight_mm != b.case.backsight_mm or a.right["target"] != b.right["target"]


def test_only_what_the_file_names_is_varied(bay_set: ClassSet) -> None:
    base = bay_set.base
    for v in bay_set.versions:
        for section in ("project", "datum", "base", "kit", "crew", "plant", "rates", "calendar", "prices", "limits"):
            assert getattr(v.project, section) == getattr(base, section), section
        assert v.project.fills.use == base.fills.use
        walls, before = v.project.rooms[0].walls, base.rooms[0].walls
        assert all(abs(w.length - b.length) <= 300 and w.length % 10 == 0 for w, b in zip(walls, before, strict=True))
        assert 6 <= v.project.finishes[0].layers[0].thickness <= 25
        assert v.project.finishes[0].layers[1:] == base.finishes[0].layers[1:]
