"""Section 5: what the plan assumes and what it would change: price, height, time or load."""

from __future__ import annotations

import re

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row, Table
from packgen.core.worked import Assumed
from packgen.plan import Plan

# what a value is used for (or the key that overrules it) tells what a wrong one would change
CHANGES: tuple[tuple[str, str], ...] = (
    ("height", r"least depth|depth too small|\bsteps\b|parts of legs|rails over pipes|floor to the door|cover over"),
    (
        "time",
        r"dates|times of the|filling hours|frost|moisture test|joints|bags in a batch|damp of the base|pressure test",
    ),
    ("price", r"order list|litres|bags|sheets|tape for laps|cut list|screws|laps|boards|waste"),
    ("load", r"force on a foot|load while working|weight|pressure under the feet"),
)


def section(plan: Plan) -> Section:
    """A row a value, the ones that the project file can overrule first."""
    found = [(a, c) for a in plan.assumed if (c := changes(a))]
    rows = [Row(_cells(a, c), "light") for a, c in found]
    columns = (
        Column("assumed"),
        Column("value", width_mm=32),
        Column("would change", width_mm=27),
        Column("source", width_mm=46),
    )
    lead = (
        "The project file does not state these values; they were taken as follows. If one is not so, the client is "
        "told before the work goes on, and the plan is made again."
        if found
        else "Every value that changes price, height, time or load is stated in the project file."
    )
    blocks: list[Block] = [Text(lead, leads=bool(found))]
    if found:
        blocks.append(Rows(Table(columns, tuple(rows))))
    return Section("assumptions", "Assumptions", tuple(blocks))


def changes(a: Assumed) -> str:
    """What a wrong value would change, in words; "" for one that changes none of it."""
    text = f"{a.used_for}; {a.what}"
    return ", ".join(word for word, pattern in CHANGES if re.search(pattern, text))


def _cells(a: Assumed, changed: str) -> tuple[str, ...]:
    return (first_upper(a.what), f"{a.value} {a.unit}".strip(), changed, first_upper(str(a.source)))
