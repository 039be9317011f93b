"""What marking gives: every blank judged, a paper a pupil, a row a question, the class."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.exercise.marks import Marks

Status = Literal["right", "follow-on", "mistake", "other", "blank"]


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """One answer as it was handed in. question: its number or its id. working, tidy: None where nobody said."""

    pupil: int
    question: str
    answer: str
    working: bool | None = None
    tidy: bool | None = None
    line: int = 0


@dataclass(frozen=True, slots=True)
class Marked:
    """One blank marked. value: what was read; right: the right answer; follow: what follows from the pupil's earlier
    answers; code: the mistake recognised, "" for none; carried: it was made at an earlier blank that was left empty."""

    number: int
    id: str
    kind: str
    goal: str
    status: Status
    text: str
    value: float | None
    right: float
    follow: float
    code: str
    carried: bool
    earned: Marks
    possible: Marks


@dataclass(frozen=True, slots=True)
class PupilMarks:
    """One pupil's paper, with the sentences of the feedback slip."""

    pupil: int
    answers: tuple[Marked, ...]
    says: tuple[str, ...]

    @property
    def earned(self) -> int:
        return sum(a.earned.whole for a in self.answers)

    @property
    def possible(self) -> int:
        return sum(a.possible.whole for a in self.answers)


@dataclass(frozen=True, slots=True)
class QuestionRow:
    """How a class answered one question; commonest: the code met most and how often, ("", 0) for none."""

    number: int
    kind: str
    right: int
    follow: int
    mistake: int
    other: int
    blank: int
    commonest: tuple[str, int]

    @property
    def wrong(self) -> int:
        return self.mistake + self.other + self.blank


@dataclass(frozen=True)
class Marking:
    """A class marked. unread: rows that name no pupil or question of the set, one sentence each."""

    pupils: tuple[PupilMarks, ...]
    questions: tuple[QuestionRow, ...]
    unread: tuple[str, ...]
    working_said: bool

    @property
    def hardest(self) -> tuple[QuestionRow, ...]:
        """Questions by how often they went wrong, the worst first; none that never did."""
        return tuple(sorted((q for q in self.questions if q.wrong), key=lambda q: (-q.wrong, q.number)))
