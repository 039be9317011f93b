"""Litres of the demo projects' bays."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.figures import half_up
from packgen.core.surface import level_at
from packgen.plan import Plan
from packgen.quantities.beds import drain_beds
from packgen.quantities.fill import bay_fills


def test_rows_are_whole_litres_and_their_sum_is_the_total(plan: Plan) -> None:
    rows = plan.quantities.bays
    assert [r.bay for r in rows] == [b.name for b in plan.layout.bays]
    assert all(r.volume_l == half_up(r.area_m2 * r.mean_depth_mm) for r in rows)
    assert plan.quantities.volume_l == sum(r.volume_l for r in rows)


def test_rounding_bay_by_bay_stays_within_half_a_litre_a_bay(plan: Plan) -> None:
    beds = sum(b.volume_l for b in drain_beds(plan.project, plan.survey, plan.layout, plan.heights))
    exact = plan.heights.depth.volume_l + beds
    assert abs(plan.quantities.volume_l - exact) <= 0.5 * len(plan.quantities.bays)
    assert plan.quantities.volume_l == pytest.approx(exact, rel=0.003)


@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_adding_a_bay_never_lowers_the_volume(plan_of, data: st.DataObject) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("08-skew-old-house-room")
    some = data.draw(st.sets(st.integers(0, len(plan.layout.bays) - 1), min_size=2))
    one_less = sorted(some)[:-1]

    def volume(chosen: list[int]) -> float:
        layout = replace(plan.layout, bays=tuple(plan.layout.bays[i] for i in chosen))
        heights = replace(plan.heights, spot_depths=tuple(plan.heights.spot_depths[i] for i in chosen))
        return sum(r.volume_l for r in bay_fills(plan.project, plan.survey, layout, heights))

    assert volume(sorted(some)) >= volume(one_less)


def test_a_channel_is_set_in_fill_and_a_body_of_known_height_is_taken_off(plan_of) -> None:  # type: ignore[no-untyped-def]
    """The terrace's channel: 2600 x 130, depth at its middle from the surfaces."""
    plan = plan_of("05-terrace-with-falls")
    beds = drain_beds(plan.project, plan.survey, plan.layout, plan.heights)
    assert sum(b.area_m2 for b in beds) == pytest.approx(2.6 * 0.13)
    at = (3000.0, 65.0)
    depth = level_at(plan.heights.rail_top, at) - level_at(plan.survey.base, at)
    assert sum(b.volume_l for b in beds) == pytest.approx(2.6 * 0.13 * depth, rel=0.02)
    drain = plan.project.drains[0].model_copy(update={"body_height": 40.0})
    shallow = plan.project.model_copy(update={"drains": (drain,)})
    less = drain_beds(shallow, plan.survey, plan.layout, plan.heights)
    taken_off = sum(b.volume_l for b in beds) - sum(b.volume_l for b in less)
    assert taken_off == pytest.approx(2.6 * 0.13 * 40)


def test_bays_beside_a_channel_take_its_bed_by_the_length_they_share(plan_of) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("05-terrace-with-falls")
    bays = {b.name: b for b in plan.layout.bays}
    for bed in drain_beds(plan.project, plan.survey, plan.layout, plan.heights):
        xs = [x for x, _ in bays[bed.bay].shape.shell]
        ys = [y for _, y in bays[bed.bay].shape.shell]
        assert min(ys) < 300
        assert max(xs) > 1690
        assert min(xs) < 4310
