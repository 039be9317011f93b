"""Pupil's sheets 1 and 2: the situation with its plan and givens, and the readings with what is agreed."""

from __future__ import annotations

from collections.abc import Mapping

from packgen.booklet.classroom.answer_sheets import BOOK, FILL
from packgen.booklet.classroom.blocks import BODY_MM, Block, Drawing, Flow, Heading, Said, Squares, TableBlock
from packgen.booklet.classroom.pictures import pupil_plan
from packgen.booklet.classroom.words import conventions, first_line, given_rows, situation
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.exercise.model import Case
from packgen.exercise.settings import Settings
from packgen.plan import Plan
from packgen.project.work_model import Levels, SetUp

LEAST_PLAN_MM = 70.0
LARGE = 50  # a plan at 1 to 50 names its legs easily


def sheets(
    plan: Plan, case: Case, settings: Settings, level: int, given: Mapping[str, float], tasks: frozenset[str]
) -> tuple[Sheet, ...]:
    """The task, then the readings. tasks: titles of the answer sheets; what only others need is left out."""
    task, told = _task(plan, case, settings, level, tasks)
    return (task, *_readings(plan, case, given, () if told else _agreed(case, tasks)))


def _agreed(case: Case, tasks: frozenset[str]) -> tuple[Block, ...]:
    return (Heading("Agreed for all"), Said(conventions(case, tasks <= {BOOK})))


def _task(plan: Plan, case: Case, settings: Settings, level: int, tasks: frozenset[str]) -> tuple[Sheet, bool]:
    """The task, and whether what is agreed found room on it: it gives way where the plan gets larger without it."""
    book_alone = tasks <= {BOOK}
    said = Said(situation(plan, case, settings, book_alone))
    tables = () if book_alone else (TableBlock(_pairs(given_rows(case, level), "Given")),)
    agreed = _agreed(case, tasks)
    room = BODY_MM - said.height_mm - sum(t.height_mm for t in tables) - 8.0
    less = room - sum(b.height_mm for b in agreed)
    asked = {leg.node for leg in case.legs}
    small = pupil_plan(plan, asked, SHEET_MM, max(LEAST_PLAN_MM, less))
    large = pupil_plan(plan, asked, SHEET_MM, max(LEAST_PLAN_MM, room)) if small.scale > LARGE else small
    here = large.scale == small.scale
    drawn = small if here else large
    flow = Flow()
    flow.add(said, Drawing(drawn.svg, drawn.high_mm), *tables, *(agreed if here else ()), Squares())
    sheet = Sheet(
        slug="task",
        title="Your task",
        purpose=f"Work out {_wanted(tasks)} of this floor. Your numbers are yours alone.",
        template="class-blocks.html",
        view={"blocks": flow.finished()[0]},
    )
    return sheet, here


def _wanted(tasks: frozenset[str]) -> str:
    """What is worked out, by the answer sheets."""
    if tasks <= {BOOK}:
        return "the levels"
    return "heights, legs and fill" if FILL in tasks else "heights and legs"


def _pairs(rows: tuple[tuple[str, str], ...], caption: str) -> Table:
    """Name and value, two pairs a row where all are short."""
    short = all(len(v) <= 34 and len(n) <= 34 for n, v in rows)
    if not short or len(rows) < 6:
        return Table(
            (Column("", width_mm=58), Column("")),
            tuple(Row(r, "light" if i else "") for i, r in enumerate(rows)),
            caption,
        )
    half = (len(rows) + 1) // 2
    cells = [(*rows[i], *(rows[half + i] if half + i < len(rows) else ("", ""))) for i in range(half)]
    columns = (Column("", width_mm=44), Column("", width_mm=45), Column("", width_mm=44), Column("", width_mm=45))
    return Table(columns, tuple(Row(c, "light" if i else "") for i, c in enumerate(cells)), caption)


# ------------------------------------------------------------------------------------ readings


def _readings(plan: Plan, case: Case, given: Mapping[str, float], agreed: tuple[Block, ...]) -> tuple[Sheet, ...]:
    flow = Flow()
    levels = plan.project.levels
    if case.setups:
        for setup in levels.setups:
            flow.add(*_setup(levels, setup, case))
        known = _known(case, given)
        if known:
            flow.add(Heading("Given of the book"), Said(known))
    else:
        for setup in levels.setups:
            below = f"Levels of the base, given: mm below {case.datum}, unless above is said"
            flow.add(Heading(below), TableBlock(_grid(levels, setup, case)))
    if agreed:
        flow.add(*agreed)
    flow.add(Squares())
    pages = flow.finished()
    return tuple(
        Sheet(
            slug="readings" if n == 1 else f"readings-{n}",
            title="Readings",
            purpose="As they were booked on site. Only the spots asked on your answer sheets are needed.",
            template="class-blocks.html",
            view={"blocks": page},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _setup(levels: Levels, setup: SetUp, case: Case) -> tuple[Block, ...]:
    words = [f"Starts on {setup.start_on.point}: backsight {plain(setup.start_on.reading)}."]
    if setup.leave_on is not None:
        words.append(f"Leaves on {setup.leave_on.point}: foresight {plain(setup.leave_on.reading)}.")
    if setup.close_on is not None:
        words.append(f"Closes on {setup.close_on.point}: foresight {plain(setup.close_on.reading)}.")
    head = (Heading(f"Set-up {setup.name}"), Said((" ".join(words),)))
    return (*head, TableBlock(_grid(levels, setup, case))) if setup.readings else head


def _grid(levels: Levels, setup: SetUp, case: Case) -> Table:
    """The readings by rows and columns as booked, as many as a sheet is wide."""
    value = {(r.row, r.column): r.value for r in setup.readings}
    columns = [c for c, _ in levels.columns_at if any(k[1] == c for k in value)]
    rows = [r for r, _ in levels.rows_at if any(k[0] == r for k in value)]
    most = 12
    if len(columns) > most:
        wanted = {s.id for s in case.spots if s.setup == setup.name}
        columns = [c for c in columns if any(f"{c}{r}" in wanted for r in rows)][:most]
        rows = [r for r in rows if any(f"{c}{r}" in wanted for c in columns)]
    made = [
        Row(
            (r, *(_figure(value.get((r, c)), case) for c in columns)),
            "light" if i and i % 5 == 0 else "",
        )
        for i, r in enumerate(rows)
    ]
    wide = min(18.0, (SHEET_MM - 14) / max(1, len(columns)))
    heads = (Column("row", width_mm=14), *(Column(c, "number", wide) for c in columns))
    return Table(heads, tuple(made), width_mm=14 + wide * len(columns))


def _figure(value: float | None, case: Case) -> str:
    if value is None:
        return ""
    if case.setups:
        return plain(value)
    return f"{plain(value)} above" if value > 0 else plain(-value)


def _known(case: Case, given: Mapping[str, float]) -> tuple[str, ...]:
    """Lines and corrections that are given instead of asked."""
    lines: list[str] = []
    for setup in case.setups:
        value = given.get(f"collimation/{setup.name}")
        if value is None:
            continue
        if setup is case.setups[0] and not setup.start_mm:
            lines.append(first_line(case, setup))
        else:
            side = "above" if value > 0 else "below"
            lines.append(f"Height of collimation of {setup.name}: {plain(abs(value))} {side} {case.datum}.")
    told = [
        f"{setup.name}: {'add' if given[key] > 0 else 'take off'} {plain(abs(given[key]))}"
        for setup in case.setups
        if given.get(key := f"correction/{setup.name}")
    ]
    if told:
        lines.append(f"The book was closed. Corrections: {'; '.join(told)}.")
    return tuple(lines)
