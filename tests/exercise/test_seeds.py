"""Nothing but the seed decides: a set is made again alike, and its seeds are words that can be noted down."""

from __future__ import annotations

from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet
from packgen.exercise.vary import chance_of
from packgen.project.model import Project


def test_a_set_is_made_again_alike(bay_set: ClassSet) -> None:
    again = choose_versions(bay_set.base, 2, bay_set.level)
    assert [v.case for v in again.versions] == [v.case for v in bay_set.versions[:2]]
    assert [v.project for v in again.versions] == [v.project for v in bay_set.versions[:2]]


def test_another_seed_gives_other_numbers(bay: Project) -> None:
    assert bay.exercise is not None
    other = bay.model_copy(update={"exercise": bay.exercise.model_copy(update={"seed": 2028})})
    one, two = choose_versions(bay, 1, 2).versions[0], choose_versions(other, 1, 2).versions[0]
    assert one.right != two.right
    assert one.case.seed.startswith("2027/FL2/1/")


def test_chance_comes_from_the_words_alone() -> None:
    """Figures noted once: they may not change from machine to machine, nor with the hash seed of the run."""
    chance = chance_of("2027/FL2/1/1")
    assert [chance.randint(0, 999) for _ in range(5)] == [672, 347, 399, 156, 686]
