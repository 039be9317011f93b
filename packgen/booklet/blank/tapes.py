"""Check tapes from corner to corner, and what stands in the room."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.blank.blocks import Block, Form, Heading, Note, Steps, filled, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.survey.fieldwork_model import Fieldwork
from packgen.trade.survey import measuring

TITLE = "Check tapes"
MOST_KNOWN = 6
PURPOSE = "Walls alone do not say whether a corner is square. Diagonals do, and they find a wrong wall."
SKEW = (
    "Four corners that are not square: both diagonals, always. More skew corners: every diagonal that the tape can "
    "follow without touching anything."
)


def steps() -> tuple[str, ...]:
    """How a tape is pulled."""
    within = plain(measuring().largest_residual_mm)
    return (
        "One person holds the hook in the corner, the other pulls the tape straight and level along the floor.",
        "Write the length. Change ends, measure again, write that too.",
        f"The two differ by more than {within}: measure a third time, cross out the wrong one.",
    )


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """One blank form; with a file the tapes to take in each room."""
    if not job.rooms:
        return (_blank(job),)
    pages: list[tuple[Block, ...]] = []
    for work in job.rooms:
        pages += _of_room(job, work)
    return tuple(
        survey_sheet("tapes", TITLE, PURPOSE, blocks, part=n, parts=len(pages)) for n, blocks in enumerate(pages, 1)
    )


def _blank(job: SurveyJob) -> Sheet:
    wide = job.paper.sheet_mm
    columns = (
        Column("from corner", "write", 30),
        Column("to corner", "write", 30),
        Column("length", "write", 40, "mm"),
        Column("second time, ends changed", "write", 44, "mm"),
        Column("over what", "write", None),
    )
    first = [("e.g. 1", "3", "4560", "4561", "free floor")]
    tapes = Table(columns, rows_of(first, [""] * 6, 5), "", wide)
    before: tuple[Block, ...] = (Steps(steps()), Note(SKEW), Form(tapes), Heading("What stands in the room and stays"))
    return survey_sheet("tapes", TITLE, PURPOSE, filled(job.paper, before, lambda n: _stands(wide, n)))


def _stands(wide: float, count: int, known: Sequence[tuple[str, ...]] = ()) -> Table:
    """Columns, chimneys, hearths: two opposite corners of each, or its middle."""
    columns = (
        Column("column, chimney, hearth", "write", None, "round: its middle, and Ø"),
        Column("from, along wall 1", "write", 34, "from corner 1"),
        Column("from, into room", "write", 31, "from wall 1"),
        Column("to, along wall 1", "write", 30),
        Column("to, into room", "write", 31),
        Column("stays", "tick", 13),
    )
    first = known or [("e.g. chimney", "1500", "0", "2100", "350", "✓")]
    return Table(columns, rows_of(first, [""] * count, 6), "", wide)


def _known(job: SurveyJob, work: Fieldwork) -> list[tuple[str, ...]]:
    """What the file has of things in the room, as many as leave room to write."""
    rooms = job.begun.rooms if job.begun else ()
    obstacles = next((r.obstacles for r in rooms if r.name == work.outline.name), ())
    out: list[tuple[str, ...]] = []
    for o in obstacles[:MOST_KNOWN]:
        stays = "" if o.stays == "unknown" else "✓" if o.stays != "no" else "no"
        if o.shape == "circle" and o.at is not None and o.diameter is not None:
            out.append((f"{o.name}, Ø {plain(o.diameter)}", plain(o.at[0]), plain(o.at[1]), " ", " ", stays))
        elif o.start is not None and o.end is not None:
            out.append((o.name, *(plain(mm) for mm in (*o.start, *o.end)), stays))
    return out


def _of_room(job: SurveyJob, work: Fieldwork) -> list[tuple[Block, ...]]:
    wide = job.paper.sheet_mm
    columns = (
        Column("tape", "text", None),
        Column("why", "text", 34),
        Column("in the file", "number", 26, "mm"),
        Column("length", "write", 36, "mm"),
        Column("second time, ends changed", "write", 40, "mm"),
    )
    why = {"needed": "fixes the shape", "check": "check"}
    rows = [
        (
            f"corner {t.start} to corner {t.end}",
            why[t.use],
            plain(t.taken_mm) if t.taken_mm is not None else "",
            "",
            "",
        )
        for t in work.tapes
    ]
    table = Table(columns, rows_of(rows, [""] * 2, 5), f"Tapes in {work.outline.name}", wide)
    shape = [Note(SKEW)] if any(t.use == "needed" for t in work.tapes) else []
    before: tuple[Block, ...] = (Steps(steps()), *shape)
    stands = Heading("What stands in the room and stays")
    known = _known(job, work)
    parts = parted(table, left_mm(job.paper, before) - 50.0, left_mm(job.paper, ()) - 50.0)
    pages: list[tuple[Block, ...]] = []
    for n, part in enumerate(parts):
        here: tuple[Block, ...] = (*(before if n == 0 else ()), Form(part))
        if part is parts[-1]:
            here = filled(job.paper, (*here, stands), lambda k: _stands(wide, k, known))
        pages.append(here)
    return pages
