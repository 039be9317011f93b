"""Assumed values: what the project file did not give, where it was taken from, and how to overrule it."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.flow import Flow
from packgen.booklet.rows import BODY_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.worked import Assumed
from packgen.plan import Plan

TITLE = "Assumed values"
LEAD_MM = 13.0
LEAST_ROWS = 2  # of many lines each
YOURS = "Yours to overrule: write your own value in the project file"
RULES = "Rules of the program, with what they are used for"
RULE_MM, VALUE_MM, GAP_MM = 60.0, 26.0, 6.0  # of a rule's words and its figure, two rules side by side


def pages(plan: Plan) -> list[list[Table]]:
    """The list on pages: what the file can overrule first, then the program's own rules."""
    flow = Flow(BODY_MM - LEAD_MM, BODY_MM)
    flow.add(_yours([a for a in plan.assumed if a.overrule]), least_rows=LEAST_ROWS)
    flow.add(_rules([a for a in plan.assumed if not a.overrule]), least_rows=LEAST_ROWS)
    return flow.pages


def sheets(plan: Plan, shown: Sequence[Sequence[Table]]) -> tuple[Sheet, ...]:
    """These pages as sheets."""
    return tuple(
        Sheet(
            slug="assumed" if n == 1 else f"assumed-{n}",
            title=TITLE,
            purpose="What your project file did not say. Read it, and overrule what does not fit your site.",
            template="assumed.html",
            view={"tables": tables, "lead": n == 1, "none": not plan.assumed},
            part=n,
            parts=len(shown),
        )
        for n, tables in enumerate(shown, 1)
    )


def _yours(some: Sequence[Assumed]) -> Table:
    """What is assumed, in the order of what it moves most, each with the key that overrules it."""
    columns = (Column("what"), Column("value", width_mm=30), Column("used for", width_mm=36))
    rows = tuple(Row((*_what(a), a.used_for, a.overrule), "light" if i else "") for i, a in enumerate(some))
    return Desk((*columns, Column("key in the file", width_mm=44)), rows, YOURS)


def _rules(some: Sequence[Assumed]) -> Table:
    """Two rules a row: they have no key, so that two find room."""
    half = (Column("rule", width_mm=RULE_MM), Column("value", width_mm=VALUE_MM))
    rows = []
    for i in range(0, len(some), 2):
        cells = [_rule(a) for a in some[i : i + 2]] + [("", "")]
        rows.append(Row((*cells[0], "", *cells[1]), "light" if i else ""))
    return Desk((*half, Column("", width_mm=GAP_MM), *half), tuple(rows), RULES)


def _what(a: Assumed) -> tuple[str, str]:
    source = "" if a.source.known == "practice" else f"\nSource: {a.source}"
    return (f"{first_upper(a.what)}{source}", f"{a.value} {a.unit}".strip())


def _rule(a: Assumed) -> tuple[str, str]:
    what, value = _what(a)
    name = first_upper(a.what)
    used = f" ({a.used_for})" if a.used_for and a.used_for not in name else ""
    return (f"{name}{used}{what[len(name) :]}", value)
