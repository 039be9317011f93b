"""Assumed values: what the project file did not give, where it was taken from, and how to overrule it."""

from __future__ import annotations

from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.worked import Assumed
from packgen.plan import Plan

LEAD_MM = 12.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """As many parts as the list needs."""
    table = Table(
        (
            Column("what", width_mm=44),
            Column("value", "number", 30),
            Column("used for", width_mm=34),
            Column("source", width_mm=36),
            Column("to overrule, write in the project file"),
        ),
        tuple(Row(_cells(a), "light") for a in plan.assumed),
    )
    parts = parted(table, BODY_MM - LEAD_MM) if plan.assumed else (None,)
    return tuple(
        Sheet(
            slug="assumed" if n == 1 else f"assumed-{n}",
            title="Assumed values",
            purpose="What your project file did not say. Read it, and overrule what does not fit your site.",
            template="assumed.html",
            view={"table": part},
            part=n,
            parts=len(parts),
        )
        for n, part in enumerate(parts, 1)
    )


def _cells(a: Assumed) -> tuple[str, ...]:
    return (a.what, f"{a.value} {a.unit}".strip(), a.used_for, str(a.source), a.overrule)
