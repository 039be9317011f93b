"""Teacher's book: all answers at a glance, then a sheet a pupil with worked lines, what is accepted, usual mistakes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.booklet.classroom.answer_words import (
    accepted_of,
    carried,
    hold_lifted,
    marks_words,
    mistakes_of,
    name_of,
    right_of,
    worked_of,
)
from packgen.booklet.classroom.blocks import body_mm
from packgen.booklet.classroom.grids import Grid, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.exercise.marks import Marks
from packgen.exercise.model import Blank, Version
from packgen.exercise.tell_apart import LeftOut

ACROSS = 6  # pupils side by side in the table of answers
GLANCE = "All right answers. What is accepted beside them stands on each pupil's own sheet."
HEADS = ("no.", "asked", "right", "accepted", "marks", "worked", "usual mistakes, what they give here")
WIDTHS = (11.5, 27.5, 25.0, 20.0, 11.5, 26.5, 56.0)


def glance_sheets(versions: Sequence[Version]) -> tuple[Sheet, ...]:
    """Rows blanks, columns pupils."""
    pages: list[Grid] = []
    for first in range(0, len(versions), ACROSS):
        group = versions[first : first + ACROSS]
        blanks = group[0].blanks
        wide = (178.0 - 8.0 - 34.0) / ACROSS
        rows = tuple(
            (str(b.number), _alike(group, i), *(_right(v, i) for v in group), *("" for _ in range(ACROSS - len(group))))
            for i, b in enumerate(blanks)
        )
        heads = ("no.", "asked", *(f"pupil {v.case.pupil}" for v in group), *("" for _ in range(ACROSS - len(group))))
        grid = Grid("Right answers", heads, (8.0, 34.0, *([wide] * ACROSS)), rows)
        pages += parted(grid, body_mm(GLANCE))
    return tuple(
        Sheet(
            slug="answers" if n == 1 else f"answers-{n}",
            title="Answers at a glance",
            purpose=GLANCE,
            template="class-grid.html",
            view={"lead": "", "grids": (grid,), "after": ()},
            part=n,
            parts=len(pages),
        )
        for n, grid in enumerate(pages, 1)
    )


def _alike(group: Sequence[Version], i: int) -> str:
    """What is asked: by kind alone where each pupil has another spot."""
    names = {name_of(v.blanks[i]) for v in group}
    return names.pop() if len(names) == 1 else group[0].blanks[i].kind


def _right(version: Version, i: int) -> str:
    blank = version.blanks[i]
    text = right_of(blank, version.right[blank.id])
    spot = blank.id.rpartition("/")[2]
    return (
        f"{spot} {text}"
        if blank.kind in ("level", "leg", "rise or fall") and not blank.id.startswith("point/")
        else text
    )


def pupil_sheet(version: Version, marks: Mapping[str, Marks], left_out: LeftOut) -> tuple[Sheet, ...]:
    """One pupil's answers; a second part only where one sheet cannot hold them."""
    case, found = version.case, version.difficulty
    purpose = (
        f"Seed {case.seed}, plan {case.sign}, legs {found.leg_least_mm} to {found.leg_most_mm}. "
        f"Marks: method, answer, unit and tidiness."
    )
    rows = tuple(_rows(version, marks, left_out))
    grid = Grid("Answers", HEADS, WIDTHS, rows, strong=(2,))
    after = (*hold_lifted(version), *carried(version, left_out))
    room = body_mm(purpose)
    said = sum(lines_of(line, 9, 178) * 4.0 + 1.0 for line in after)
    parts = parted(grid, room)
    pages: list[tuple[Grid | None, tuple[str, ...]]] = [(g, ()) for g in parts]
    if parts[-1].height_mm + said <= room:
        pages[-1] = (parts[-1], after)
    else:
        pages.append((None, after))
    return tuple(
        Sheet(
            slug=f"pupil-{case.pupil}" if n == 1 else f"pupil-{case.pupil}-{n}",
            title=f"Pupil {case.pupil}",
            purpose=purpose,
            template="class-grid.html",
            view={"lead": "", "grids": (grid_here,) if grid_here else (), "after": lines},
            part=n,
            parts=len(pages),
        )
        for n, (grid_here, lines) in enumerate(pages, 1)
    )


def _rows(version: Version, marks: Mapping[str, Marks], left_out: LeftOut) -> Iterator[tuple[str, ...]]:
    """A row a blank; the tick for a leg's parts stands in the leg's row."""
    ticks = {b.needs[0]: b for b in version.blanks if b.kind == "parts"}
    for blank in version.blanks:
        if blank.kind == "parts":
            continue
        row = _row(blank, version, marks[blank.id], left_out)
        tick = ticks.get(blank.id)
        if tick is not None:
            both, also = marks[blank.id], marks[tick.id]
            added = Marks(both.method + also.method, both.answer + also.answer, both.tidy + also.tidy)
            right = f"{row[2]}, {right_of(tick, version.right[tick.id])}"
            row = (f"{row[0]}, {tick.number}", row[1], right, row[3], marks_words(added), *row[5:])
        yield row


def _row(blank: Blank, version: Version, marks: Marks, left_out: LeftOut) -> tuple[str, ...]:
    value = version.right[blank.id]
    return (
        str(blank.number),
        name_of(blank),
        right_of(blank, value),
        accepted_of(blank, value),
        marks_words(marks),
        worked_of(blank, version.known),
        mistakes_of(blank, version.known, left_out),
    )
