"""No version is kept in which a usual mistake could pass for the right answer or for another mistake (J14)."""

from __future__ import annotations

from itertools import combinations

import pytest

from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet, NotPossible
from packgen.project.model import Project


def with_exercise(bay: Project, **update: object) -> Project:
    assert bay.exercise is not None
    return bay.model_copy(update={"exercise": bay.exercise.model_copy(update=update)})


def test_by_brute_force(bay_set: ClassSet) -> None:
    """Every pair of values at every blank, from the blank's functions and tolerances alone."""
    for v in bay_set.versions:
        for blank in v.blanks:
            tol = blank.tolerance
            ways: list[tuple[str, float, bool]] = [("right", v.right[blank.id], False)]
            for slip in blank.slips:
                way = slip.work(v.known)
                if way is not None:
                    ways.append((slip.code, way.value, slip.near))
            for (a, x, near_a), (b, y, near_b) in combinations(ways, 2):
                if a != b and not near_a and not near_b:
                    width = (abs(x) + abs(y)) * tol.amount if tol.relative else 2 * tol.amount
                    assert abs(x - y) > width, f"pupil {v.case.pupil}: {a} and {b} at {blank.id}"


def test_a_mistake_carried_on_never_ends_in_the_right_answer(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        for blank in v.blanks:
            if blank.writing == "choice" or blank.kind == "drying":
                continue
            for need in blank.needs:
                earlier = next((b for b in v.blanks if b.id == need), None)
                for slip in earlier.slips if earlier else ():
                    way = slip.work(v.known)
                    if way is not None and not slip.near:
                        carried = blank.work({**v.known, need: way.value}).value
                        assert round(carried, blank.digits) != round(v.right[blank.id], blank.digits)


def test_a_tolerance_too_wide_is_refused_in_a_sentence(bay: Project) -> None:
    """It says which two cannot be told apart, in which blank, with which tolerance; and it ends."""
    wide = with_exercise(bay, tolerance=(("bags", "2"),))
    with pytest.raises(NotPossible) as refused:
        choose_versions(wide, 2, 2, tries=8)
    assert "W15" in str(refused.value)
    assert "cannot be told apart in bags with ± 2" in str(refused.value)
    assert "leave out: [" in str(refused.value)


def test_a_mistake_left_out_by_the_file_need_not_be_told_apart(bay: Project) -> None:
    wide = with_exercise(
        bay, tolerance=(("bags", "2"), ("litres to order", "0")), leave_out=("W15", "W16", "W17", "W18")
    )
    made = choose_versions(wide, 1, 2, tries=40)
    assert ("bags", "W15", "left out by the file") in made.left_out


def test_without_the_condition_what_cannot_be_told_apart_is_left_out_and_said(bay: Project) -> None:
    loose = with_exercise(bay, keep=(), tolerance=(("mean depth", "8"),))
    made = choose_versions(loose, 1, 2, tries=40)
    assert any(kind == "mean depth" and code == "W12" and why for kind, code, why in made.left_out)
