"""The five demo projects against numbers worked out apart from packgen (readings shared out by hand, prisms summed).

Source: the projects' own readings; legs at readings exact, mean depths to 0.5 mm, covers to 1.1 mm.
"""

from __future__ import annotations

import pytest

MEAN = {
    "01-attic-studio": (63.703, 42, 73),
    "02-extension-heated": (70.128, 66.5, 74),
    "05-terrace-with-falls": (67.895, 56, 99.5),
    "07-school-exercise-bay": (62.726, 49, 78),
    "08-skew-old-house-room": (68.72, 43, 100),
}
LEGS = {
    "01-attic-studio": {"A1": 56, "C4": 42, "F4": 73, "D3": 68, "K8": 62},
    "05-terrace-with-falls": {"A7": 56, "L7": 59},
    "07-school-exercise-bay": {"E3": 49, "B5": 78, "A1": 64},
    "08-skew-old-house-room": {"A1": 60, "C4": 43, "J7": 97, "K7": 98},
}
COVER = {
    "01-attic-studio": {"socket cable in conduit": (36, 56)},
    "02-extension-heated": {"circuit 1": (45.5, 66.5), "circuit 2": (47.34, 68.62)},
    "08-skew-old-house-room": {"radiator pipes": (48.25, 63.25)},
}


@pytest.mark.parametrize("name", MEAN)
def test_three_depths(settle, name):
    depth, (mean, least, most) = settle(name).heights.depth, MEAN[name]
    assert depth.mean_mm == pytest.approx(mean, abs=0.5)
    assert depth.least_mm == pytest.approx(least, abs=1.1)
    assert depth.most_mm == pytest.approx(most, abs=1.1)


@pytest.mark.parametrize("name", LEGS)
def test_legs_at_readings(settle, name):
    legs = {leg.node: leg for leg in settle(name).heights.legs}
    assert {n: legs[n].leg_mm for n in LEGS[name]} == LEGS[name]
    assert {legs[n].known for n in LEGS[name]} == {"read"}


@pytest.mark.parametrize("name", COVER)
def test_least_cover_and_tightest_crossing(settle, name):
    found = {c.service: c for c in settle(name).heights.covers}
    assert found.keys() == COVER[name].keys()
    for service, (cover, under) in COVER[name].items():
        assert found[service].cover_mm == pytest.approx(cover, abs=1.1)
        assert found[service].under_rail_mm == pytest.approx(under, abs=1.1)


def test_room_that_a_rail_needs(settle):
    """pipe + support + rail 20 + room 3."""
    needed = {c.service: c.under_rail_needed_mm for c in settle("02-extension-heated").heights.covers}
    assert needed == {"circuit 1": 16 + 5 + 20 + 3, "circuit 2": 16 + 5 + 20 + 3}
    assert settle("01-attic-studio").heights.covers[0].under_rail_needed_mm == 20 + 0 + 20 + 3


def test_leg_that_no_part_can_make(settle):
    legs = {leg.node: leg for leg in settle("01-attic-studio").heights.legs}
    assert (legs["C4"].parts, legs["C4"].fits, legs["C4"].short_by_mm) == ("does not fit", False, 4)
    assert [n for n, leg in legs.items() if not leg.fits] == ["C4"]


def test_terrace_falls_15_a_metre_from_75_below(settle):
    found = settle("05-terrace-with-falls")
    at = {n.id: n.at for n in found.layout.nodes}
    for leg in found.heights.legs:
        assert leg.rail_top_mm == pytest.approx(-75 - 0.015 * at[leg.node][1], abs=0.5)
    zone = found.heights.zones[0]
    assert (zone.finished_mm, zone.rail_top_mm, zone.direction) == (-50, -75, (0, 1))
    assert zone.falls_in_words == "15 per metre, down from wall 1 to wall 3"


def test_terrace_needs_an_extension_at_its_deepest_corner(settle):
    legs = settle("05-terrace-with-falls").heights.legs
    assert [leg.node for leg in legs if leg.extensions] == ["A1"]


def test_windows_of_the_demo_projects(settle):
    attic = settle("01-attic-studio").heights.window
    assert [(b.rule, b.place, b.level_mm) for b in (attic.at_least[0], attic.at_most[0])] == [
        ("shortest leg", "C4", 4),
        ("step at door", "stair door", 4),
    ]
    assert (attic.asked_mm, attic.offered_mm) == (0, 4)
    bay = settle("07-school-exercise-bay").heights.window
    assert (bay.at_least[0].rule, bay.low_mm, bay.at_most[0].rule, bay.high_mm) == (
        "shortest leg",
        -23,
        "step at door",
        -16,
    )
    assert bay.offered_mm == -20
    heated = settle("02-extension-heated").heights.window
    assert heated.at_least[0].rule == "pipe cover"
    assert heated.low_mm == pytest.approx(-1, abs=1.1)
    assert (heated.high_mm, heated.offered_mm) == (3, 0)


def test_steps_at_doors(settle):
    old = settle("08-skew-old-house-room").heights
    assert [(d.door, d.step_mm, d.judged) for d in old.doors] == [("hall door", 0, True)]
    assert [(d.door, d.step_mm, d.judged) for d in old.edges] == [("hearth stone", -5, False)]
    terrace = settle("05-terrace-with-falls").heights
    assert [(d.door, d.step_mm, d.judged) for d in terrace.doors] == [("terrace door", -50, False)]
    assert terrace.window.advised[0].level_mm == -50  # a channel lies along the door
    extension = settle("02-extension-heated").heights
    assert {d.door: (d.step_mm, d.judged) for d in extension.doors} == {
        "kitchen opening": (0, True),
        "sliding door": (0, True),
    }
