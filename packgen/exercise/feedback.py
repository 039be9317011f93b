"""The words of a feedback slip, and the class table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from packgen.core.figures import listed
from packgen.exercise.mark_model import Marked, PupilMarks, QuestionRow
from packgen.exercise.mistakes import MISTAKES


def _numbers(found: Sequence[Marked]) -> str:
    word = "Question" if len(found) == 1 else "Questions"
    return f"{word} {listed([str(a.number) for a in found], 'and', 30)}"


def says_of(marked: Sequence[Marked]) -> Iterator[str]:
    """The slip: what was right, what followed rightly, one sentence a mistake, what is left. Never a right number."""
    right = [a for a in marked if a.status == "right"]
    follow = [a for a in marked if a.status == "follow-on"]
    if right:
        yield f"{len(right)} of {len(marked)} answers are right."
    if follow:
        yield f"{_numbers(follow)}: carried on rightly from an earlier answer, and counted as right."
    by_code: dict[str, list[Marked]] = {}
    for a in marked:
        if a.status == "mistake":
            by_code.setdefault(a.code, []).append(a)
    for code, found in by_code.items():
        yield f"{_numbers(found)}: {MISTAKES[code].says}"
    other = [a for a in marked if a.status == "other"]
    if other:
        yield f"{_numbers(other)}: go through your working once more with your teacher."
    empty = [a for a in marked if a.status == "blank"]
    if empty:
        yield f"{_numbers(empty)}: nothing is written yet. Begin with what you are given."
    bare = [a for a in marked if a.status in ("right", "follow-on") and a.earned.tidy < a.possible.tidy]
    if bare:
        yield f"{_numbers(bare)}: the figure is there. Say also which side of the datum, or which way, and the unit."


def question_rows(pupils: Sequence[PupilMarks]) -> Iterator[QuestionRow]:
    by_number: dict[int, list[Marked]] = {}
    for paper in pupils:
        for a in paper.answers:
            by_number.setdefault(a.number, []).append(a)
    for n, found in sorted(by_number.items()):
        count = Counter(a.status for a in found)
        codes = Counter(a.code for a in found if a.code)
        yield QuestionRow(
            n,
            found[0].kind,
            count["right"],
            count["follow-on"],
            count["mistake"],
            count["other"],
            count["blank"],
            codes.most_common(1)[0] if codes else ("", 0),
        )
