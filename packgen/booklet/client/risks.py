"""Section 12: the risk assessment: what can hurt, whom, how much before and after the controls."""

from __future__ import annotations

from packgen.booklet.client.blocks import Block, Rows, Section, Small, Text
from packgen.booklet.client.refs import see
from packgen.booklet.client.risk_words import here, met, why_not
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import Column, Row
from packgen.core.figures import listed
from packgen.core.worked import Source
from packgen.plan import Plan
from packgen.trade.risk import Risk, risks

LEAD = (
    "Before: likelihood x harm, and the level that follows without controls. After: what remains with every control in "
    "place. The levels are a first judgement; whoever is responsible on site judges again, by local rules. What would "
    "stay high is a hold."
)


def section(plan: Plan) -> Section:
    """Rows that are met here, then what was looked at and is not met."""
    every = risks()
    rows = [_row(plan, r) for r in every if met(plan, r)]
    columns = (
        Column("hazard, and what it is here", width_mm=58),
        Column("who", width_mm=26),
        Column("before", width_mm=28),
        Column("controls"),
        Column("after", width_mm=20),
    )
    blocks: list[Block] = [Text(LEAD, leads=True), Rows(Desk(columns, tuple(rows)))]
    absent = [r for r in every if not met(plan, r)]
    if absent:
        told = "; ".join(f"{_lower(r.title)} ({why_not(plan, r)})" for r in absent)
        blocks.append(Text(f"Looked at and not met here, with the reason in brackets: {told}."))
    blocks.append(Small(_sources([r for r in every if met(plan, r)])))
    blocks.append(Text(f"Person responsible for the controls {'_' * 34}  read to the crew on {'_' * 20}"))
    return Section("risks", "Risk assessment", tuple(blocks))


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _row(plan: Plan, risk: Risk) -> Row:
    open_holds = [n for n, f in numbered(plan) if f.open_stop and f.code in risk.codes]
    after: str = risk.residual
    if open_holds:
        held = listed([str(n) for n in open_holds], most=3)
        after = f"HOLD {held}; once lifted {risk.residual}"
    what = here(plan, risk)
    return Row(
        (
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
    text = "; ".join(f"{s.title}, {s.clause}" if s.clause else s.title for s in named.values())
    return f"Sources: {text}. All else is common practice. Holds by number: {see('unconfirmed')}."
