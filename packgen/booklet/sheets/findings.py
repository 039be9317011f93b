"""Findings: all stops, cautions and notes with number, limit, source and cure."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.flow import Flow, Rest
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import BODY_MM, Column, Row, Table, evenly
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets.holds import LOOKED_AT, found_and_limit
from packgen.booklet.signs import mark
from packgen.core.figures import day
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.plan import Plan

TITLES = {"stop": "Stops: each holds a gate", "caution": "Cautions", "note": "Notes"}
TITLE = "Findings"
KEY_MM = 10.0
LEAST_ROWS = 3  # a heading and two findings


def pages(plan: Plan, taken_mm: float = 0.0) -> list[list[Table]]:
    """The list on pages, the first of which has lost `taken_mm`; one empty page where nothing was found.

    An empty first page of several: nothing of the list finds room there.
    """
    table = _table(plan)
    if not taken_mm:
        return [[part] for part in evenly(table, BODY_MM - KEY_MM)] if table.rows else [[]]
    flow = Flow(BODY_MM - KEY_MM - taken_mm, BODY_MM - KEY_MM)
    flow.add(table, least_rows=LEAST_ROWS)
    return flow.pages


def sheets(shown: Sequence[Sequence[Table]], rest: Rest | None = None) -> tuple[Sheet, ...]:
    """These pages as sheets; `rest` stands above the first."""
    return tuple(
        Sheet(
            slug="findings" if n == 1 else f"findings-{n}",
            title=TITLE,
            purpose="Everything the program found in this plan, with the number, its limit and the cure.",
            template="findings.html",
            view={"tables": tables, "looked_at": LOOKED_AT, "rest": rest if n == 1 else None},
            part=n,
            parts=len(shown),
        )
        for n, tables in enumerate(shown, 1)
    )


def _table(plan: Plan) -> Table:
    rows: list[Row] = []
    kind = None
    for number, f in numbered(plan):
        if f.kind != kind:
            rows.append(Row((TITLES[f.kind],), "heavy", title=True))
            kind = f.kind
        rows.append(Row(_cells(number, f), "light"))
    return Desk(
        (
            Column("no.", width_mm=12),
            Column("place", width_mm=36),
            Column("what was found, its cure, the limit and where it comes from"),
        ),
        tuple(rows),
    )


def _cells(number: int, f: Finding) -> tuple[str, ...]:
    place = first_upper(f.where) or "Whole job"
    lines = [first_upper(f.says)]
    if f.lifted_by:
        lines.append(f"Lifted by {f.lifted_by.by}, {day(f.lifted_by.date)}: {f.lifted_by.paper}.")
    if f.cures:
        lines.append(f"Cure: {'; or '.join(f.cures)}.")
    known = "practice" if "no source" in f.source else f.source
    facts = (
        f"Found {found_and_limit(f)}." if f.number is not None else "",
        f"Source: {known}." if f.source else "",
        _stands(f.place) if f.place else "",
    )
    lines.append(" ".join(fact for fact in facts if fact))
    where = f"{place}\nbefore {f.gate}" if f.gate else place
    return (mark(f.kind, number), where, "\n".join(line for line in lines if line))


def _stands(place: Place) -> str:
    return f"{place}." if place.file else f"Line {place.line} of the project file."
