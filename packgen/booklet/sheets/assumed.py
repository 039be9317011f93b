"""Assumed values: what the project file did not give, where it was taken from, and how to overrule it."""

from __future__ import annotations

from packgen.booklet.facts import first_upper
from packgen.booklet.rows import BODY_MM, Column, Row, Table, evenly
from packgen.booklet.sheet import Sheet
from packgen.core.worked import Assumed
from packgen.plan import Plan

LEAD_MM = 13.0
YOURS = "Yours to overrule: write your own value in the project file"
RULES = "Rules of the program"


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """As many parts as the list needs: what the file can overrule first, then the program's own rules."""
    yours = [a for a in plan.assumed if a.overrule]
    rules = [a for a in plan.assumed if not a.overrule]
    rows: list[Row] = []
    for title, some in ((YOURS, yours), (RULES, rules)):
        if some:
            rows.append(Row((title,), "heavy", title=True))
            rows += [Row(_cells(a), "light") for a in some]
    table = Table(
        (
            Column("what"),
            Column("value", width_mm=30),
            Column("used for", width_mm=36),
            Column("key in the file", width_mm=37),
        ),
        tuple(rows),
    )
    parts = evenly(table, BODY_MM - LEAD_MM) if plan.assumed else (None,)
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
    source = "" if a.source.known == "practice" else f"\nSource: {a.source}"
    return (f"{first_upper(a.what)}{source}", f"{a.value} {a.unit}".strip(), a.used_for, a.overrule)
