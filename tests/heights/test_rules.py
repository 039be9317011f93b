"""Which construction a fill is taken for, and which least depth then counts."""

from __future__ import annotations

import pytest


def rule(settle, name, *changes):
    return settle(name, *changes).heights.rule


def test_heated_screed_on_a_separating_layer_under_tiles(settle):
    found = rule(settle, "02-extension-heated")
    assert (found.least_mm, found.rule_mm, found.source) == (61, 61, "project file")
    assert "unbonded" in found.rule_text
    assert "45 + 16 = 61" in found.rule_text


def test_the_larger_of_file_and_rule_counts(settle):
    lower = rule(settle, "02-extension-heated", ("thickness: {least: 61", "thickness: {least: 50"))
    assert (lower.least_mm, lower.rule_mm) == (61, 61)
    assert lower.source.startswith("DIN 18560-2")
    higher = rule(settle, "02-extension-heated", ("thickness: {least: 61", "thickness: {least: 70"))
    assert (higher.least_mm, higher.source) == (70, "project file")


def test_insulation_below_the_legs_makes_it_floating(settle):
    found = rule(
        settle,
        "02-extension-heated",
        ("insulation: under the slab", "insulation: 30 foam board under the legs"),
    )
    assert "floating on insulation" in found.rule_text
    assert found.rule_mm == 45 + 16


@pytest.mark.parametrize(
    ("said", "least"),
    [
        ("unbonded on a separating layer, BS 8204-1", 50),
        ("floating on foam, BS 8204-1", 65),
        ("bonded to the slab, BS 8204-1", 25),
    ],
)
def test_british_rule_by_the_fills_own_line(settle, said, least):
    line = "why least: 45 mm plus the 16 mm pipe, heated screed F4 up to 2 kN/m2, DIN 18560-2"
    found = rule(settle, "02-extension-heated", (line, f"why least: {said}"))
    assert found.rule_mm == least


@pytest.mark.parametrize("name", ["01-attic-studio", "05-terrace-with-falls", "08-skew-old-house-room"])
def test_fills_that_are_no_screed_have_the_files_rule_alone(settle, name):
    found = rule(settle, name)
    assert found.rule_mm is None
    assert found.source == "project file"
    assert "no published rule" in found.rule_text


def test_a_fill_of_a_zones_own_is_judged_by_its_own_rule(settle):
    zones = (
        "    covers: whole room\n    finished level: 20 below TBM",
        "    covers: {from: [0, 0], to: [2500, 3000]}\n    finished level: 20 below TBM",
    )
    other = (
        "services: []",
        "  - zone: wet\n    covers: {from: [2500, 0], to: [4000, 3000]}\n    finished level: 20 below TBM\n"
        "    fall: level\n    layers from the top:\n      - tile: 21\n    fill: sand cement\n\nservices: []",
    )
    heights = settle("07-school-exercise-bay", zones, other).heights
    assert [(z.zone, z.fill, z.rule.least_mm) for z in heights.by_zone] == [
        ("bay", "granulate", 40),
        ("wet", "sand cement", 50),
    ]


def test_what_was_taken_without_the_files_word_is_listed(settle):
    listed = {a.what: a.value for a in settle("02-extension-heated").heights.assumed}
    assert listed["construction of the screed"] == "unbonded, on the separating layer"
    assert listed["imposed load for the thickness tables where the file gives none"] == "2"
    assert listed["straightedge for setting between masters"] == "2500"
    assert "published least depths by" not in listed  # the file names DIN 18560-2 itself
    attic = {a.what for a in settle("01-attic-studio").heights.assumed}
    assert "construction of the screed" not in attic
