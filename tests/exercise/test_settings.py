"""Words of the section `exercise`: understood, or named with what was meant."""

from __future__ import annotations

import pytest

from packgen.exercise.model import NotPossible
from packgen.exercise.settings import bounds_assumed, bounds_stated, settings_of
from packgen.project.model import Project


def with_exercise(bay: Project, **update: object) -> Project:
    assert bay.exercise is not None
    return bay.model_copy(update={"exercise": bay.exercise.model_copy(update=update)})


def test_the_bay(bay: Project) -> None:
    s = settings_of(bay)
    assert (s.cls, s.seed, s.group_size, s.marks) == ("FL2", 2027, 3, (0.6, 0.3, 0.1))
    assert (s.kept.below, s.kept.extended, s.kept.apart) == (1, 2, True)
    assert (s.tolerances["leg"].amount, s.tolerances["volume"].amount, s.tolerances["volume"].relative) == (
        1,
        0.02,
        True,
    )
    assert s.asks("parts")
    assert not s.asks("rail length")


def test_bounds_of_the_file_go_before_the_trades(bay: Project) -> None:
    own = with_exercise(bay, bounds=(("wall lengths", "100"), ("covering thickness", "8 to 12"), ("misclosure", "2")))
    s = settings_of(own)
    assert (s.bounds["wall_lengths"], s.bounds["misclosure_most"]) == (100, 2)
    assert (s.bounds["covering_least"], s.bounds["covering_most"]) == (8, 12)
    told = {a.overrule for a in bounds_assumed(own)}
    assert "exercise: bounds: wall lengths" not in told
    assert "exercise: bounds: staff readings" in told
    stated = {r.name: r.value for r in bounds_stated(own)}
    assert stated == {
        "wall_lengths": 100,
        "covering_least": 8,
        "covering_most": 12,
        "misclosure_least": 1,
        "misclosure_most": 2,
    }


def test_a_bound_under_another_name_is_stated_too(bay: Project) -> None:
    own = with_exercise(bay, bounds=(("sizes", "50"), ("base", "5")))
    assert {r.name: r.value for r in bounds_stated(own)} == {"wall_lengths": 50, "base_level": 5}
    assert {a.overrule for a in bounds_assumed(own)}.isdisjoint(
        {"exercise: bounds: wall lengths", "exercise: bounds: level of the base"}
    )


@pytest.mark.parametrize(
    ("update", "says"),
    [
        ({"vary": ("wall lenghts",)}, "wall lengths"),
        ({"blanks": ("mean dept",)}, "mean depth"),
        ({"keep": ("three blind mice",)}, "not a condition of 'keep'"),
        ({"tolerance": (("leg", "a bit"),)}, "tolerance of leg"),
        ({"tolerance": (("lge", "1"),)}, "leg"),
        ({"bounds": (("covering thickness", "6"),)}, "a range"),
        ({"bounds": (("covering thickness", "25 to 6"),)}, "a range"),
        ({"bounds": (("wall step", "0"),)}, "a step of 0"),
        ({"bounds": (("heights", "6"),)}, "'heights'"),
        ({"leave_out": ("W99",)}, "W99"),
    ],
)
def test_what_is_not_understood_is_named(bay: Project, update: dict[str, object], says: str) -> None:
    with pytest.raises(NotPossible, match=says):
        settings_of(with_exercise(bay, **update))


def test_without_the_section_the_trades_habits_count(bay: Project) -> None:
    s = settings_of(bay.model_copy(update={"exercise": None}))
    assert s.kinds is None
    assert s.kept.apart is False
    assert sum(s.marks) == pytest.approx(1)
