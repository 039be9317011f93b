"""Doors and thresholds: where, how wide, how high the sill and the floor beyond."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.booklet.blank.blocks import Block, Form, Steps, left_mm, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain

TITLE = "Doors and thresholds"
PURPOSE = "The new floor has to meet every door: where it is, how high its sill, which floor beyond."
STEPS = (
    "From: along the wall, from the corner where the wall begins on your walk, to the near edge of the opening.",
    "Depth: how thick the wall is in the opening.",
    "Heights: staff on the sill, then on the finished floor beyond. Write the reading; work the level out as in the "
    "level book.",
)


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """A sheet for so many doors as fit, named where the file has them."""
    named = [
        (
            o.name,
            f"wall {int(o.in_wall)}",
            plain(o.start),
            plain(o.width),
            plain(o.depth) if o.depth else "",
            o.leads_to,
        )
        for o in (job.begun.openings if job.begun else ())
    ]
    most = _most(job)
    groups = list(_grouped(named, most)) or [[]]
    return tuple(
        survey_sheet("doors", TITLE, PURPOSE, _blocks(job, group, most), part=n, parts=len(groups))
        for n, group in enumerate(groups, 1)
    )


def _grouped(named: Sequence[tuple[str, ...]], most: int) -> Iterator[list[tuple[str, ...]]]:
    for start in range(0, len(named), most):
        yield list(named[start : start + most])


def _most(job: SurveyJob) -> int:
    """How many doors a sheet takes."""
    count = 1
    while left_mm(job.paper, _blocks(job, [], count + 1)) >= 0:
        count += 1
    return count


def _blocks(job: SurveyJob, doors: Sequence[tuple[str, ...]], most: int) -> tuple[Block, ...]:
    wide = job.paper.sheet_mm
    places = (
        Column("", "text", 9),
        Column("door or opening", "write", None),
        Column("in wall", "write", 21),
        Column("from", "write", 23, "mm"),
        Column("width", "write", 23, "mm"),
        Column("depth", "write", 21, "mm"),
        Column("leads to", "write", 38),
    )
    heights = (
        Column("door", "text", 32),
        Column("staff on", "text", 26),
        Column("reading", "write", 28, "mm"),
        Column("level", "write", 26, "mm"),
        Column(f"above {job.datum}", "tick", 17),
        Column(f"below {job.datum}", "tick", 17),
        Column("what floor, how finished", "write", None),
    )
    example = [] if doors else [("e.g.", "hall door", "wall 4", "700", "860", "110", "hall")]
    known = [(str(n), *cells) for n, cells in enumerate(doors, 1)]
    free = [str(n) for n in range(len(doors) + 1, most + 1)]
    where = Table(places, rows_of([*example, *known], free, 7), "", wide)
    rows: list[tuple[str, ...]] = []
    for n in range(1, most + 1):
        name = f"{n}  {doors[n - 1][0]}" if n <= len(doors) else str(n)
        rows += [(name, "sill, or none", *("",) * 5), ("", "floor beyond", *("",) * 5)]
    levels = Table(heights, rows_of(rows, (), 7), "", wide)
    return (Steps(STEPS), Form(where), Form(levels))
