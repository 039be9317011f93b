"""What must follow when levels move together, and what must not."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

SLOW = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
DEMO = st.sampled_from(["01-attic-studio", "02-extension-heated", "05-terrace-with-falls", "07-school-exercise-bay"])


def with_readings_raised(project, d):
    """The same base d mm higher: every staff reading on it is d smaller; datum and change points stay."""
    setups = tuple(
        s.model_copy(update={"readings": tuple(r.model_copy(update={"value": r.value - d}) for r in s.readings)})
        for s in project.levels.setups
    )
    return project.model_copy(update={"levels": project.levels.model_copy(update={"setups": setups})})


def with_finished_raised(project, d):
    zones = tuple(
        z.model_copy(
            update={"finished_level": z.finished_level.model_copy(update={"level": z.finished_level.level + d})}
        )
        for z in project.finishes
    )
    return project.model_copy(update={"finishes": zones})


def legs(found):
    return {leg.node: leg.leg_mm for leg in found.heights.legs}


@SLOW
@given(DEMO, st.integers(-15, 15))
def test_a_base_d_higher_makes_every_leg_d_shorter(settle, resettle, name, d):
    before = settle(name)
    after = resettle(with_readings_raised(before.project, d))
    assert legs(after) == {n: leg - d for n, leg in legs(before).items()}
    assert after.heights.depth.mean_mm == pytest.approx(before.heights.depth.mean_mm - d)


@SLOW
@given(DEMO, st.integers(-15, 15))
def test_a_finished_level_d_higher_makes_every_leg_d_longer(settle, resettle, name, d):
    before = settle(name)
    after = resettle(with_finished_raised(before.project, d))
    assert legs(after) == {n: leg + d for n, leg in legs(before).items()}
    assert [b.level_mm for b in after.heights.window.at_least] == pytest.approx(
        [b.level_mm for b in before.heights.window.at_least]
    )
    assert [b.level_mm for b in after.heights.window.at_most] == pytest.approx(
        [b.level_mm for b in before.heights.window.at_most]
    )


@SLOW
@given(DEMO, st.integers(-20, 20))
def test_a_datum_d_lower_moves_nothing_on_site(settle, resettle, name, d):
    """TBM moved d down: all levels and asked heights read d more, the laser's backsight on it too."""
    before = settle(name)
    raised = with_finished_raised(with_readings_raised(before.project, d), d)
    openings = tuple(
        o.model_copy(
            update={
                "sill": None if o.sill is None else o.sill + d,
                "floor_there": None if o.floor_there is None else o.floor_there + d,
            }
        )
        for o in raised.openings
    )
    after = resettle(raised.model_copy(update={"openings": openings}))
    assert legs(after) == legs(before)
    assert after.heights.depth.volume_l == pytest.approx(before.heights.depth.volume_l)
    assert [d.step_mm for d in after.heights.doors] == pytest.approx([d.step_mm for d in before.heights.doors])
    assert [c.cover_mm for c in after.heights.covers] == pytest.approx([c.cover_mm for c in before.heights.covers])


def test_the_name_of_the_datum_changes_nothing(settle):
    name = "07-school-exercise-bay"
    renamed = settle(name, ("TBM", "BM1"))
    assert legs(renamed) == legs(settle(name))
    assert any(line.unit.endswith("below BM1") for line in renamed.heights.worked)


def test_moving_the_laser_moves_targets_and_no_leg(settle):
    name, key = "02-extension-heated", "prices:"
    low = settle(name, (key, "today: {date: 2027-04-12, backsight: 1405}\n\nprices:")).heights
    high = settle(name, (key, "today: {date: 2027-04-12, backsight: 1488}\n\nprices:")).heights
    assert {leg.target_mm for leg in low.legs} == {1405 + 18}
    assert {leg.target_mm for leg in high.legs} == {1488 + 18}
    assert [leg.leg_mm for leg in low.legs] == [leg.leg_mm for leg in high.legs]


def test_target_over_a_rail_top_above_the_datum(settle):
    """Rail top 12 above, backsight 1400: 1388."""
    changes = (
        ("finished level: same as TBM", "finished level: 30 above TBM"),
        ("prices:", "today: {date: 2027-04-12, backsight: 1400}\n\nprices:"),
    )
    assert {leg.target_mm for leg in settle("02-extension-heated", *changes).heights.legs} == {1388}


def test_no_set_up_of_today_no_target(settle):
    assert {leg.target_mm for leg in settle("02-extension-heated").heights.legs} == {None}
