"""Moisture test and heat-up log: to prove that the floor may be covered."""

from __future__ import annotations

import datetime

from packgen.booklet.base_spots import place_words
from packgen.booklet.charts import heat_chart
from packgen.booklet.moisture_points import MoisturePoint, test_points
from packgen.booklet.rows import BODY_MM, SHEET_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.small_plans import test_plan
from packgen.core.figures import day, number, plain
from packgen.plan import Plan
from packgen.trade.limits import Binder, air_limit, cm_limit
from packgen.trade.site_readings import reading_rule
from packgen.trade.waiting import heating_days

LEAD_MM = 72.0
LOG_LEAD_MM = 34.0
SIGNED_MM = 24.0
TRIES = 2  # rows a point: the test, and the test again


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Test sheets by room, then the heat-up log; nothing for a fill that does not have to dry and is not heated."""
    made: list[Sheet] = []
    points = test_points(plan)
    tables = [part for room in plan.survey.rooms for part in _parts(plan, room.name, points)]
    for n, table in enumerate(tables, 1):
        made.append(
            Sheet(
                slug="moisture" if n == 1 else f"moisture-{n}",
                title="Moisture test",
                purpose="The floor is covered only after a passed test. A date alone proves nothing.",
                template="moisture.html",
                view=_test_view(plan, table, points),
                part=n,
                parts=len(tables),
            )
        )
    if plan.project.heating and any(w.key == "heat_up_not_before" for w in plan.sequence.waiting):
        logs = parted(_log(plan), BODY_MM - LOG_LEAD_MM)
        for n, log in enumerate(logs, 1):
            made.append(
                Sheet(
                    slug="heat-up" if n == 1 else f"heat-up-{n}",
                    title="Heat-up log",
                    purpose="The heating fitter fills it in, a line a day, from the first warm flow until it is cold.",
                    template="heat_up.html",
                    view=_log_view(plan, log),
                    part=n,
                    parts=len(logs),
                )
            )
    return tuple(made)


# ------------------------------------------------------------------------------ the test


def _parts(plan: Plan, room: str, points: tuple[MoisturePoint, ...]) -> tuple[Table, ...]:
    rows: list[Row] = []
    for p in (p for p in points if p.room == room):
        clear = f"; {number(p.clear_mm)} from a pipe" if p.clear_mm is not None else ""
        along, into = place_words(plan, p.at)
        place = f"{along} along wall 1 from corner 1, {into} into the room{clear}"
        rows.append(Row((str(p.number), place, number(p.depth_mm), "", "", "", ""), "light", strong=False))
        rows += [Row(("", "again, if it failed", "", "", "", "", ""), keep=True) for _ in range(TRIES - 1)]
    table = Table(
        (
            Column("point", width_mm=13),
            Column("where", width_mm=48),
            Column("depth", "number", 16, "mm"),
            Column("date", "write", 24),
            Column("method, instrument", "write", 38),
            Column("reading", "write", 22),
            Column("passed", "tick"),
        ),
        tuple(rows),
        f"Readings, {room}",
    )
    return parted(table, BODY_MM - LEAD_MM - SIGNED_MM) if rows else ()


def binder(plan: Plan) -> Binder:
    """What binds the fill, for the limits."""
    return "calcium sulfate" if plan.project.fills.used.family == "calcium sulfate" else "cement"


def _test_view(plan: Plan, table: Table, points: tuple[MoisturePoint, ...]) -> dict[str, object]:
    heated = plan.project.heating is not None
    air, cm = air_limit(), cm_limit(binder(plan), heated)
    not_before = plan.sequence.dates.get("test_not_before")
    off = reading_rule("heating_off")
    steps = [
        "Wait for the date above. Look at the floor: no dark patches, cover off, windows as in daily use.",
        "Mark each point and keep it clear of pipes: look at the plan of the pipes before you drill.",
        "Take the crushed sample from the full depth; leave the sealed box until two readings a day apart agree.",
        "Write down every reading, the failed ones too. Failed: wait, and test again at the same point.",
    ]
    if heated:
        steps.insert(1, f"Heating off {plain(off.value)} {off.unit} or more ({off.source}).")
    return {
        "table": table,
        "plan": test_plan(plan, points, BODY_MM - LEAD_MM - table.height_mm - SIGNED_MM),
        "figures": (
            ("Test not before", day(not_before) if not_before else "see the calendar", "", "the test decides"),
            ("Crushed sample, at most", plain(cm.value), cm.unit, str(cm.source)),
            ("Sealed box, at most", plain(air.value), air.unit, str(air.source)),
        ),
        "steps": tuple(steps),
        "both": heated and binder(plan) == "calcium sulfate",
        "unheated": plain(cm_limit(binder(plan), False).value),
    }


# ------------------------------------------------------------------------------ the log


def _log(plan: Plan) -> Table:
    return Table(
        (
            Column("day", "number", 12),
            Column("date", width_mm=34),
            Column("flow asked", "number", 24, "°C"),
            Column("flow read", "write", 24, "°C"),
            Column("room", "write", 22, "°C"),
            Column("windows, draught", "write", 32),
            Column("by", "write"),
        ),
        tuple(
            Row((str(n), day(when), asked, "", "", "", ""), "light" if new else "")
            for n, when, asked, new in _days(plan)
        ),
    )


def _days(plan: Plan) -> list[tuple[int, datetime.date, str, bool]]:
    """Each day of the programme: number, date, flow asked, and whether a stage starts."""
    heating = plan.project.heating
    start = plan.sequence.dates["heat_up_not_before"]
    if heating is None:
        return []
    stages: list[tuple[str, int]] = []
    first, second, cool = heating.first_stage, heating.second_stage, heating.cool_down
    stages.append((plain(first.flow) if first else "", int(first.days) if first else heating_days("first_stage").days))
    stages.append(
        (plain(second.flow) if second else "", int(second.days) if second else heating_days("second_stage").days)
    )
    if cool:
        stages.append(("down", int(cool.days)))
    days = [(asked, k == 0) for asked, count in stages for k in range(count)]
    return [(n, start + datetime.timedelta(days=n - 1), asked, new) for n, (asked, new) in enumerate(days, 1)]


def _log_view(plan: Plan, log: Table) -> dict[str, object]:
    dates = plan.sequence.dates
    flows = tuple((n, float(asked)) for n, _, asked, _ in _days(plan) if asked not in ("", "down"))
    room = BODY_MM - LOG_LEAD_MM - log.height_mm - 22
    return {
        "table": log,
        "chart": heat_chart(flows, len(_days(plan)), SHEET_MM, min(70.0, room)) if flows and room > 40 else None,
        "start": day(dates["heat_up_not_before"]),
        "later": "Started later? Cross out the dates and write your own; the days stay.",
    }
