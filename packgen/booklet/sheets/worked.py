"""Worked arithmetic: every printed result with the numbers that make it, for a pocket calculator."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup, escape

from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.flow import Flow, Rest
from packgen.booklet.rows import BODY_MM, SHEET_MM, Column, Row, Table, widest_mm
from packgen.booklet.sheet import Sheet
from packgen.booklet.worked_groups import (
    EVERY_LEG,
    Group,
    by_subject,
    on_paper,
    result,
    small_lines,
    told_in_full,
)
from packgen.core.figures import number
from packgen.core.worked import Worked
from packgen.plan import Plan

TITLE = "Worked arithmetic"
LEAD_MM = 14.0
ACROSS = 4  # short sums side by side, at most
NAME_MOST_MM = 32.0
LONG_SUM = 260  # letters of a sum beyond which only its beginning is printed; plan.json has it whole


def pages(plan: Plan, taken_mm: float = 0.0) -> list[list[Table]]:
    """Three results in full first, then the rest by subject, then what no other table shows, in columns.

    The first page has lost `taken_mm`; it is empty where nothing of the list finds room there.
    """
    flow = Flow(BODY_MM - LEAD_MM - taken_mm, BODY_MM)
    flow.add(_full([*told_in_full(plan), *by_subject(plan)]))
    for table in _short(plan):
        flow.add(table)
    return flow.pages


def sheets(shown: Sequence[Sequence[Table]], rest: Rest | None = None) -> tuple[Sheet, ...]:
    """These pages as sheets; `rest` stands above the first."""
    return tuple(
        Sheet(
            slug="worked" if n == 1 else f"worked-{n}",
            title=TITLE,
            purpose="How each number came about. A pocket calculator gives the same to the last digit.",
            template="worked.html",
            view={"tables": tables, "lead": n == 1, "most": EVERY_LEG, "rest": rest if n == 1 else None},
            part=n,
            parts=len(shown),
        )
        for n, tables in enumerate(shown, 1)
    )


# ------------------------------------------------------------------------------ in full


def _full(groups: Sequence[Group]) -> Table:
    rows: list[Row] = []
    for group in groups:
        rows.append(Row((group.title,), "heavy", title=True))
        rows += [Row(_cells(w), "light") for w in group.lines]
    return Desk((Column("result", width_mm=48), Column("how it is worked out, and what it gives")), tuple(rows))


def _cells(w: Worked) -> tuple[str, ...]:
    numbers = on_paper(w.numbers)
    if len(numbers) > LONG_SUM:
        shown = numbers[:LONG_SUM].rsplit(" + ", 1)[0]
        numbers = f"{shown} + ... ({w.numbers.count(' + ') + 1} terms, all in plan.json)"
    sum_ = escape(f"{on_paper(w.formula)} = {numbers}")
    return (first_upper(w.name), Markup("{} = <strong>{}</strong>").format(sum_, result(w)))


# ------------------------------------------------------------------------------ in short


def _short(plan: Plan) -> tuple[Table, ...]:
    """What no table of another sheet shows: the base between readings, the prisms of the sample bays."""
    bases = [(w.key.split("/")[1], _sum(w)) for w in small_lines(plan, "node", "/base") if w.numbers != _value(w)]
    means = [("/".join(w.key.split("/")[1:-1]), _sum(w)) for w in small_lines(plan, "bay", "/mean depth")]
    name = plan.project.datum.name
    blocks = (
        (f"Base under the legs between readings: shares of the readings round it, against {name}", bases),
        ("Mean depth of a bay: area × depth at the middle of each prism, added, / area", means),
    )
    return tuple(table for caption, items in blocks if items for table in _columns(caption, items))


def _value(w: Worked) -> str:
    return number(w.value, w.digits)


def _sum(w: Worked) -> str:
    return f"{on_paper(w.numbers)} = {number(w.value, w.digits)}"


def _columns(caption: str, items: Sequence[tuple[str, str]]) -> list[Table]:
    """The items side by side, the short ones first, as many in a row as their longest fits."""
    out: list[Table] = []
    rest = list(items)
    for across in range(ACROSS, 0, -1):
        name = min(NAME_MOST_MM, widest_mm((label for label, _ in items), 9.0))
        room = SHEET_MM / across - name
        here = [item for item in rest if across == 1 or widest_mm((item[1],)) <= room]
        if len(here) < across:
            continue
        rest = [item for item in rest if item not in here]
        columns = (Column("", width_mm=name), Column("", width_mm=room)) * across
        rows = []
        for i in range(0, len(here), across):
            chunk = here[i : i + across]
            cells = [text for item in chunk for text in item] + ["", ""] * (across - len(chunk))
            rows.append(Row(tuple(cells), "light" if i and (i // across) % 5 == 0 else ""))
        out.append(Desk(columns, tuple(rows), "" if out else caption))
    return out
