"""The rules of depth as the sheets state them: figure, source with its clause, and how sure the source is."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import plain
from packgen.core.worked import Source
from packgen.heights.model import DepthRule, ZoneHeights

SURE = {
    "read": "read",
    "memory": "from memory, verify",
    "practice": "practice, no source",
    "calculated": "calculated",
    "file": "",
}


def rule_table(rule: DepthRule, zones: Sequence[ZoneHeights] = ()) -> Table:
    """Every rule of every zone that differs; the ones that the plan is judged by stand bold."""
    columns = (
        Column("rule", "text", 29),
        Column("mm", "number", 11),
        Column("what it is for", "text", None),
        Column("source and clause", "text", 54),
        Column("known", "text", 24),
    )
    rows: list[Row] = []
    several = any(z.rule != zones[0].rule for z in zones)
    for zone, own in [(z.zone, z.rule) for z in zones] if several else [("", rule)]:
        if several:
            rows.append(Row((f"Zone {zone}",), "heavy", title=True))
        rows += [
            Row((x.rule, plain(x.mm), x.says, _clause(x.source), SURE[x.source.known]), strong=x.governs)
            for x in own.lines
        ]
    return Table(columns, tuple(rows), "Rules of depth; the bold ones judge")


def source_words(source: Source) -> str:
    """A source with its clause and how sure it is, in one run of words."""
    sure = SURE[source.known]
    return f"{_clause(source)} ({sure})" if sure else _clause(source)


def _clause(source: Source) -> str:
    return f"{source.title}, {source.clause}" if source.clause else source.title
