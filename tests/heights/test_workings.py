"""Every worked line of the heights comes out at its value and carries the printed figures on."""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal

import pytest

MADE_WHEN_ASKED = ("base/", "depth/", "pipe/", "under rail/")
NODE_KEY = re.compile(r"node/(?P<node>[^/]+)/(?P<what>base|rail top|leg|target)$")


def worked_out(numbers):
    assert re.fullmatch(r"[0-9.+\-x/() ]+", numbers), numbers
    assert not numbers.startswith("-")
    return eval(numbers.replace("x", "*"), {"__builtins__": {}})


def printed(value, digits):
    return float(Decimal(repr(round(value, 9))).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP))


ODD = {
    "finish with half a mm": ("07-school-exercise-bay", ("linoleum: 3", "linoleum: 2.5")),
    "rail top above the datum": ("07-school-exercise-bay", ("20 below TBM\n    fall", "60 above TBM\n    fall")),
    "base above the rail top": ("07-school-exercise-bay", ("20 below TBM\n    fall", "90 below TBM\n    fall")),
    "fall with thirds": ("05-terrace-with-falls", ("fall: 15 per metre", "fall: 1:60")),
    "fall across the datum": ("05-terrace-with-falls", ("50 below TBM at wall 1", "35 above TBM at wall 1")),
    "fall in a skew room": (
        "08-skew-old-house-room",
        (
            "same as TBM\n    fall: level",
            "same as TBM at wall 2\n    fall: 10 per metre, going down from wall 2 to wall 4",
        ),
    ),
}


@pytest.mark.parametrize("odd", ODD)
def test_numbers_give_the_value_in_odd_cases(settle, odd):
    name, *changes = ODD[odd]
    test_numbers_give_the_value(settle(name, *changes))


def test_numbers_give_the_value(demo):
    keys = [line.key for line in demo.heights.worked]
    assert len(keys) == len(set(keys))
    for line in demo.heights.worked:
        assert math.isclose(printed(worked_out(line.numbers), line.digits), line.value), line
        assert line.value >= 0


def test_every_node_has_its_lines_and_they_agree_with_the_table(demo):
    lines = {line.key: line for line in demo.heights.worked}
    for leg in demo.heights.legs:
        assert lines[f"node/{leg.node}/base"].value == abs(leg.base_mm)
        assert lines[f"node/{leg.node}/leg"].value == abs(leg.leg_mm)
        if f"node/{leg.node}/rail top" in lines:
            assert lines[f"node/{leg.node}/rail top"].value == abs(leg.rail_top_mm)


def test_needs_are_lines_of_the_plan(demo):
    heights, book = demo.heights, demo.survey.levels
    known = {line.key for line in (*heights.worked, *heights.further, *book.worked, *book.further)}
    for line in (*heights.worked, *heights.further):
        later = {key for key in line.needs if key.startswith(MADE_WHEN_ASKED) or "/prism " in key}
        assert set(line.needs) - later <= known, line


def test_leg_is_made_from_the_printed_levels(demo):
    for leg in demo.heights.legs:
        assert leg.leg_mm == leg.rail_top_mm - leg.base_mm


def test_bay_in_full_and_the_whole_floor(demo):
    heights = demo.heights
    lines = {line.key: line for line in heights.worked}
    bay = next(line for key, line in lines.items() if key.startswith("bay/"))
    depth = dict(heights.bay_depths)[bay.key.split("/")[1]]
    assert bay.value == pytest.approx(depth.mean_mm, abs=0.0501)
    assert lines["depth/mean"].value == pytest.approx(heights.depth.mean_mm, abs=0.0501)


def test_a_falling_rail_top_is_worked_at_each_node(settle):
    lines = {line.key: line for line in settle("05-terrace-with-falls").heights.worked}
    assert lines["node/A1/rail top"].numbers == "75 + 15 x 0.05"
    assert lines["node/A1/rail top"].unit == "mm below TBM"


def test_a_base_between_readings_names_them_and_their_shares(settle):
    pinned = ("first line from wall: 50", "first lines: {along wall 1: 50, from wall 1: 50}")
    line = {x.key: x for x in settle("02-extension-heated", pinned).heights.worked}["node/B1/base"]
    assert set(line.needs) == {"level/A1", "level/C1"}
    assert line.numbers.count("x") == 2


def test_targets_are_worked(settle):
    heights = settle(
        "02-extension-heated", ("prices:", "today: {date: 2027-04-12, backsight: 1405}\n\nprices:")
    ).heights
    line = {x.key: x for x in heights.worked}["node/A1/target"]
    assert (line.numbers, line.value) == ("1405 + 18", 1423)


def test_finish_sums_the_layers(settle):
    lines = {x.key: x for x in settle("01-attic-studio").heights.worked}
    assert (lines["zone/studio/finish"].numbers, lines["zone/studio/finish"].value) == ("14 + 3 + 22", 39)
    assert (lines["window/at least"].value, lines["window/at least"].unit) == (4, "mm above TBM")
