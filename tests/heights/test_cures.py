"""Ways out where a level breaks a rule: they are there when it does, they cure, and the least work comes first."""

from __future__ import annotations

import pytest


def cures(found):
    return found.heights.by_zone[0].cures


def answering(found, rule):
    return [c for c in cures(found) if c.rule == rule]


def test_a_level_that_keeps_every_rule_needs_no_way_out(settle):
    assert cures(settle("02-extension-heated")) == ()
    assert cures(settle("05-terrace-with-falls")) == ()


def test_the_attic_offers_the_level_the_plane_and_a_thinner_finish(settle):
    """C4 is 4 short: raise the floor 4, or take 4 off the boards under that one foot, or 4 off the layers of 39."""
    found = settle("01-attic-studio")
    first, plane = cures(found)[0], answering(found, "shortest leg")[0]
    assert first.rule == "every rule"
    assert first.says.startswith("finished level 4 above TBM, 4 higher")
    assert (plane.depth_mm, "C4" in plane.says) == (4, True)
    assert any("35 instead of 39" in c.says for c in cures(found))


def test_ways_are_sorted_by_work_and_unknown_work_comes_last(settle):
    for change in ("40 below TBM", "30 above TBM", "120 above TBM"):
        hours = [c.hours for c in cures(settle("01-attic-studio", ("level: same as TBM", f"level: {change}")))]
        known = [h for h in hours if h is not None]
        assert hours[: len(known)] == sorted(known)
        assert known


def test_every_broken_rule_is_answered(settle):
    """30 above: too heavy and over the step. 40 below: no leg is short enough, the fill too thin, a step, a cable."""
    high = {c.rule for c in cures(settle("01-attic-studio", ("level: same as TBM", "level: 30 above TBM")))}
    assert {"dry weight", "step at door"} <= high
    low = {c.rule for c in cures(settle("01-attic-studio", ("level: same as TBM", "level: 40 below TBM")))}
    assert {"shortest leg", "least depth", "step at door", "rail over service"} <= low


def test_grinding_what_is_said_makes_the_fill_thick_enough(settle, resettle):
    """The base taken down to the least depth leaves no place too thin: the deepest cut is what was short."""
    found = settle("01-attic-studio", ("level: same as TBM", "level: 12 below TBM"))
    thin = answering(found, "least depth")[0]
    rule = found.heights.rule.least_mm
    assert thin.depth_mm == pytest.approx(rule - found.heights.depth.least_mm, abs=1.0)
    assert thin.volume_l <= thin.area_m2 * thin.depth_mm
    assert thin.area_m2 < found.heights.depth.area_mm2 / 1e6


def test_the_offered_level_is_a_cure(settle):
    """With the level that the first way names, nothing is left to cure."""
    for name, level in (("01-attic-studio", "4 above TBM"), ("08-skew-old-house-room", "3 above TBM")):
        assert cures(settle(name, ("level: same as TBM", f"level: {level}"))) == ()


def test_a_low_spot_is_filled_first_or_reached_with_more_kit(settle):
    found = settle("05-terrace-with-falls", ("level: 50 below TBM", "level: 10 above TBM"))
    by_rule = {c.rule: c for c in cures(found)}
    assert "fill the low spot first" in by_rule["most depth"].says
    assert by_rule["most depth"].volume_l > 0
    assert by_rule["longest leg"].hours is not None
