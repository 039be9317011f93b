"""The level book: blank, or with the points of the rooms filled in; a check that needs no calculator's memory."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from packgen.booklet.blank.blocks import Field, Fields, Form, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.survey.fieldwork_model import StaffPoint

TITLE = "Level book"
BLANK_SHEETS = 2
SPARE = 2  # empty rows on each prefilled sheet, for change points and humps


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """Two blank sheets, or as many as the points need. Each begins and ends on the datum, so each can be checked."""
    pages = _prefilled(job) or [("", [""] * _fit(job))] * BLANK_SHEETS
    return tuple(
        survey_sheet(
            "book",
            TITLE,
            f"{room}One line a reading. A bigger reading is a lower spot.",
            (_head(), Form(_table(job, names)), _check(job)),
            signed="Read by",
            part=n,
            parts=len(pages),
        )
        for n, (room, names) in enumerate(pages, 1)
    )


def point_words(point: StaffPoint) -> str:
    """A point with its place: "C4 · 2450 | 3650"."""
    return f"{point.name}  ({plain(point.x_mm)}, {plain(point.y_mm)})"


def _head() -> Fields:
    return Fields(((Field("set-up", 24), Field("laser", 40), Field("weather, floor firm", 38)),))


def _check(job: SurveyJob) -> Fields:
    within = job.closes_within_mm
    allowed = f"{plain(within)} allowed" if within is not None else "mm"
    return Fields(
        (
            (Field("sum of backsights", 24), Field("sum of foresights", 24), Field("they differ by", 22)),
            (
                Field("last level against first", 26, ticks=("above", "below")),
                Field("equal to the line above", ticks=("yes",)),
            ),
            (Field(f"{job.datum} at the end misses its own level by", 24, unit=allowed), Field("more: read again")),
        )
    )


def _table(job: SurveyJob, names: Sequence[str]) -> Table:
    columns = (
        Column("point", "write", 36, "(along wall 1, into room)"),
        Column("backsight", "write", 24),
        Column("between", "write", 24),
        Column("foresight", "write", 24),
        Column("height of collimation", "write", 26, f"above {job.datum}"),
        Column("level", "write", 24),
        Column("above or below", "write", None),
    )
    return Table(columns, rows_of((), names, 7), "", job.paper.sheet_mm)


def _fit(job: SurveyJob) -> int:
    """Rows a sheet takes."""
    count = 1
    while left_mm(job.paper, (_head(), Form(_table(job, ["x"] * (count + 1))), _check(job))) >= 0:
        count += 1
    return count


def _prefilled(job: SurveyJob) -> list[tuple[str, list[str]]]:
    """Room and rows of each sheet: the datum first and last, the points, some empty rows before the end."""
    most = _fit(job) - SPARE - 2
    out = []
    for room in job.rooms:
        words = [point_words(p) for p in room.points]
        count = math.ceil(len(words) / most)
        ends = [math.ceil(len(words) * k / count) for k in range(count + 1)] if count else []
        name = f"{room.outline.name}. " if len(job.rooms) > 1 else ""
        out += [(name, [job.datum, *words[a:b], *[""] * SPARE, job.datum]) for a, b in pairwise(ends)]
    return out
