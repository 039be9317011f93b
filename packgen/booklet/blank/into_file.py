"""How each box becomes a line of the project file: the same words as its keys, then an invented room as an example."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.blank import base, book, doors, example, services, tapes, two_peg, walls
from packgen.booklet.blank.blocks import Block, FileText, Form, Heading, Note, left_mm, rows_of
from packgen.booklet.blank.file_lines import levels_lines
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet

TITLE = "Into the project file"
PURPOSE = "Each box becomes a line. Lines that belong together start in one column; blanks, no tabs."
WHERE = (
    (walls.TITLE, "wall 1: length, turn right / left / skew", "- wall 1: 3600, turn right"),
    (walls.TITLE, "a corner whose angle you measured", "- wall 1: 3600, skew 97 degrees"),
    (tapes.TITLE, "from corner, to corner, length", "- corner 1 to corner 3: 4560"),
    (
        tapes.TITLE,
        "what stands: from, to, stays",
        "- {name: chimney, shape: rectangle, from: [1500, 0], to: [2100, 350], stays: yes}",
    ),
    (
        tapes.TITLE,
        "something round: its middle",
        "- {name: column, shape: circle, at: [1800, 900], diameter: 300, stays: yes}",
    ),
    (
        doors.TITLE,
        "in wall, from, width, depth, leads to",
        "- {name: hall door, in: wall 4, from: 700, width: 860, depth: 110, leads to: hall}",
    ),
    (doors.TITLE, "level of the sill, of the floor beyond", "sill: 8 above TBM, floor there: same as TBM"),
    (
        services.TITLE,
        "outside, lies on, from, to",
        "- {name: radiator pipe, kind: water pipe, outside: 22, lies on: slab, from: [0, 900], to: [3600, 900]}",
    ),
    (
        base.TITLE,
        "damp reading: value, unit, method, date",
        "damp reading: {value: 71 % RH, method: hygrometer box 72 h, date: 2027-03-29}",
    ),
    (two_peg.TITLE, "in the middle: reading on A, on B", "A from middle: 1402, B from middle: 1417"),
    (two_peg.TITLE, "beside A: reading on A, on B", "A from end: 1398, B from end: 1415"),
    (two_peg.TITLE, "metres from beside A to A, to B", "end to A: 2 m, end to B: 22 m"),
    (book.TITLE, "point with its place: column and row", "columns at: {A: 50, B: 1250} and rows at: {1: 50}"),
    (book.TITLE, "backsight", "start on: {point: TBM, reading: 1405}"),
    (book.TITLE, "between", "in the table: row 1, column A"),
    (book.TITLE, "foresight on a change point", "leave on: {point: CP1, reading: 1480}"),
    (book.TITLE, "foresight on the datum at the end", "close on: {point: TBM, reading: 1236}"),
)


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """The table of boxes and lines, the example; with a file the lines to fill in as well."""
    pages = [_boxes(job), *_texts(job, example.PARTS, "A whole example, invented")]
    if any(r.points for r in job.rooms):
        lines = levels_lines(job.rooms, job.datum)
        pages += _texts(job, _chunks(job, lines), "For this room: copy it, and write a reading for every ....")
    return tuple(
        survey_sheet("file", TITLE, PURPOSE, blocks, signed="", part=n, parts=len(pages))
        for n, blocks in enumerate(pages, 1)
    )


def _boxes(job: SurveyJob) -> tuple[Block, ...]:
    columns = (Column("sheet", "text", 30), Column("box", "text", 54), Column("line of the file", "text", None))
    rows: list[tuple[str, str, str]] = []
    before = ""
    for sheet, box, line in WHERE:
        rows.append((sheet if sheet != before else "", box, line))
        before = sheet
    note = (
        "Begin with: packgen new our-room. It writes a file with a remark beside every line. Put your boxes in place "
        "of its figures. Then: packgen check our-room.yaml. It names every slip with its line."
    )
    return (Note(note), Form(Table(columns, rows_of(rows, (), 3, True), "", job.paper.sheet_mm)))


def _texts(job: SurveyJob, parts: Sequence[str], heading: str) -> list[tuple[Block, ...]]:
    """Texts one below the other, a new sheet where the next does not fit."""
    pages: list[tuple[Block, ...]] = [(Heading(heading),)]
    for part in parts:
        block = FileText(part)
        if left_mm(job.paper, (*pages[-1], block), signed=False) < 0 and len(pages[-1]) > 1:
            pages.append((Heading(f"{heading}, continued"),))
        pages[-1] = (*pages[-1], block)
    return pages


def _chunks(job: SurveyJob, text: str) -> list[str]:
    """A long text in pieces of a sheet each."""
    chunks: list[list[str]] = [[]]
    for line in text.split("\n"):
        if left_mm(job.paper, (Heading(""), FileText("\n".join([*chunks[-1], line]))), signed=False) < 0:
            chunks.append([])
        chunks[-1].append(line)
    return ["\n".join(c) for c in chunks]
