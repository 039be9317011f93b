"""Start here: what is measured, in which order, with what, and what nobody touches today."""

from __future__ import annotations

from packgen.booklet.blank import (
    base,
    book,
    doors,
    into_file,
    levelling,
    room_plan,
    services,
    sketch,
    tapes,
    two_peg,
    walls,
)
from packgen.booklet.blank.blocks import Block, Form, Heading, Note, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.trade.survey import pegs_rule

BRING = (
    "tape as long as the room, a second tape, a folding rule",
    "laser on a tripod; staff, or a straight rule with millimetres",
    "pencil, chalk, masking tape, torch, camera",
    "gloves, knee pads, closed shoes",
)


def sheet(job: SurveyJob) -> Sheet:
    """The order of the day."""
    known = bool(job.rooms)
    columns = (
        Column("", "number", 9),
        Column("do", "text", None),
        Column("sheet", "text", 56),
        Column("done", "tick", 14),
    )
    pegs = f"Test the laser. It takes a quarter of an hour and {plain(pegs_rule().apart_m)} m of even ground."
    steps = (
        ("Look for what can hurt: cables, pipes, old covering, weak boards.", f"{base.TITLE}; {services.TITLE}"),
        ("Draw the room as you see it from above.", sketch.TITLE),
        ("Measure the walls, with your left hand on the wall.", walls.TITLE),
        ("Pull the check tapes from corner to corner.", tapes.TITLE),
        ("Measure the doors, and what stands in the room.", f"{doors.TITLE}; {tapes.TITLE}"),
        ("Draw and measure pipes and cables.", services.TITLE),
        ("Write down what the base is, and how damp.", base.TITLE),
        (pegs, two_peg.TITLE),
        (f"Choose {job.datum}. Mark the points with chalk.", room_plan.TITLE if known else levelling.TITLE),
        (f"Read {job.datum}, all points, the doors, and {job.datum} again.", book.TITLE),
        ("Type the boxes into the project file. Run: packgen check FILE", into_file.TITLE),
    )
    rows = tuple((str(n), what, where, "") for n, (what, where) in enumerate(steps, 1))
    rules = (
        ("whole millimetres", "4 m 20 is 4200. No commas, no metres."),
        ("heights in words", f"12 above {job.datum}, 8 below {job.datum}. Never a minus sign."),
        ("staff readings", "write what the staff shows. A bigger reading is a lower floor."),
        ("a wrong figure", "cross it out so that it can still be read, and write the right one beside it."),
        ("not known", "write: unknown. Never guess. The pack then says what to find out."),
    )
    blocks: list[Block] = [
        Note(
            "Today nobody drills, grinds, lifts old covering or opens the floor. Cables, pipes and asbestos are found "
            "by people who are licensed for it. If you do not know, stop and ask.",
            True,
        ),
        Form(Table(columns, rows_of(rows, (), 4, True), "", job.paper.sheet_mm)),
        Heading("Bring"),
        Form(
            Table(
                (Column("", "text", None), Column("", "tick", 14)),
                rows_of([(b, "") for b in BRING], (), 2, True),
                "",
                job.paper.sheet_mm,
            )
        ),
        Heading("How to write"),
        Form(
            Table(
                (Column("", "text", 38), Column("", "text", None)), rows_of(rules, (), 2, True), "", job.paper.sheet_mm
            )
        ),
    ]
    return survey_sheet("start", "Start here", "Two people, half a day. Write while you measure.", blocks)
