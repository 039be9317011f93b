"""Section 11: what the client does and does not do."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Rows, Section
from packgen.booklet.client.refs import see
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.tools import cement
from packgen.core.figures import day, plain
from packgen.plan import Plan


def section(plan: Plan) -> Section:
    """Two tables."""
    does = Table((Column("the client does", width_mm=38), Column("")), tuple(Row(r, "light") for r in _does(plan)))
    does_not = Table(
        (Column("the client does not", width_mm=112), Column("until")), tuple(Row(r, "light") for r in _does_not(plan))
    )
    return Section("client", "What the client does and does not do", (Rows(does), Rows(does_not)))


def _does(plan: Plan) -> Iterator[tuple[str, str]]:
    yield "Access", f"gives access on the days of {see('programme')}, clears the rooms, keeps a way to the door free"
    yield "Papers", f"brings the papers that lift the holds of {see('unconfirmed')}, or names who does"
    outside = plan.project.outside
    if any(f.mixed for f in fills_in_use(plan)) and not outside:
        yield "Climate", "keeps windows and doors shut while the floor is covered, then airs as in daily use"
    circuits = any(s.heating for s in plan.project.services)
    if plan.project.heating is not None or circuits:
        first = plan.sequence.dates.get("heat_up_not_before")
        when = f", not before {day(first)}" if first else ""
        yield "Heating", f"has the heating tested before filling and run up{when} by a heating fitter"
    lived = plan.project.project.house_lived_in
    if lived != "no":
        yield "Traffic", "keeps people, children and animals out; tells visitors and other trades"
    if "test_not_before" in plan.sequence.dates:
        yield "Drying", "waits for a passed test; a failed test means waiting and testing again"
    yield "Decisions", "answers within a working day where the plan has to change; the plan is printed again"


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
        yield "take the cover off, open windows, run fans or dryers", day(dates["covered_until"])
    if "heat_up_not_before" in dates:
        yield "turn the floor heating on", day(dates["heat_up_not_before"])
    if "test_not_before" in dates:
        yield "lay, glue or grout a covering", f"a passed test, not made before {day(dates['test_not_before'])}"
    elif plan.sequence.boards_same_day:
        yield "walk on loose fill that is not boarded", "it is boarded"
    rail = plan.project.kit.rail.height
    yield f"drill, screw or cut into the floor (rails {plain(rail)} high, services: drawing 1)", "asked and answered"
    yield "fill or tile over a joint", "never: joints stay open through the covering" if plan.layout.joints else handed
