"""The pours of the demo projects: sums, bags, batches, hours, stop lines."""

from __future__ import annotations

import pytest
import shapely

from packgen.plan import Plan
from packgen.sequence.pace import drum_in
from packgen.sequence.pours import bags_for, fill_named
from packgen.sequence.stop_lines import stop_line


def test_litres_are_sums_of_printed_rows(plan: Plan) -> None:
    rows = {b.bay: b.volume_l for b in plan.quantities.bays}
    for pour in plan.sequence.pours:
        running = 0.0
        for turn in pour.turns:
            running += rows[turn.bay]
            assert turn.cumulative_l == running
        assert pour.volume_l == running
    assert sum(p.volume_l for p in plan.sequence.pours) == plan.quantities.volume_l


def test_bags_hold_the_litres_and_one_bag_less_would_not(plan: Plan) -> None:
    for pour in plan.sequence.pours:
        bag = fill_named(plan.project, pour.fill).bag
        assert pour.bags * bag.makes >= pour.to_order_l - 0.05
        assert (pour.bags - 1) * bag.makes < pour.to_order_l + 0.05


def test_batches_use_up_the_bags(plan: Plan) -> None:
    for pour in plan.sequence.pours:
        if pour.batches:
            assert (pour.batches - 1) * pour.bags_per_batch + pour.last_batch_bags == pour.bags
            assert 0 < pour.last_batch_bags <= pour.bags_per_batch
        else:
            assert pour.water_l is None


def test_days_follow_the_grid_and_one_another_on_working_days(plan: Plan) -> None:
    calendar = plan.project.calendar
    dates = [w.date for w in plan.sequence.work_days] + [p.date for p in plan.sequence.pours]
    assert dates == sorted(set(dates))
    assert all(d.weekday() in calendar.working_days and d not in calendar.not_working for d in dates)


def test_a_day_ends_within_the_hours_of_the_crew(plan: Plan) -> None:
    for pour in plan.sequence.pours:
        ends = [t.ends_at for t in pour.turns]
        assert ends == sorted(ends)
        assert pour.starts_at < ends[0]
        assert pour.ends_at == ends[-1] <= pour.work_ends_at
        assert pour.hours <= pour.hours_free


def test_a_stop_line_parts_the_days(plan: Plan) -> None:
    pours = plan.sequence.pours
    assert [p.stop_line is None for p in pours] == [p is pours[-1] for p in pours]
    for pour in pours:
        for stop in (*pour.earlier_stops, *([pour.stop_line] if pour.stop_line else [])):
            assert stop.says
            assert stop.length_mm == pytest.approx(sum(e.length_mm for e in stop.edges))
            assert 0 < stop.bags_used <= pour.bags
        used = [s.bags_used for s in pour.earlier_stops]
        assert used == sorted(used)


def test_a_stop_line_has_the_days_fill_on_one_side_and_open_floor_on_the_other(plan: Plan) -> None:
    bays = {b.name: shapely.Polygon(b.shape.shell, b.shape.holes) for b in plan.layout.bays}
    done: set[str] = set()
    for pour in plan.sequence.pours:
        done |= set(pour.bays)
        if pour.stop_line is None:
            continue
        today = shapely.union_all([bays[n] for n in pour.bays])
        still_open = shapely.union_all([bays[n] for n in bays if n not in done])
        common = today.buffer(0.01).intersection(still_open.boundary).length
        assert pour.stop_line.length_mm == pytest.approx(common, abs=2)
        for edge in pour.stop_line.edges:
            line = shapely.LineString([edge.a, edge.b])
            assert line.distance(today) < 1
            assert line.distance(still_open) < 1


def test_bags_are_rounded_up_once_a_pour(plan_of) -> None:  # type: ignore[no-untyped-def]
    """640 L with 5 % waste in bags of 12.5 L: 53.76, so 54 (worked example of the trade text, calculated)."""
    fill = plan_of("02-extension-heated").project.fills.used
    assert bags_for(640, fill) == 54
    assert sum(bags_for(20, fill) for _ in range(32)) == 64


@pytest.mark.parametrize(
    ("item", "litres"),
    [("mixer 80 l", 80.0), ("whisk and tub, 65 litres", 65.0), ("wheelbarrow 85 l", None), ("mixer", None)],
)
def test_a_drum_is_read_from_the_item(item: str, litres: float | None) -> None:
    assert drum_in(item) == litres


def test_a_day_that_fills_a_room_ends_at_its_end(plan_of) -> None:  # type: ignore[no-untyped-def]
    layout = plan_of("07-school-exercise-bay").layout
    stop = stop_line(layout.bays[0].name, (), 4, layout)
    assert stop.says == "the end of bay"
    assert stop.length_mm == 0
