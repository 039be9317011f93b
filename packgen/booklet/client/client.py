"""Section 11: what the client does and does not do."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from packgen.booklet.client.blocks import Rows, Section
from packgen.booklet.client.programme import ONE_DAY
from packgen.booklet.client.refs import see
from packgen.booklet.dense import Desk
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.tools import cement
from packgen.core.figures import day, listed, plain
from packgen.plan import Plan


def section(plan: Plan) -> Section:
    """What is asked by day and throughout, then what is not done and until when."""
    does_not = Desk(
        (Column("the client does not", width_mm=112), Column("until")), tuple(Row(r, "light") for r in _does_not(plan))
    )
    return Section("client", "What the client does", (Rows(_does(plan)), Rows(does_not)))


def _does(plan: Plan) -> Table:
    dated: dict[datetime.date, list[str]] = {}
    for when, what in sorted(_asked(plan), key=lambda a: a[0]):
        dated.setdefault(when, []).append(what)
    rows = [Row((day(when), "; ".join(whats)), "light") for when, whats in dated.items()]
    rows.append(Row(("throughout", "; ".join(_throughout(plan))), "light"))
    columns = (Column("by or on", width_mm=34), Column("what the client does"))
    return Desk(columns, tuple(rows))


def _asked(plan: Plan) -> Iterator[tuple[datetime.date, str]]:
    started, dates, pours = plan.sequence.started, plan.sequence.dates, plan.sequence.pours
    gates = [g for g in ("order", "base", "grid") if any(f.open_stop and f.gate == g for f in plan.findings)]
    if gates:
        yield started, f"Holds before {listed(gates)} lifted, or the work does not start"
    yield started, "Room cleared, access and keys; water, power, light; a dry store; occupants and neighbours told"
    wet = [f for f in fills_in_use(plan) if f.mixed]
    if pours:
        if any(f.open_stop and f.gate == "fill" for f in plan.findings):
            yield pours[0].date, "Holds before fill lifted, or nothing is filled"
        cold = [f.lowest_temperature for f in wet if f.lowest_temperature is not None]
        if cold and not plan.project.outside:
            yield pours[0].date, f"Room not below {plain(max(cold))} °C by day and night, windows shut, no draught"
    dries = "test_not_before" in dates
    look = "" if dries else "; surface looked at together, the covering may be called for"
    if "walk_on" in dates:
        yield dates["walk_on"], f"From this day on the floor may be walked on, not loaded{look}"
    if "load" in dates:
        yield dates["load"], "From this day on tools and material may stand on it, on boards"
    if "heat_up_not_before" in dates:
        yield dates["heat_up_not_before"], "Heating fitter runs up the heating and writes the log; not earlier"
    if dries:
        yield dates["test_not_before"], "Access for the moisture test; the covering is called for after it has passed"
    elif pours and "walk_on" not in dates:
        yield pours[-1].date + ONE_DAY, "Surface looked at together; the covering may be called for"


def _throughout(plan: Plan) -> Iterator[str]:
    yield f"Papers that lift the holds of {see('unconfirmed')} brought, or who brings them named"
    if any(f.mixed for f in fills_in_use(plan)) and not plan.project.outside:
        yield "windows and doors shut while the floor is covered, then aired as in daily use"
    yield "people, children and animals kept out; an answer within a working day where the plan has to change"


def _does_not(plan: Plan) -> Iterator[tuple[str, str]]:
    dates = plan.sequence.dates
    handed = "hand over"
    datum = plan.project.datum
    yield f"move or cover {datum.name} ({datum.where})", handed
    yield "walk on, lean on or move rails and legs", "the floor is filled"
    if "walk_on" in dates:
        burns = "; fresh cement burns skin" if cement(plan) else ""
        yield f"walk on the fresh floor{burns}", day(dates["walk_on"])
    if "load" in dates:
        yield "put loads, ladders, trolleys or other trades on it", day(dates["load"])
    if "covered_until" in dates:
        air = "" if plan.project.outside else ", open windows, run fans or dryers"
        yield f"take the cover off{air}", day(dates["covered_until"])
    if "heat_up_not_before" in dates:
        yield "turn the floor heating on", day(dates["heat_up_not_before"])
    if "test_not_before" in dates:
        yield "lay, glue or grout a covering", f"a passed test, not made before {day(dates['test_not_before'])}"
    elif plan.sequence.boards_same_day:
        yield "walk on loose fill that is not boarded", "it is boarded"
    rail = plan.project.kit.rail.height
    yield f"drill, screw or cut into the floor (rails {plain(rail)} high, services: drawing 1)", "asked and answered"
    if plan.layout.joints:
        yield "fill or tile over a joint", "never: joints stay open through the covering"
