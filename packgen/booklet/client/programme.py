"""Section 10: the programme by day with bars."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from packgen.booklet.client.bars import Axis, bar, scale
from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.client.refs import see
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import SHEET_MM, SIDE_MM, Column, Row, Table
from packgen.core.figures import day, listed
from packgen.plan import Plan

WHAT_MM, DATE_MM, WHO_MM = 46.0, 34.0, 17.0
MOST_POURS = 8
ONE_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Span:
    """An activity from a day to another, both counted. persons: 0 where nobody works. waits: nothing is done."""

    what: str
    first: datetime.date
    last: datetime.date
    persons: int
    waits: bool = False


def section(plan: Plan) -> Section:
    """Bars, and what moves the dates."""
    blocks: list[Block] = [
        Rows(_table(plan), whole=True),
        Text(_moves(plan)),
    ]
    return Section("programme", "Programme", tuple(blocks))


def spans(plan: Plan) -> tuple[Span, ...]:
    """Every activity in the order it begins."""
    found = [*_work(plan), *_waits(plan)]
    return tuple(sorted(found, key=lambda s: s.first))


def _work(plan: Plan) -> Iterator[Span]:
    tasks: dict[str, list[tuple[datetime.date, int]]] = {}
    for w in plan.sequence.work_days:
        tasks.setdefault(w.task, []).append((w.date, w.persons))
    for task, days in tasks.items():
        yield Span(first_upper(task), min(d for d, _ in days), max(d for d, _ in days), max(n for _, n in days))
    pours = plan.sequence.pours
    boards = " and board" if plan.sequence.boards_same_day else ""
    if len(pours) > MOST_POURS:
        persons = max(p.persons for p in pours)
        yield Span(f"Fill{boards}, {len(pours)} days", pours[0].date, pours[-1].date, persons)
        return
    for p in pours:
        yield Span(f"Fill{boards}, day {p.number}" if len(pours) > 1 else f"Fill{boards}", p.date, p.date, p.persons)


def _waits(plan: Plan) -> Iterator[Span]:
    dates, pours = plan.sequence.dates, plan.sequence.pours
    if not pours:
        return
    first, last = pours[0].date, pours[-1].date
    for key, what in (
        ("walk_on", "Nobody walks on it"),
        ("load", "No load, ladder, trolley"),
        ("covered_until", "Covered" if plan.project.outside else "Covered, windows shut"),
    ):
        if key in dates and dates[key] > first:
            yield Span(what, first, dates[key] - ONE_DAY, 0, True)
    if "heat_up_not_before" in dates:
        stages = [k for k in ("heat_up_not_before", "second_stage", "heating_done", "cooled_down") if k in dates]
        if len(stages) > 1:
            yield Span("First heating, not before", dates[stages[0]], dates[stages[-1]] - ONE_DAY, 0, True)
    if "test_not_before" in dates:
        yield Span("Drying, by the rates of the fill", last + ONE_DAY, dates["test_not_before"] - ONE_DAY, 0, True)
        yield Span("Moisture test, not before", dates["test_not_before"], dates["test_not_before"], 0)


def _table(plan: Plan) -> Table:
    found = spans(plan)
    wide = SHEET_MM - WHAT_MM - 2 * DATE_MM - WHO_MM - SIDE_MM
    axis = Axis(min(s.first for s in found), max(s.last for s in found), wide)
    rows = [Row(("", "", "", "", scale(axis)))]
    rows += [
        Row(
            (
                s.what,
                day(s.first),
                "" if s.last == s.first else day(s.last),
                str(s.persons) if s.persons else "–",
                bar(axis, s.first, s.last, s.waits, f"{s.what}: {day(s.first)} to {day(s.last)}"),
            ),
            "light",
        )
        for s in found
    ]
    columns = (
        Column("activity", width_mm=WHAT_MM),
        Column("from", width_mm=DATE_MM),
        Column("to", width_mm=DATE_MM),
        Column("persons", "number", WHO_MM),
        Column("full: work; hatched: waiting"),
    )
    return Desk(columns, tuple(rows))


def _moves(plan: Plan) -> str:
    dates, calendar = plan.sequence.dates, plan.project.calendar
    parts = []
    if "test_not_before" in dates:
        parts.append("Dates move by the test, not by the calendar: the covering follows a passed test, not a date.")
    if plan.sequence.missed:
        lost = [f"{day(m.date)} ({m.why})" for m in plan.sequence.missed[:4]]
        parts.append(f"Working days lost to weather in this plan: {listed(lost)}.")
    off = [day(d) for d in calendar.not_working]
    if off:
        parts.append(f"Not worked on: {listed(off, most=6)}.")
    last = max(s.last for s in spans(plan))
    if calendar.ready_by is None:
        parts.append("Days in hand: none planned; the project file names no date by which the floor is wanted.")
    else:
        spare = (calendar.ready_by - last).days
        wanted = f"wanted by {day(calendar.ready_by)}"
        parts.append(
            f"Days in hand: {spare}, from {day(last)} to the day it is {wanted}."
            if spare >= 0
            else f"Days in hand: none; the floor is {wanted}, {-spare} days before the last date above."
        )
    held = any(f.open_stop for f in plan.findings)
    if held:
        parts.append(
            f"The dates count only if every hold of {see('unconfirmed')} is lifted before its gate is reached."
        )
    return " ".join(parts)
