"""Section 12: the risk assessment: what can hurt, whom, how much before and after the controls."""

from __future__ import annotations

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.client.refs import see
from packgen.booklet.client.risk_words import here, met, why_not
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import listed
from packgen.core.worked import Source
from packgen.plan import Plan
from packgen.trade.risk import Risk, risks

LEAD = (
    "Levels in words: likelihood and harm without controls, the level that follows, and what remains with every "
    "control in place. They are a first judgement; whoever is responsible on site judges again, by local rules. What "
    "would stay high is no level but a hold."
)


def section(plan: Plan) -> Section:
    """Rows that are met here, then what was looked at and is not met."""
    every = risks()
    rows = [_row(plan, n, r) for n, r in enumerate((r for r in every if met(plan, r)), 1)]
    columns = (
        Column("no.", "number", 9),
        Column("hazard, and what it is here", width_mm=52),
        Column("who", width_mm=24),
        Column("before", width_mm=23),
        Column("controls"),
        Column("after", width_mm=19),
    )
    blocks: list[Block] = [Text(LEAD, leads=True), Rows(Table(columns, tuple(rows)))]
    absent = [r for r in every if not met(plan, r)]
    if absent:
        told = [Row((r.title, why_not(plan, r)), "light") for r in absent]
        table = Table((Column("not here", width_mm=75), Column("because")), tuple(told), "Looked at and not met")
        blocks.append(Rows(table))
    blocks.append(Text(_sources([r for r in every if met(plan, r)])))
    answers = Table(
        (Column("person responsible for the controls", "write"), Column("read to the crew on", "write", 50)),
        (Row(("", "")),),
    )
    blocks.append(Rows(answers, whole=True))
    return Section("risks", "Risk assessment", tuple(blocks))


def _row(plan: Plan, number: int, risk: Risk) -> Row:
    open_holds = [n for n, f in numbered(plan) if f.open_stop and f.code in risk.codes]
    after: str = risk.residual
    if open_holds:
        held = listed([str(n) for n in open_holds], most=3)
        after = f"HOLD {held}: no work till lifted; then {risk.residual}"
    what = here(plan, risk)
    return Row(
        (
            str(number),
            risk.title + (f": {what}" if what else ""),
            first_upper(risk.who),
            f"{risk.likelihood} x {risk.harm}: {risk.before}",
            first_upper("; ".join(risk.controls)),
            after,
        ),
        "light",
    )


def _sources(shown: list[Risk]) -> str:
    named: dict[str, Source] = {str(r.source): r.source for r in shown if r.source.known != "practice"}
    text = "; ".join(named)
    return f"Sources: {text}. All else is common practice. Holds: {see('unconfirmed')}."
