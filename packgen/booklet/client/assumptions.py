"""Section 5: what the plan assumes and what it would change: price, height, time or load."""

from __future__ import annotations

import re

from packgen.booklet.client.blocks import Block, Either, Rows, Section, Small, Text
from packgen.booklet.client.sources import Marks
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row
from packgen.core.worked import Assumed
from packgen.plan import Plan

# what a value is used for (or the key that overrules it) tells what a wrong one would change
LEAD = (
    "The project file does not state these values; they were taken as follows. If one is not so, the client is told "
    "before the work goes on, and the plan is made again."
)
ELSEWHERE = "Rules of the plan that no key of the file overrules are listed in the work pack, sheets Assumed values."
NOTHING = "Every value that changes price, height, time or load is stated in the project file."
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
    """A row for each value that the project file can overrule; the program's own rules in a paragraph."""
    found = [(a, c) for a in plan.assumed if (c := changes(a))]
    own = [(a, c) for a, c in found if a.overrule]
    marks = Marks()
    rows = [Row(_cells(a, c, marks), "light") for a, c in own]
    columns = (
        Column("assumed"),
        Column("value", width_mm=39),
        Column("would change", width_mm=27),
        Column("source", width_mm=20),
    )
    if not found:
        return Section("assumptions", "Assumptions", (Text(NOTHING),))
    blocks: list[Block] = [Text(LEAD, leads=True), Rows(Desk(columns, tuple(rows)))]
    own_sources = marks.line()
    rest = _rest([(a, c) for a, c in found if not a.overrule], marks)
    if rest:
        blocks.append(Either(2, _small(rest, marks.line()), _small(ELSEWHERE, own_sources)))
    else:
        blocks += _small(own_sources)
    return Section("assumptions", "Assumptions", tuple(blocks))


def _small(*texts: str) -> tuple[Block, ...]:
    return tuple(Small(text) for text in texts if text)


def _rest(rules: list[tuple[Assumed, str]], marks: Marks) -> str:
    """Rules of the program by what they change: "for price: laps of a sheet 15 %"."""
    by_change: dict[str, list[str]] = {}
    for a, changed in rules:
        source = marks.of(a.source)
        value = f"{a.value} {a.unit}".strip()
        by_change.setdefault(changed, []).append(f"{a.what} {value}{'' if source == 'practice' else f' ({source})'}")
    said = [f"for {changed}: {'; '.join(texts)}" for changed, texts in by_change.items()]
    return (
        f"Rules of the plan, of common practice where no source is named: {'. '.join(map(first_upper, said))}."
        if said
        else ""
    )


def changes(a: Assumed) -> str:
    """What a wrong value would change, in words; "" for one that changes none of it."""
    text = f"{a.used_for}; {a.what}"
    return ", ".join(word for word, pattern in CHANGES if re.search(pattern, text))


def _cells(a: Assumed, changed: str, marks: Marks) -> tuple[str, ...]:
    return (first_upper(a.what), f"{a.value} {a.unit}".strip(), changed, marks.of(a.source))
