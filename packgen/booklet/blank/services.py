"""Pipes and cables: cautions first, then where they lie."""

from __future__ import annotations

from packgen.booklet.blank.blocks import Block, Drawing, Form, Note, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.squares import squared
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet

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
    known = [s.name for s in (job.begun.services if job.begun else ())][:LINES]
    names = [*known, *("",) * (LINES - len(known))]
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
    places = [("radiator pipe", "22", "0", "900", "3600", "900")]
    kinds = [("radiator pipe", "water pipe", "slab", "0", "seen", "✓")]
    blocks: list[Block] = [
        Note(CAUTION, True),
        Form(Table(where, rows_of(places, names, 6), "Where: from corner 1 along wall 1, and from wall 1", wide)),
        Form(Table(what, rows_of(kinds, names, 6), "What", wide)),
    ]
    svg, high = squared(wide, left_mm(job.paper, blocks) - 6.0, SCALE)
    blocks.append(Drawing(svg, high))
    return survey_sheet("services", "Pipes and cables", PURPOSE, blocks)
