"""Section 1: which document this is, what changed, who has it."""

from __future__ import annotations

from packgen.booklet.client.blocks import Rows, Section
from packgen.booklet.client.tables import pairs
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sign import sign_of
from packgen.core.figures import day
from packgen.plan import Plan

BLANK_REVISIONS, BLANK_COPIES = 1, 2


def section(plan: Plan) -> Section:
    """Facts, revisions, distribution."""
    return Section("document", "Document data", (Rows(_facts(plan)), Rows(_revisions(plan)), Rows(_copies(plan))))


def _facts(plan: Plan) -> Table:
    info = plan.project.project
    return pairs(
        (
            ("what this is", f"method statement for {info.name}{f', {info.reference}' if info.reference else ''}"),
            (
                "figures",
                f"all from the plan with the sign {sign_of(plan)}, the plan of the work pack for the site; made from "
                f"the project file {plan.project.file_name}. A pack or statement with another sign is another plan",
            ),
            ("lengths and heights", f"mm; heights above or below {plan.project.datum.name}: {_datum(plan)}"),
        )
    )


def _datum(plan: Plan) -> str:
    datum = plan.project.datum
    return f"{datum.where}{f', {datum.means}' if datum.means else ''}"


def _revisions(plan: Plan) -> Table:
    info = plan.project.project
    rows = [Row((info.revision or "none", day(info.date), sign_of(plan), "not stated in the project file"), "light")]
    rows += [Row(("", "", "", ""))] * BLANK_REVISIONS
    columns = (
        Column("revision", "write", 22),
        Column("date", "write", 36),
        Column("plan sign", "write", 30),
        Column("what changed since the one before", "write"),
    )
    return Table(columns, tuple(rows), "Revisions")


def _copies(plan: Plan) -> Table:
    client = plan.project.project.client
    first = [Row((client, "client", "", ""))] if client else []
    columns = (
        Column("given to", "write"),
        Column("as", "write", 44),
        Column("date", "write", 30),
        Column("received", "write", 40),
    )
    return Table(columns, (*first, *[Row(("", "", "", ""))] * (BLANK_COPIES - len(first))), "Distribution")
