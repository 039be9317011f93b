"""The teacher's book, in order: overview, versions, lesson, answers at a glance, a sheet a pupil, mistakes, marks."""

from __future__ import annotations

from packgen.booklet.classroom.teacher_answers import glance_sheets, pupil_sheet
from packgen.booklet.classroom.teacher_lesson import (
    bounds_sheets,
    down_sheet,
    lesson_sheets,
    marks_sheets,
    mistake_sheets,
)
from packgen.booklet.classroom.teacher_overview import overview_sheets
from packgen.booklet.sheet import Sheet
from packgen.exercise.marks import marks_of
from packgen.exercise.model import ClassSet
from packgen.exercise.settings import Settings


def teacher_sheets(made: ClassSet, settings: Settings) -> tuple[Sheet, ...]:
    """All sheets of the teacher's volume."""
    left_out = frozenset((kind, code) for kind, code, _ in made.left_out)
    first = made.versions[0]
    sheets = [
        *overview_sheets(made, settings),
        *lesson_sheets(made, settings, first.plan),
        down_sheet(first.plan),
        *bounds_sheets(made),
        *glance_sheets(made.versions),
    ]
    for version in made.versions:
        sheets += pupil_sheet(version, marks_of(version.blanks, settings), left_out)
    return (*sheets, *mistake_sheets(made, left_out), *marks_sheets(made, marks_of(first.blanks, settings)))
