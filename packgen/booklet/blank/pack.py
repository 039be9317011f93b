"""All survey sheets in the order in which they are used."""

from __future__ import annotations

from packgen.booklet.blank import (
    base,
    book,
    doors,
    into_file,
    levelling,
    order,
    room_plan,
    services,
    sketch,
    tapes,
    two_peg,
    walls,
)
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.sheet import Sheet


def survey_sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """Blank forms; with the rooms of a file also their plans, and forms that hold what is known."""
    return (
        order.sheet(job),
        sketch.sheet(job),
        *walls.sheets(job),
        *tapes.sheets(job),
        *doors.sheets(job),
        services.sheet(job),
        base.sheet(job),
        two_peg.sheet(job),
        *levelling.sheets(job),
        *room_plan.sheets(job),
        *book.sheets(job),
        *into_file.sheets(job),
    )
