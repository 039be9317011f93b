"""Holds and sign-offs: what must be true before work goes on."""

from __future__ import annotations

from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import day, listed
from packgen.core.finding import GATES, Finding
from packgen.plan import Plan

SIGNED_MM = 16.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    stops = [f for gate in GATES for f in plan.findings if f.kind == "stop" and f.gate == gate]
    rows = [Row(_cells(f), "light") for f in stops]
    table = Table(
        (
            Column("gate", width_mm=18),
            Column("hold"),
            Column("what lifts it", width_mm=52),
            Column("lifted by, date, paper", width_mm=46),
        ),
        tuple(rows),
    )
    parts = parted(table, BODY_MM - 40.0) if rows else ()
    made = []
    for n, part in enumerate(parts or (None,), 1):
        view = {"table": part, "count": len(stops), "last": n == max(1, len(parts))}
        made.append(
            Sheet(
                slug="holds" if n == 1 else f"holds-{n}",
                title="Holds and sign-offs",
                purpose="What must be true before work goes on, gate by gate.",
                template="holds.html",
                view=view,
                part=n,
                parts=max(1, len(parts)),
            )
        )
    return tuple(made)


def _cells(f: Finding) -> tuple[str, ...]:
    lifted = f"{f.lifted_by.by}, {day(f.lifted_by.date)}, {f.lifted_by.paper}" if f.lifted_by else ""
    return (f.gate or "", f.says, listed(f.cures, "or"), lifted)
