"""Section 20: what is offered for acceptance, what the client acknowledges, the signatures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from packgen.booklet.client.blocks import MISSING, Filler, Rows, Section, Text
from packgen.booklet.client.missing import missing
from packgen.booklet.client.refs import see
from packgen.booklet.client.tables import holds_words
from packgen.booklet.dense import Desk
from packgen.booklet.rows import WRITE_MM, Column, Row, Table
from packgen.booklet.sign import sign_of
from packgen.core.figures import day
from packgen.plan import Plan

REMARKS = "Remarks and agreements"
MOST_REMARKS = 14


def section(plan: Plan) -> Section:
    """Offers, acknowledgement, signatures, and room for remarks."""
    return Section(
        "acceptance",
        "Acceptance and signatures",
        (
            Rows(_offered(plan)),
            Text(_acknowledged(plan), leads=True),
            Rows(_signatures(plan), whole=True),
            Filler(_remarks),
        ),
    )


def _offered(plan: Plan) -> Table:
    rows = [Row((*cells, f"share {MISSING}"), "light") for cells in _offers(plan)]
    columns = (
        Column("offered for acceptance", width_mm=50),
        Column("when"),
        Column("held against", width_mm=36),
        Column("payment then due", width_mm=34),
    )
    return Desk(columns, tuple(rows))


def _offers(plan: Plan) -> Iterator[tuple[str, str, str]]:
    sequence, dates = plan.sequence, plan.sequence.dates
    set_days = [w.date for w in sequence.work_days if "grid" in w.task]
    yield (
        "The grid, set and read a second time",
        f"after {day(max(set_days, default=sequence.started))}, before the first bag is opened",
        f"rail tops in {see('quality')}",
    )
    if sequence.pours:
        walk = dates.get("walk_on")
        yield (
            "The filled floor",
            f"from {day(walk)}, when it may be walked on" if walk else f"after {day(sequence.pours[-1].date)}",
            f"surface and steps in {see('quality')}",
        )
    if "test_not_before" in dates:
        yield (
            "The dry floor",
            f"after a passed test, not made before {day(dates['test_not_before'])}",
            f"moisture in {see('quality')}",
        )
    yield "The papers", "at hand over", f"the lines of {see('signoffs')}"


def _acknowledged(plan: Plan) -> str:
    count = sum(f.open_stop for f in plan.findings)
    gaps = len(missing(plan))
    holds = f"the open holds ({holds_words(count)})" if count else "that no hold stands"
    return (
        f"By signing, the client acknowledges the plan with the sign {sign_of(plan)}, the assumptions of "
        f"{see('assumptions')}, the exclusions of {see('exclusions')}, {holds} and the {gaps} points not stated in "
        f"{see('unconfirmed')}. A signature lifts no hold."
    )


def _signatures(plan: Plan) -> Table:
    info = plan.project.project
    contractor = info.contractor.name if info.contractor else ""
    parties = (("for the contractor", contractor), ("for the client", info.client or ""), ("for others: ", ""))
    rows = [Row((who, name, "", "", ""), "light") for who, name in parties]
    columns = (
        Column("", width_mm=32),
        Column("name", "write", 46),
        Column("role", "write", 34),
        Column("date", "write", 28),
        Column("signature", "write"),
    )
    return Desk(columns, tuple(rows), "Signatures")


def _remarks(room_mm: float) -> Table | None:
    table = Desk((Column("what was agreed", "write"), Column("by, date", "write", 52)), (), REMARKS)
    count = int((room_mm - table.height_mm - 2.0) // WRITE_MM)
    return replace(table, rows=(Row(("", "")),) * min(count, MOST_REMARKS)) if count > 1 else None
