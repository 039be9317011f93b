"""Section 2: what is not confirmed: the open holds of the plan, and what the project file does not state."""

from __future__ import annotations

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.client.missing import missing
from packgen.booklet.client.refs import number_of, see
from packgen.booklet.client.tables import holds_words
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheets.holds import found_and_limit
from packgen.booklet.signs import mark
from packgen.core.finding import GATES
from packgen.plan import Plan

LIFTS = {"numbers": "a changed plan", "paper": "a dated paper, by a named person", None: ""}


def section(plan: Plan) -> Section:
    """Open holds gate by gate, then what is not stated."""
    count = sum(f.open_stop for f in plan.findings)
    lead = (
        f"{first_upper(holds_words(count))} in this plan. A hold closes a gate: nothing behind the gate is done before "
        f"the hold is lifted. Who lifted what, with which paper, is written in {see('signoffs')}."
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
        Row(
            (
                mark(f.kind, n),
                f.gate or "",
                first_upper(f.says),
                found_and_limit(f),
                first_upper("; or ".join(f.cures)),
                LIFTS[f.lift],
            ),
            "light",
        )
        for gate in GATES
        for n, f in stops
        if f.gate == gate
    ]
    columns = (
        Column("no.", width_mm=11),
        Column("before", width_mm=21),
        Column("what is open", width_mm=54),
        Column("found, limit", width_mm=23),
        Column("what closes it"),
        Column("lifted by", width_mm=25),
    )
    return Table(columns, tuple(rows), "Open holds")


def _missing(plan: Plan) -> Table:
    rows = [Row((first_upper(what), needed, str(number_of(key))), "light") for what, needed, key in missing(plan)]
    columns = (
        Column("not stated in the project file"),
        Column("needed for", width_mm=58),
        Column("section", width_mm=16),
    )
    return Table(columns, tuple(rows), "Not stated")
