"""A planted file of answers: every planted mistake is found by its code, with the sentence that helps."""

from __future__ import annotations

from typing import Any

from packgen.exercise.answers import show_answer
from packgen.exercise.handed_in import read_answers
from packgen.exercise.key import key_of
from packgen.exercise.mark import mark
from packgen.exercise.mark_model import AnswerRow
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import ClassSet


def test_each_mistake_at_each_blank_is_recognised(bay_set: ClassSet) -> None:
    """One pupil after the other makes one mistake and answers all else rightly."""
    key = key_of(bay_set)
    found: set[str] = set()
    version = bay_set.versions[0]
    for blank in version.blanks:
        for slip in blank.slips:
            way = slip.work(version.known)
            if way is None:
                continue
            right = abs(way.value - version.right[blank.id]) <= blank.tolerance.mm(version.right[blank.id]) + 0.05
            rows = [
                AnswerRow(1, b.id, show_answer(b, way.value if b is blank else version.right[b.id]))
                for b in version.blanks
                if b is blank or blank.id not in b.needs
            ]
            paper = mark(key.cases, key.settings, key.level, rows).pupils[0]
            here = next(a for a in paper.answers if a.id == blank.id)
            if slip.near and right:
                assert here.status == "right"
                continue
            assert (here.status, here.code) == ("mistake", slip.code), blank.id
            assert any(MISTAKES[slip.code].says in line for line in paper.says)
            assert here.earned.answer == 0
            found.add(slip.code)
    assert {"W1", "W2", "W5", "W6", "W7", "W8", "W9", "W10", "W11", "W14", "W15", "W16", "W17", "W18"} <= found


def test_a_class_table_from_a_typed_file(class_of: Any) -> None:
    """Three pupils forget the board and go on rightly; a fourth hands in two answers; a fifth does not exist."""
    made = class_of("07-school-exercise-bay", 6, 2)
    key = key_of(made)
    lines = ["pupil;question;answer;working"]
    for v in made.versions[:3]:
        known = dict(v.given)
        for b in v.blanks:
            value = b.work(known).value
            if b.id == "rail top":
                slip = next(s for s in b.slips if s.code == "W6")
                way = slip.work(known)
                assert way is not None
                value = way.value
            known[b.id] = value
            lines.append(f"{v.case.pupil};{b.number};{show_answer(b, value)};yes")
    fourth = made.versions[3]
    lines += [
        f"4;1;{show_answer(fourth.blanks[0], fourth.right[fourth.blanks[0].id])};yes",
        "4;2;nonsense;no",
        "9;1;5;",
    ]
    marking = mark(key.cases, key.settings, key.level, read_answers("\n".join(lines), yaml=False))
    assert [p.pupil for p in marking.pupils] == [1, 2, 3, 4]
    for paper in marking.pupils[:3]:
        wrong = [a for a in paper.answers if a.status not in ("right", "follow-on")]
        assert [(a.id, a.code) for a in wrong] == [("rail top", "W6")]
        assert all(
            next(x for x in paper.answers if x.id == id).status == "follow-on" for id in ("target", "mean depth/1")
        )
    row = next(q for q in marking.questions if q.kind == "rail top")
    assert (row.mistake, row.commonest) == (3, ("W6", 3))
    assert marking.hardest[0].number == row.number
    statuses = {a.number: a.status for a in marking.pupils[3].answers}
    assert (statuses[1], statuses[2], statuses[3]) == ("right", "other", "blank")
    assert len(marking.unread) == 1
    assert "no pupil 9" in marking.unread[0]
