"""The ends of the window are tight: on them every rule holds, 1 mm beyond one breaks."""

from __future__ import annotations

import math

import pytest

from packgen.heights.window import offer_level


def at_level(settle, name, asked, mm):
    words = "same as TBM" if mm == 0 else f"{abs(mm)} {'above' if mm > 0 else 'below'} TBM"
    return settle(name, (f"finished level: {asked}", f"finished level: {words}")).heights


def broken(heights):
    """Rules that a plan breaks, found from its legs, depths, covers, crossings and doors."""
    out = set()
    if any(not leg.fits for leg in heights.legs):
        out.add("leg")
    if heights.depth.least_mm < heights.rule.least_mm - 1e-9:
        out.add("least depth")
    if heights.depth.most_mm > heights.rule.most_mm + 1e-9:
        out.add("most depth")
    if any(c.needed_mm is not None and c.cover_mm < c.needed_mm - 1e-9 for c in heights.covers):
        out.add("pipe cover")
    if any(c.free_mm < -1e-9 for c in heights.crossings):
        out.add("rail over service")
    if any(d.judged and abs(d.step_mm) > d.limit_mm + 1e-9 for d in heights.doors):
        out.add("step at door")
    return out


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("01-attic-studio", "same as TBM"),
        ("02-extension-heated", "same as TBM"),
        ("07-school-exercise-bay", "20 below TBM"),
        ("08-skew-old-house-room", "same as TBM"),
    ],
)
def test_ends_are_tight(settle, name, asked):
    window = settle(name).heights.window
    low, high = int(window.low_mm), int(window.high_mm)
    assert (low, high) == (window.low_mm, window.high_mm)
    assert broken(at_level(settle, name, asked, low)) == set()
    assert broken(at_level(settle, name, asked, high)) == set()
    assert broken(at_level(settle, name, asked, low - 1)) != set()
    assert broken(at_level(settle, name, asked, high + 1)) != set()


def test_ends_of_a_falling_floor_are_tight_to_the_whole_mm(settle):
    name, asked = "05-terrace-with-falls", "50 below TBM"
    window = settle(name).heights.window
    low, high = math.ceil(window.low_mm), math.floor(window.high_mm)
    assert broken(at_level(settle, name, asked, low)) == set()
    assert broken(at_level(settle, name, asked, high)) == set()
    assert broken(at_level(settle, name, asked, low - 1)) != set()
    assert broken(at_level(settle, name, asked, high + 1)) != set()


def test_every_bound_of_a_level_floor_breaks_its_own_rule_just_beyond(settle):
    kinds = {
        "shortest leg": "leg",
        "longest leg": "leg",
        "least depth": "least depth",
        "most depth": "most depth",
        "pipe cover": "pipe cover",
        "step at door": "step at door",
        "rail over service": "rail over service",
    }
    window = settle("02-extension-heated").heights.window
    for bound, beyond in [(b, -1) for b in window.at_least] + [(b, 1) for b in window.at_most]:
        level = round(bound.level_mm + (0.49 if beyond < 0 else -0.49)) + beyond
        heights = at_level(settle, "02-extension-heated", "same as TBM", level)
        assert kinds[bound.rule] in broken(heights), bound


def test_asked_level_that_breaks_a_rule_is_kept_and_another_offered(settle):
    heights = settle("01-attic-studio").heights
    assert heights.zones[0].finished_mm == 0
    assert (heights.window.asked_mm, heights.window.offered_mm) == (0, 4)


def test_a_level_left_open_takes_the_offered_one(settle):
    heights = settle("01-attic-studio", ("finished level: same as TBM", "finished level: open")).heights
    assert heights.window.asked_mm is None
    assert heights.zones[0].asked_mm is None
    assert heights.zones[0].finished_mm == heights.window.offered_mm == 4


def test_no_height_fits(settle):
    heights = settle("01-attic-studio", ("step without ramp strip: 4", "step without ramp strip: 3")).heights
    assert heights.window.empty
    assert heights.window.offered_mm is None
    assert (heights.window.at_least[0].rule, heights.window.at_most[0].rule) == ("shortest leg", "step at door")


def test_a_ramp_strip_takes_the_door_out_of_the_window(settle):
    plain = "floor there: same as TBM, sill: none}"
    strip = "floor there: same as TBM, sill: none, ramp strip: yes}"
    bounds = settle("01-attic-studio", (plain, strip)).heights.window
    assert "step at door" not in {b.rule for b in (*bounds.at_least, *bounds.at_most)}


def test_dry_weight_is_the_mean_depth_at_which_the_allowance_is_used_up(settle):
    """0.60 kN/m² is 61.18 kg/m²; less 23.4 and 2.8 at 380 kg/m³: 92 mm; rail top 39 below the floor."""
    found = settle("01-attic-studio")
    bound = next(b for b in found.heights.window.at_most if b.rule == "dry weight")
    depth = found.heights.depth.mean_mm + bound.level_mm
    weight = depth / 1000 * 380 + 23.4 + 2.8
    assert weight * 9.80665 / 1000 == pytest.approx(0.60)


@pytest.mark.parametrize(
    ("asked", "low", "high", "doors", "offered"),
    [
        (0, -5, 5, (), 0),
        (None, -20, 20, (0, 9), 4),
        (None, -20, 20, (-9, 0), -5),
        (None, -20, 3, (0, 9), 3),
        (0, 2.2, 9, (), 3),
        (12, -5, 9.7, (), 9),
        (None, -5, 5, (), -5),
        (0, 3, 2, (0,), None),
        (0, 2.2, 2.8, (0,), None),
    ],
)
def test_offered_level(asked, low, high, doors, offered):
    """Sills 0 and 9 above: 4 above, steps 4 and 5; of two that serve equally the lower."""
    assert offer_level(asked, low, high, doors, "TBM")[0] == offered
