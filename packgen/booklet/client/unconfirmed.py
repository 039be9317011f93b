"""Section 2: what is not confirmed: the open holds of the plan, and what the project file does not state."""

from __future__ import annotations

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.client.closers import closers
from packgen.booklet.client.missing import missing
from packgen.booklet.client.refs import number_of, see
from packgen.booklet.client.tables import holds_words
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheets.holds import found_and_limit
from packgen.booklet.signs import mark
from packgen.core.finding import GATES, Finding
from packgen.plan import Plan

COLUMNS = 3
MOST_CURES = 2  # the cheapest; all of them stand in the work pack
LIFTS = {"numbers": "numbers", "paper": "paper", None: ""}


def section(plan: Plan) -> Section:
    """Open holds gate by gate, then what is not stated."""
    count = sum(f.open_stop for f in plan.findings)
    lead = (
        f"{first_upper(holds_words(count))} in this plan. A hold closes a gate: nothing behind it is done before the "
        "hold is lifted, by changed numbers that give a new plan, or by a dated paper of a named person. "
        f"Signatures: {see('signoffs')}."
        if count
        else "No hold stands in this plan: heights, depths, weight, base, damp, services, heating, weather, order of "
        f"work and papers were looked at. Holds lifted earlier are listed in {see('signoffs')}."
    )
    blocks: list[Block] = [Text(lead, leads=bool(count))]
    if count:
        blocks.append(Rows(_holds(plan)))
    blocks.append(Rows(_missing(plan)))
    return Section("unconfirmed", "What is not confirmed", tuple(blocks))


def _holds(plan: Plan) -> Table:
    stops = [(n, f) for n, f in numbered(plan) if f.open_stop]
    rows = [
        Row((mark(f.kind, n), f.gate or "", _words(f), found_and_limit(f), LIFTS[f.lift]), "light")
        for gate in GATES
        for n, f in stops
        if f.gate == gate
    ]
    columns = (
        Column("no.", width_mm=11),
        Column("before", width_mm=21),
        Column("what is open, and what closes it"),
        Column("found, limit", width_mm=27),
        Column("lifted by", width_mm=19),
    )
    return Desk(columns, tuple(rows))


def _words(f: Finding) -> str:
    ways = closers(f, MOST_CURES)
    return first_upper(f.says) + (f" To do: {'; or '.join(ways)}." if ways else "")


def _missing(plan: Plan) -> Table:
    """In columns, each with the number of the section that would have it."""
    found = [f"{first_upper(what)} ({number_of(key)})" for what, key in missing(plan)]
    lines = -(-len(found) // COLUMNS)
    found += [""] * (lines * COLUMNS - len(found))
    rows = [Row(tuple(found[k + c * lines] for c in range(COLUMNS)), "light") for k in range(lines)]
    return Desk(tuple([Column("")] * COLUMNS), tuple(rows), "Not stated in the project file (section)")
