"""Another fill at the same finished level: the board goes with the fill, and everything else follows.

Figures worked out apart from packgen from the projects' readings; mean depths to 0.5 mm.
"""

from __future__ import annotations

import pytest

from packgen.heights.for_fill import heights_for_fill, with_fill

CASES = [
    ("01-attic-studio", "bead screed", -39, 42, 73, 63.703),
    ("01-attic-studio", "sand cement", -17, 64, 95, 85.703),
    ("07-school-exercise-bay", "sand cement", -23, 67, 96, 80.726),
    ("08-skew-old-house-room", "granulate", -39, 39, 96, 64.72),
    ("08-skew-old-house-room", "sand cement", -17, 61, 118, 86.72),
]


@pytest.mark.parametrize(("name", "fill", "rail_top", "shortest", "longest", "mean"), CASES)
def test_heights_under_another_fill(settle, name, fill, rail_top, shortest, longest, mean):
    found = settle(name)
    other = heights_for_fill(found.project, found.survey, found.layout, fill)
    assert {leg.rail_top_mm for leg in other.legs} == {rail_top}
    assert (min(leg.leg_mm for leg in other.legs), max(leg.leg_mm for leg in other.legs)) == (shortest, longest)
    assert other.depth.mean_mm == pytest.approx(mean, abs=0.5)
    assert other.zones[0].finished_mm == found.heights.zones[0].finished_mm


def test_the_fill_in_use_changes_nothing(settle):
    found = settle("01-attic-studio")
    same = heights_for_fill(found.project, found.survey, found.layout, "granulate")
    assert same.legs == found.heights.legs
    assert same.window == found.heights.window


def test_windows_differ_with_the_fill(settle):
    found = settle("01-attic-studio")
    other = heights_for_fill(found.project, found.survey, found.layout, "sand cement")
    assert other.rule.least_mm == 50
    weight = next(b for b in other.window.at_most if b.rule == "dry weight")
    assert weight.level_mm < 0  # 0.60 kN/m² carries no 86 mm of sand and cement


def test_layers_of_the_other_fill(settle):
    found = settle("08-skew-old-house-room")
    layers = with_fill(found.project, found.survey, found.layout, "granulate").finishes[0].layers
    assert [(x.name, x.thickness) for x in layers] == [("oak board", 15), ("adhesive", 2), ("OSB board", 22)]


def test_a_board_lighter_or_gone_makes_the_layers_lighter(settle):
    found = settle("01-attic-studio")
    zone = with_fill(found.project, found.survey, found.layout, "sand cement").finishes[0]
    assert zone.weight_of_layers == pytest.approx(23.4 - 0.022 * 714, abs=0.1)


def test_a_level_left_open_is_held(settle):
    found = settle("01-attic-studio", ("finished level: same as TBM", "finished level: open"))
    other = heights_for_fill(found.project, found.survey, found.layout, "sand cement")
    assert other.zones[0].finished_mm == found.heights.zones[0].finished_mm == 4


def test_a_falling_zone_keeps_its_plane(settle):
    """The level is given at the low wall, not where the fall starts."""
    second = (
        "\n  sand cement:\n    kind: sand-cement screed\n    bag: {mass: 25 kg, makes: 12.5 l}\n"
        "    water: {least: 2.3 l, most: 2.8 l}\n    fresh density: 2150 kg/m3\n    hardened density: 2000 kg/m3\n"
        "    waste: 5 %\n    thickness: {least: 50, most: 120}\n    board on top: none\n\nlevels:"
    )
    found = settle(
        "05-terrace-with-falls",
        ("finished level: 50 below TBM at wall 1", "finished level: 100 below TBM at wall 3"),
        ("\nlevels:", second),
    )
    other = heights_for_fill(found.project, found.survey, found.layout, "sand cement")
    assert other.zones[0].finished_mm == pytest.approx(found.heights.zones[0].finished_mm)
    assert [leg.rail_top_mm for leg in other.legs] == [leg.rail_top_mm for leg in found.heights.legs]


def test_unknown_fill(settle):
    found = settle("01-attic-studio")
    with pytest.raises(KeyError):
        heights_for_fill(found.project, found.survey, found.layout, "porridge")
