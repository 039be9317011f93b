"""All sheets of one pupil, in order. No right answer is worked out on the way here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.booklet.classroom import answer_sheets, task
from packgen.booklet.classroom.common_sheets import bay_sheet, exchange_sheet, room_sheet, rules_sheet
from packgen.booklet.sheet import Sheet
from packgen.exercise.model import Blank, Case
from packgen.exercise.settings import Settings
from packgen.plan import Plan


def pupil_sheets(
    plan: Plan,
    case: Case,
    blanks: Sequence[Blank],
    given: Mapping[str, float],
    marks: Mapping[str, int],
    settings: Settings,
    level: int,
) -> tuple[Sheet, ...]:
    """Task, readings, answer sheets, rules, the real bay, the check of another's paper; an even number, so that the
    next pupil starts on a right-hand page."""
    tasks = frozenset(answer_sheets.task_of(b) for b in blanks)
    made = [
        *task.sheets(plan, case, settings, level, given, tasks),
        *answer_sheets.sheets(case, blanks, marks, given, level),
        rules_sheet(case, blanks, level),
    ]
    if case.legs and answer_sheets.HEIGHTS in tasks:
        made.append(bay_sheet(case))
    made.append(exchange_sheet(blanks))
    if len(made) % 2:
        made.insert(len(made) - 1, room_sheet())
    return tuple(made)
