"""A room as far as it is known: its plan with the points to read and the tapes to take, and where the points are."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.blank.blocks import Block, Drawing, Form, Heading, Note, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.drawing.points_plan import points_plan
from packgen.booklet.rows import Column, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.survey.fieldwork_model import Fieldwork, Named

TITLE = "Points to read"
LEAST_PLAN_MM = 110.0
ACROSS = 7  # names and places a line
FIRST_MM = 38.0
DRAWING_MM = 5.5  # what a drawing takes beyond its height


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """The plan of each room with the places of its columns and rows; then the points that are read for a reason."""
    pages = [page for work in job.rooms for page in _pages(job, work)]
    return tuple(
        survey_sheet(
            "points",
            TITLE,
            "Crosses: points for the staff, marked with chalk. Dashed: tapes from corner to corner.",
            blocks,
            signed="Marked by",
            part=n,
            parts=len(pages),
        )
        for n, blocks in enumerate(pages, 1)
    )


def _pages(job: SurveyJob, work: Fieldwork) -> list[tuple[Block, ...]]:
    wide = job.paper.sheet_mm
    heading: tuple[Block, ...] = (Heading(work.outline.name),) if len(job.rooms) > 1 else ()
    notes: tuple[Block, ...] = (*heading, *(Note(text, True) for text in _notes(work)))
    tables = [
        _places("columns, along wall 1 from corner 1", work.columns, wide),
        _places("rows, into the room from wall 1", work.rows, wide),
    ]
    forms = tuple(Form(t) for t in tables)
    alone = points_plan(work, wide, left_mm(job.paper, notes) - DRAWING_MM)
    room = left_mm(job.paper, (*notes, *forms)) - DRAWING_MM
    both = points_plan(work, wide, room) if room >= LEAST_PLAN_MM else alone
    why = _why(job, work)
    if both is not alone and both.scale == alone.scale and both.high_mm <= room:
        pages = [(*notes, Drawing(both.svg, both.high_mm), *forms)]
    else:
        body = left_mm(job.paper, ())
        parts = [part for table in tables for part in parted(table, body, body)]
        below = (
            [tuple(Form(p) for p in parts)] if sum(p.height_mm for p in parts) <= body else [(Form(p),) for p in parts]
        )
        pages = [(*notes, Drawing(alone.svg, alone.high_mm)), *below]
    if len(why) == 1 and left_mm(job.paper, (*pages[-1], *why[0])) >= 0:
        return [*pages[:-1], (*pages[-1], *why[0])]
    return [*pages, *why]


def _notes(work: Fieldwork) -> Iterator[str]:
    if any(t.use == "needed" for t in work.tapes):
        yield (
            "Skew corners and too few tapes: the true shape may differ from this plan. Take the tapes first, put "
            "them in the file, and print this sheet again."
        )
    if work.out_of_reach:
        yield (
            "Part of this room lies left of corner 1 or behind wall 1, where the file can name no point. Begin the "
            "walk at another corner: the one farthest left, on the wall at the top of the plan."
        )


def _places(what: str, named: Named, wide: float) -> Table:
    """Names and places, some a line."""
    lines = [named[k : k + ACROSS] for k in range(0, len(named), ACROSS)]
    rows = [
        (what if k == 0 else "", *(f"{name}: {plain(mm)}" for name, mm in line), *[""] * (ACROSS - len(line)))
        for k, line in enumerate(lines)
    ]
    share = (wide - FIRST_MM) / ACROSS
    columns = (Column("", "text", FIRST_MM), *(Column("", "text", share) for _ in range(ACROSS)))
    return Table(columns, rows_of(rows, (), ACROSS + 1), "", wide)


def _why(job: SurveyJob, work: Fieldwork) -> list[tuple[Block, ...]]:
    """Points that a grid alone would not have."""
    special = [p for p in work.points if p.why]
    if not special:
        return []
    columns = (
        Column("point", "text", 20),
        Column("along wall 1", "number", 30, "mm"),
        Column("into room", "number", 30, "mm"),
        Column("why it is read", "text", None),
        Column("marked", "tick", 18),
    )
    rows = [(p.name, plain(p.x_mm), plain(p.y_mm), p.why, "") for p in special]
    note = Note(
        f"All other crosses lie on a grid, not more than {plain(work.spacing_mm or 0)} apart. A hump or hollow between "
        "them: give it a column and a row of its own, and read it too."
    )
    caption = f"Points of {work.outline.name} that are read for a reason"
    table = Table(columns, rows_of(rows, (), 5, True), caption, job.paper.sheet_mm)
    body = left_mm(job.paper, (note,))
    return [(note, Form(part)) for part in parted(table, body, body)]
