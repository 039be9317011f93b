"""Falls as published, carried down a floor.

Sources: squotipedia.co.uk and BS 7533 as quoted by a paving site (1:80); building.co.uk (1:40 near a drain);
fliesenundplatten.de (1.5 %, balconies); obi.at (12 cm in 600 cm is 2 %). One page prints 30 and 45 mm in 7 m as 0.04
and 0.06 %, ten times too small: here they are worked out, 1:233 and 0.64 %.
"""

from __future__ import annotations

import pytest

from packgen.core.lengths import steepness
from packgen.heights.fall import FallLine


def drop(per_m, length_mm):
    return FallLine(per_m, (0.0, 1.0), (0.0, 0.0), 0.0, "").drop((1234.0, length_mm))


@pytest.mark.parametrize(
    ("written", "per_m"), [("1:80", 12.5), ("1:100", 10), ("1:60", 16.667), ("1.5 %", 15), ("2 %", 20), ("1:40", 25)]
)
def test_slope_in_mm_per_metre(written, per_m):
    assert steepness(written) == pytest.approx(per_m, abs=0.001)


@pytest.mark.parametrize(
    ("written", "length", "falls"),
    [("1:80", 7000, 87.5), ("2 %", 6000, 120), ("1:40", 1000, 25), ("1:233", 7000, 30.04), ("0.64 %", 7000, 44.8)],
)
def test_drop_over_a_length(written, length, falls):
    assert drop(steepness(written), length) == pytest.approx(falls, abs=0.01)


def test_across_the_fall_nothing_drops():
    assert drop(15, 0) == 0
