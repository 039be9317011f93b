"""Files of answers: CSV with comma or semicolon, YAML by pupil; faults with their line."""

from __future__ import annotations

import pytest

from packgen.exercise.handed_in import AnswersFault, decoded, read_answers


def told(text: str, yaml: bool = False) -> list[tuple[int, str, str, bool | None]]:
    return [(r.pupil, r.question, r.answer, r.working) for r in read_answers(text, yaml)]


def test_csv() -> None:
    text = '\ufeffPupil,Question,Answer,Working\n7,12,"103 below",yes\n\n# remark\n7,13,49,no\n'
    assert told(text) == [(7, "12", "103 below", True), (7, "13", "49", False)]
    assert told(text.replace(",", ";")) == told(text)


def test_as_spreadsheets_save_it() -> None:
    text = "pupil\tquestion\tanswer\nPupil 7\t28\t0.384 m³\n"
    want = [(7, "28", "0.384 m³", None)]
    for coding in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        assert told(decoded(text.encode(coding))) == want


@pytest.mark.parametrize("name", ["7", "07", "pupil 7", "Pupil no. 7", "P7", "group 7"])
def test_a_pupil_by_any_usual_name(name: str) -> None:
    assert told(f"pupil,question,answer\n{name},1,5\n") == [(7, "1", "5", None)]


def test_columns_in_any_order_and_others_besides() -> None:
    assert told("answer,asked,pupil,question\n49,leg E3,pupil 2,leg E3\n") == [(2, "leg E3", "49", None)]


def test_yaml() -> None:
    want = [(7, "12", "103 below", None), (7, "13", "49", None), (8, "12", "7:30", None)]
    assert told("7: {12: 103 below, 13: 49}\n8:\n  12: 7:30\n", yaml=True) == want
    assert told("answers:\n  7: {12: 103 below, 13: 49}\n  8: {12: '7:30'}\n", yaml=True) == want
    assert told("7: {12: {answer: 103 below, working: no}}\n", yaml=True) == [(7, "12", "103 below", False)]
    listed = "- {pupil: 7, question: 12, answer: 103 below}\n- {pupil: 7, question: 13, answer: 49, working: yes}\n"
    assert told(listed, yaml=True) == [(7, "12", "103 below", None), (7, "13", "49", True)]


@pytest.mark.parametrize(
    ("text", "yaml", "says"),
    [
        ("", False, "no answers"),
        ("pupil,answer\n1,2\n", False, "line 1: the head row lacks question"),
        ("pupil,question,answer\nseven,1,2\n", False, "line 2: 'seven'"),
        ("7: [1, 2]\n", True, "line 1: pupil 7 has no questions"),
        ("7: {12: 103\n", True, "line"),
        ("x\n", True, "pupils by number"),
    ],
)
def test_faults(text: str, yaml: bool, says: str) -> None:
    with pytest.raises(AnswersFault, match=says):
        read_answers(text, yaml)
