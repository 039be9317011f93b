"""Which sheets in which order for whom: the one place that says so."""

from __future__ import annotations

from packgen.booklet.client import statement
from packgen.booklet.client.order import CLIENT
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets import (
    annex,
    asbuilt,
    base,
    boards,
    cards,
    cover,
    datum,
    depths,
    faults,
    first,
    grid,
    handover,
    hazards,
    height,
    holds,
    legs,
    log,
    mixing,
    moisture,
    order,
    parts,
    pipes,
    placing,
    pours,
    ready,
    restart,
    sections,
    setout,
    waiting,
)
from packgen.plan import Plan

SITE = (
    *(cover, first, ready, hazards, holds),
    *(base, height, datum, grid, setout, parts, pipes, cards, legs, sections, depths),
    *(order, pours, mixing, placing, boards, faults, log, restart),
    *(waiting, moisture, asbuilt, handover),
    annex,
)


def sheets_of(plan: Plan, edition: str) -> tuple[Sheet, ...]:
    """The sheets of an edition, "site" or "client", in order."""
    if edition == "client":
        return statement.sheets(plan, CLIENT)
    return tuple(sheet for module in SITE for sheet in module.sheets(plan))
