"""Section 16: gates, holds and who signs what; holds lifted earlier keep their entries."""

from __future__ import annotations

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import day, listed
from packgen.core.finding import GATES
from packgen.plan import Plan

MOST_POURS = 6
LEAD = (
    "Six gates are met in this order: order, base, grid, fill, cover, handover. A gate is passed when its holds are "
    "lifted and its line below is signed. Nothing is signed without a number or a paper beside it."
)


def section(plan: Plan) -> Section:
    """The line of each gate to sign, then what was lifted."""
    blocks: list[Block] = [Text(LEAD, leads=True), Rows(_signs(plan))]
    if lifted := _lifted(plan):
        blocks.append(Rows(lifted))
    return Section("signoffs", "Holds and sign-off", tuple(blocks))


def _signs(plan: Plan) -> Table:
    open_of = {g: [n for n, f in numbered(plan) if f.open_stop and f.gate == g] for g in GATES}
    rows: list[Row] = []
    for gate in GATES:
        for k, what in enumerate(_signed(plan, gate)):
            held = ""
            if k == 0:
                held = f"held by {listed([str(n) for n in open_of[gate]], most=4)}" if open_of[gate] else "open"
            rows.append(Row((gate if k == 0 else "", held, what, "", "", ""), "light" if k == 0 else "", keep=k > 0))
    columns = (
        Column("before", width_mm=22),
        Column("holds now", width_mm=24),
        Column("what is signed"),
        Column("name, role", "write", 34),
        Column("date, signature", "write", 34),
        Column("paper no.", "write", 20),
    )
    return Desk(columns, tuple(rows))


def _signed(plan: Plan, gate: str) -> tuple[str, ...]:
    pours = plan.sequence.pours
    wet = any(w.key == "test_not_before" for w in plan.sequence.waiting)
    filled = [f"Pour {p.number} closed, {day(p.date)}" for p in pours[:MOST_POURS]]
    if len(pours) > MOST_POURS:
        filled = [f"{len(pours)} pours closed, each on its day's log"]
    cover = ["Surface read; floor released for covering"]
    if plan.project.heating is not None:
        cover.insert(0, "Heating run up and cold, log complete")
    if wet:
        cover.insert(len(cover) - 1, "Moisture test passed")
    signs = {
        "order": ("Statement accepted; order placed",),
        "base": ("Base may be worked on",),
        "grid": ("Base accepted; sheet and strip complete",),
        "fill": ("Grid read a second time and released", *filled),
        "cover": tuple(cover),
        "handover": ("Floor and papers handed over",),
    }
    return signs[gate]


def _lifted(plan: Plan) -> Table | None:
    rows = []
    for n, f in numbered(plan):
        if f.kind == "stop" and f.lifted_by is not None:
            by = f.lifted_by
            covers = f", for {by.covers}" if by.covers else ""
            cells = (str(n), f.gate or "", first_upper(f.says), f"{by.by}, {day(by.date)}: {by.paper}{covers}")
            rows.append(Row(cells, "light"))
    columns = (
        Column("no.", "number", 11),
        Column("before", width_mm=21),
        Column("hold"),
        Column("lifted by, with which paper", width_mm=70),
    )
    return Desk(columns, tuple(rows), "Holds lifted") if rows else None
