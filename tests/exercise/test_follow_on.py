"""A wrong answer carried on rightly costs the marks of that one answer."""

from __future__ import annotations

from typing import Any

import pytest

from packgen.exercise.answers import show_answer
from packgen.exercise.key import key_of
from packgen.exercise.mark import mark
from packgen.exercise.mark_model import AnswerRow, PupilMarks
from packgen.exercise.model import ClassSet, Version


@pytest.fixture(scope="module", params=[2, 3])
def some(request: pytest.FixtureRequest, class_of: Any) -> ClassSet:
    return class_of("07-school-exercise-bay", 6, request.param)


def carried_on(version: Version, wrong_at: str, off: float) -> dict[str, float]:
    """Answers of a pupil who errs once, by `off`, and goes on rightly."""
    known = dict(version.given)
    for blank in version.blanks:
        value = blank.work(known).value
        known[blank.id] = value + off if blank.id == wrong_at else value
    return {b.id: known[b.id] for b in version.blanks}


def marked(some: ClassSet, version: Version, answers: dict[str, float], working: bool | None = None) -> PupilMarks:
    key = key_of(some)
    rows = [
        AnswerRow(version.case.pupil, str(b.number), show_answer(b, answers[b.id]), working)
        for b in version.blanks
        if b.id in answers
    ]
    found = mark(key.cases, key.settings, key.level, rows)
    assert found.unread == ()
    return found.pupils[0]


def test_all_right_earns_all(some: ClassSet) -> None:
    for v in some.versions:
        paper = marked(some, v, dict(v.right))
        assert paper.earned == paper.possible
        assert {a.status for a in paper.answers} == {"right"}


@pytest.mark.parametrize("off", [-13.0, 9.0])
def test_one_wrong_answer_costs_only_itself(some: ClassSet, off: float) -> None:
    version = some.versions[1]
    for blank in version.blanks:
        if blank.writing == "choice" or blank.kind in ("bags", "date"):
            continue
        paper = marked(some, version, carried_on(version, blank.id, off))
        lost = {a.id for a in paper.answers if a.status not in ("right", "follow-on")}
        assert lost <= {blank.id}, blank.id
        here = next(a for a in paper.answers if a.id == blank.id)
        assert paper.possible - paper.earned <= here.possible.whole
        touched = [b.id for b in version.blanks if blank.id in b.needs and b.writing != "choice"]
        for id in touched:
            assert next(a for a in paper.answers if a.id == id).status in ("follow-on", "right")


def test_the_first_answer_wrong_and_the_rest_carried_on_does_not_fail(some: ClassSet) -> None:
    for v in some.versions:
        paper = marked(some, v, carried_on(v, v.blanks[0].id, -7.0))
        assert paper.earned >= paper.possible - paper.answers[0].possible.whole
        assert sum(a.status == "follow-on" for a in paper.answers) >= 3


def test_an_answer_left_empty_is_worked_out_from_what_stands_before_it(some: ClassSet) -> None:
    """The rail top is wrong and the leg's level missing: the leg follows from the wrong rail top."""
    version = some.versions[0]
    answers = carried_on(version, "rail top", 10.0)
    gone = next(b.id for b in version.blanks if b.id.startswith("level/"))
    del answers[gone]
    paper = marked(some, version, answers)
    leg = next(a for a in paper.answers if a.kind == "leg" and f"level/{a.id.split('/')[1]}" == gone)
    assert leg.status == "follow-on"


def test_no_working_shown_earns_no_method(some: ClassSet) -> None:
    version = some.versions[0]
    paper = marked(some, version, dict(version.right), working=False)
    assert all(a.earned.method == 0 for a in paper.answers)
    assert all(a.earned.answer == a.possible.answer for a in paper.answers)
