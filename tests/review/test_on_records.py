"""Findings that no readable project file brings about in a whole plan: judged on records changed by hand."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace

from packgen.core.finding import Finding
from packgen.core.plane import Segment, box
from packgen.layout.model import Bay, Crossing, JointLine
from packgen.plan import Plan
from packgen.review.judge import judge
from packgen.survey.model import Joined

PlanWith = Callable[..., Plan]


def findings(plan: Plan) -> tuple[Finding, ...]:
    return judge(plan.project, plan.survey, plan.layout, plan.heights, plan.quantities, plan.sequence)


def one(plan: Plan, kind: str, code: str) -> Finding:
    (found,) = [f for f in findings(plan) if (f.kind, f.code) == (kind, code)]
    return found


def test_levels_that_close_worse_than_allowed(plan_with: PlanWith) -> None:
    plan = plan_with("07")
    survey = replace(plan.survey, levels=replace(plan.survey.levels, misclosure_mm=-4.0))
    stop = one(replace(plan, survey=survey), "stop", "misclosure-large")
    assert (stop.number, stop.limit, stop.gate) == (4, 3, "grid")
    assert "misclosure 4 where 3 is allowed" in stop.says
    survey = replace(plan.survey, levels=replace(plan.survey.levels, misclosure_mm=-3.0))
    assert not [f for f in findings(replace(plan, survey=survey)) if f.code == "misclosure-large"]


def test_a_rail_across_a_movement_joint(plan_with: PlanWith) -> None:
    plan = plan_with("02")
    crossed = replace(plan.layout, joint_crossings=(Crossing(plan.layout.rails[0].id, "joint 1", (3125.0, 50.0)),))
    stop = one(replace(plan, layout=crossed), "stop", "movement-joint-crossed")
    assert plan.layout.rails[0].id in stop.says
    assert stop.where == "joint 1"


def test_fill_across_a_joint_of_the_building(plan_with: PlanWith) -> None:
    plan = plan_with("02")
    joint = JointLine(1, "structural", Segment((3125.0, 10.0), (3125.0, 4390.0)), 20.0, "")
    whole = replace(plan.layout, joints=(joint,))
    assert not [f for f in findings(replace(plan, layout=whole)) if f.code == "structural-joint-crossed"]
    bay = Bay("FG-23", box(3050, 650, 3650, 1250), 0.36, 5, 2, plan.layout.bays[0].room)
    stop = one(replace(plan, layout=replace(whole, bays=(*plan.layout.bays, bay))), "stop", "structural-joint-crossed")
    assert "FG-23" in stop.says
    assert stop.lift == "numbers"


def test_a_heated_field_three_times_as_long_as_wide(plan_with: PlanWith) -> None:
    plan = plan_with("02")
    assert not [f for f in plan.findings if f.code == "joint-missing"]
    joint = replace(plan.layout.joints[0], line=Segment((1400.0, 10.0), (1400.0, 4390.0)))
    caution = one(replace(plan, layout=replace(plan.layout, joints=(joint,))), "caution", "joint-missing")
    assert caution.unit == "times"
    assert caution.number is not None
    assert 3.1 < caution.number < 3.2  # 4382 by 1387 inside the strip


def test_floor_that_no_zone_covers(plan_with: PlanWith) -> None:
    plan = plan_with("07")
    heights = replace(plan.heights, unclaimed=(box(3000, 2000, 4000, 3000),))
    assert one(replace(plan, heights=heights), "stop", "floor-unclaimed").gate == "order"


def test_a_rail_over_a_border_of_two_rail_tops(plan_with: PlanWith) -> None:
    plan = plan_with("07")
    rail = plan.layout.rails[0].id
    stop = one(replace(plan, heights=replace(plan.heights, border_rails=(rail,))), "stop", "rail-over-border")
    assert (stop.where, stop.gate, stop.lift) == (rail, "grid", "numbers")


def test_a_day_that_ends_after_hours(plan_with: PlanWith) -> None:
    plan = plan_with("02")
    late = replace(plan.sequence.pours[0], ends_at=17 + 2 / 3, work_ends_at=16.0)
    caution = one(replace(plan, sequence=replace(plan.sequence, pours=(late,))), "caution", "day-too-long")
    assert "ends 17:40, and work ends 16:00" in caution.says


def test_a_way_in_over_fill_that_is_not_walkable(plan_with: PlanWith) -> None:
    plan = plan_with("02")
    (pour,) = plan.sequence.pours
    half = len(pour.turns) // 2
    first = replace(pour, turns=pour.turns[half:])
    after = tuple(replace(t, way_out=(*t.way_out, first.turns[0].bay)) for t in pour.turns[:half])

    def second(days: int) -> Plan:
        later = replace(pour, number=2, date=pour.date + datetime.timedelta(days=days), turns=after)
        return replace(plan, sequence=replace(plan.sequence, pours=(first, later)))

    assert first.turns[0].bay in one(second(2), "caution", "curing-conflict").says
    assert not [f for f in findings(second(3)) if f.code == "curing-conflict"]


def test_little_left_before_the_deadline(plan_with: PlanWith) -> None:
    plan = plan_with("02", [["not working: [2027-05-03]", "not working: [2027-05-03]\n  ready by: 2027-08-07"]])
    told = [f for f in plan.findings if (f.kind, f.code) == ("caution", "little-left") and f.unit == "days"]
    assert ["one day to spare" in f.says for f in told] == [True]


def test_rooms_that_lie_on_one_another(plan_with: PlanWith) -> None:
    plan = plan_with("07")
    (bay,) = plan.survey.rooms
    twice = replace(plan.survey, rooms=(bay, replace(bay, name="store")))
    stop = one(replace(plan, survey=twice), "stop", "rooms-overlap")
    assert "bay and store" in stop.says
    assert stop.lift == "numbers"


def test_a_doorway_that_misses_itself_round_a_ring_of_rooms(plan_with: PlanWith) -> None:
    plan = plan_with("07")
    (bay,) = plan.survey.rooms
    door = plan.project.openings[0].name

    def met(miss: float | None, turn: float) -> Plan:
        joined = Joined(door, "other side", "hall", 120.0, miss, turn)
        return replace(plan, survey=replace(plan.survey, rooms=(replace(bay, joined=(joined,)),)))

    caution = one(met(12.0, 0.0), "caution", "doorway-off")
    assert (caution.number, caution.limit, caution.unit) == (12, 10, "mm")
    assert one(met(None, 4.0), "caution", "doorway-off").limit == 3
    assert not [f for f in findings(met(10.0, 3.0)) if f.code == "doorway-off"]
