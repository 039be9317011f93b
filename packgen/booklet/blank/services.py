"""Pipes and cables: cautions first, then where they lie."""

from __future__ import annotations

from packgen.booklet.blank.blocks import Block, Drawing, Form, Note, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.squares import squared
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.project.room_model import Service

TITLE = "Pipes and cables"
PURPOSE = "What lies in or on the base: no leg may stand on it, no screw may meet it."
CAUTION = (
    "A cable or a gas pipe can kill. Before anybody drills, screws or cuts: power and water off, and somebody licensed "
    "finds the services and says so on paper. A detector alone proves nothing. Do not open pipes or boxes yourself."
)
SCALE = 100
LINES = 4


def sheet(job: SurveyJob) -> Sheet:
    """Two forms and a sketch."""
    wide = job.paper.sheet_mm
    known = (job.begun.services if job.begun else ())[:LINES]
    free = [""] * (LINES - len(known))
    where = (
        Column("name on the sketch", "write", None),
        Column("outside Ø", "write", 24, "mm"),
        Column("from, along wall 1", "write", 34),
        Column("from, into room", "write", 29),
        Column("to, along wall 1", "write", 29),
        Column("to, into room", "write", 29),
    )
    what = (
        Column("name", "write", 34),
        Column("what it is", "write", None, "water, heating, waste, cable"),
        Column("lies on", "write", 28, "slab, clip rail …"),
        Column("how high under it", "write", 24, "mm"),
        Column("found how, by whom", "write", 36),
        Column("off?", "tick", 12),
    )
    places = [_place(s) for s in known] or [("e.g. radiator pipe", "22", "0", "900", "3600", "900")]
    kinds = [(s.name, s.kind, s.lies_on, "", "", "") for s in known]
    kinds = kinds or [("e.g. radiator pipe", "water pipe", "slab", "0", "seen", "✓")]
    blocks: list[Block] = [
        Note(CAUTION, True),
        Form(Table(where, rows_of(places, free, 6), "Where: from corner 1 along wall 1, and from wall 1", wide)),
        Form(Table(what, rows_of(kinds, free, 6), "What", wide)),
    ]
    svg, high = squared(wide, left_mm(job.paper, blocks) - 6.0, SCALE)
    blocks.append(Drawing(svg, high))
    return survey_sheet("services", TITLE, PURPOSE, blocks)


def _place(service: Service) -> tuple[str, ...]:
    """What the file says of where it lies; a box for the rest."""
    ends = [plain(mm) for end in (service.start, service.end) for mm in end or ()] if service.start else []
    return (
        service.name,
        plain(service.outside) if service.outside is not None else "",
        *(ends if len(ends) == 4 else [""] * 4),
    )
