"""Worked arithmetic: every printed result with the numbers that make it, for a pocket calculator."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.drawing.labels import width
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import BODY_MM, SHEET_MM, SIDE_MM, Column, Row, Table, evenly, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import POINT_MM, SLACK
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

LEAD_MM = 12.0
MOST_ROWS = 40
NAME_MOST_MM = 32.0
LONG_SUM = 260  # letters of a sum beyond which only its beginning is printed; plan.json has it whole


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Three results in full first, then the rest by subject, then the short lines in columns."""
    pages = _full_pages([*told_in_full(plan), *by_subject(plan)])
    pages += _short_pages(plan)
    return tuple(
        Sheet(
            slug="worked" if n == 1 else f"worked-{n}",
            title="Worked arithmetic",
            purpose="How each number came about. A pocket calculator gives the same to the last digit.",
            template="worked.html",
            view={"tables": tables, "lead": n == 1, "most": EVERY_LEG},
            part=n,
            parts=len(pages),
        )
        for n, tables in enumerate(pages, 1)
    )


# ------------------------------------------------------------------------------ in full


def _full_pages(groups: Sequence[Group]) -> list[tuple[Table, ...]]:
    rows: list[Row] = []
    for group in groups:
        rows.append(Row((group.title,), "heavy", title=True))
        rows += [Row(_cells(w), "light") for w in group.lines]
    table = Table(
        (Column("result", width_mm=46), Column("how it is worked out"), Column("gives", "number", 41)), tuple(rows)
    )
    return [(part,) for part in evenly(table, BODY_MM - LEAD_MM, BODY_MM)]


def _cells(w: Worked) -> tuple[str, ...]:
    numbers = on_paper(w.numbers)
    if len(numbers) > LONG_SUM:
        shown = numbers[:LONG_SUM].rsplit(" + ", 1)[0]
        numbers = f"{shown} + ... ({w.numbers.count(' + ') + 1} terms, all in plan.json)"
    return (first_upper(w.name), f"{on_paper(w.formula)} = {numbers}", f"= {result(w)}")


# ------------------------------------------------------------------------------ short


def _short_pages(plan: Plan) -> list[tuple[Table, ...]]:
    legs = {w.key.split("/")[1]: w for w in small_lines(plan, "node", "/leg")}
    bases = {w.key.split("/")[1]: w for w in small_lines(plan, "node", "/base")}
    levels = [(w.key.split("/")[1], _short(w)) for w in small_lines(plan, "level")]
    settings = [
        (name, f"{_short(bases[name])}; {_short(w)}" if name in bases else _short(w)) for name, w in legs.items()
    ]
    bays = [("/".join(w.key.split("/")[1:-1]), _short(w)) for w in small_lines(plan, "bay", "/litres")]
    means = [("/".join(w.key.split("/")[1:-1]), _short(w)) for w in small_lines(plan, "bay", "/mean depth")]
    blocks = (
        ("Levels of the readings: below or above TBM as the level book says", levels, 3),
        ("Legs: base at the node; then base and rail top give the leg", settings, 2),
        ("Mean depth of a bay: area × depth at the middle of each prism, added, / area", means, 1),
        ("Litres of the bays: area in m² × mean depth in mm", bays, 3),
    )
    pages: list[tuple[Table, ...]] = []
    here: list[Table] = []
    left = BODY_MM
    for caption, items, across in blocks:
        table = _columns(caption, items, across)
        while table is not None:
            first, *rest = parted(table, left, BODY_MM)
            if here and first.height_mm > left:
                pages.append(tuple(here))
                here, left = [], BODY_MM
                continue
            here.append(first)
            left -= first.height_mm
            table = _joined(rest)
            if table is not None:
                pages.append(tuple(here))
                here, left = [], BODY_MM
    return [*pages, tuple(here)] if here else pages


def _joined(parts: Sequence[Table]) -> Table | None:
    if not parts:
        return None
    first = parts[0]
    return Table(first.columns, tuple(row for part in parts for row in part.rows), first.caption, first.width_mm)


def _short(w: Worked) -> str:
    numbers = on_paper(w.numbers)
    value = number(w.value, w.digits)
    return value if numbers == value else f"{numbers} = {value}"


def _columns(caption: str, items: Sequence[tuple[str, str]], across: int) -> Table | None:
    """The items read down the columns of each row block, `across` side by side."""
    if not items:
        return None
    name = min(NAME_MOST_MM, max(width(label, 10 * POINT_MM) for label, _ in items) / SLACK + SIDE_MM + 0.5)
    pair = (Column("", width_mm=name), Column("", width_mm=SHEET_MM / across - name))
    columns = pair * across
    rows = []
    for i in range(0, len(items), across):
        chunk = items[i : i + across]
        cells = [text for item in chunk for text in item] + ["", ""] * (across - len(chunk))
        rows.append(Row(tuple(cells), "light" if i and (i // across) % 5 == 0 else ""))
    return Table(columns, tuple(rows), caption)
