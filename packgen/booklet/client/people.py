"""Section 9: who works, with which machines; what the file does not state is said, not filled in."""

from __future__ import annotations

from packgen.booklet.client.blocks import MISSING, Rows, Section, Text
from packgen.booklet.dense import Desk
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import plain
from packgen.plan import Plan
from packgen.project.work_model import Plant

WHO_STOPS = (
    "Anyone on site may stop the work. It goes on when the person in charge has looked at the place. Person in charge: "
)


def section(plan: Plan) -> Section:
    """People, hours, plant."""
    return Section(
        "people",
        "People and plant",
        (Rows(_people(plan), whole=True), Text(f"{WHO_STOPS}{MISSING}. {_hours(plan)}"), Rows(_plant(plan))),
    )


def _people(plan: Plan) -> Table:
    roles: dict[tuple[str, float], int] = {}
    for p in plan.project.crew:
        roles[(p.role, p.hours_a_day)] = roles.get((p.role, p.hours_a_day), 0) + p.number
    rows = [
        Row((role, str(count), plain(hours, 1), MISSING, MISSING), "light") for (role, hours), count in roles.items()
    ]
    columns = (
        Column("role"),
        Column("number", "number", 22),
        Column("hours a day", "number", 26),
        Column("competence paper", width_mm=42),
        Column("name", width_mm=42),
    )
    return Desk(columns, tuple(rows))


def _hours(plan: Plan) -> str:
    tasks = [f"{task} {plain(hours, 1)}" for task, hours in plan.sequence.person_hours]
    total = plain(sum(h for _, h in plan.sequence.person_hours), 1)
    if not tasks:
        return "Person hours: none planned."
    return (
        f"Person hours planned: {', '.join(tasks)}; together {total}. Preparing the base, sheets, strip, checks and "
        "clearing up are not in them."
    )


def _plant(plan: Plan) -> Table:
    used = [p for p in plan.project.plant if p.number]
    rows = [
        Row((p.item, str(p.number), p.power or MISSING, _output(p), MISSING, MISSING, MISSING), "light") for p in used
    ] or [Row(("none in the project file", "", "", "", "", "", ""), "light")]
    columns = (
        Column("plant"),
        Column("number", "number", 17),
        Column("power, fuel", width_mm=25),
        Column("output", width_mm=27),
        Column("noise", width_mm=23),
        Column("where it stands", width_mm=28),
        Column("checked by", width_mm=24),
    )
    return Desk(columns, tuple(rows))


def _output(p: Plant) -> str:
    if p.output is not None:
        return f"{plain(p.output)} L an hour"
    return f"drum {plain(p.drum)} L" if p.drum is not None else "–"
