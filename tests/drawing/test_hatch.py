"""Hatching by clipped lines: it fills the shape, stays in it, and joins over neighbours without a seam."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.booklet.drawing.hatch import chords, hatched, joined

SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
HOLE = ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0))


@given(angle=st.floats(0, 179), spacing=st.floats(1.0, 4.0))
def test_length_times_spacing_is_the_area(angle: float, spacing: float) -> None:
    strokes = hatched([[SQUARE, HOLE]], angle, spacing)
    length = sum(math.dist(a, b) for a, b in strokes)
    edge = 140 + 40  # round the shape: half a line too many or too few along it
    assert abs(length * spacing - (1200 - 100)) <= edge * spacing


def test_hatch_leaves_the_hole_free() -> None:
    for (ax, ay), (bx, by) in hatched([[SQUARE, HOLE]], 45, 2.0):
        x, y = (ax + bx) / 2, (ay + by) / 2
        assert not (10.01 < x < 19.99 and 10.01 < y < 19.99)
        assert -0.01 <= x <= 40.01
        assert -0.01 <= y <= 30.01


def test_neighbours_join_without_a_seam() -> None:
    left = [((0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0))]
    right = [((20.0, 0.0), (40.0, 0.0), (40.0, 30.0), (20.0, 30.0))]
    assert hatched([left, right], 0, 3.0) == hatched([[SQUARE]], 0, 3.0)


def test_chords_are_measured_along_the_line() -> None:
    ((start, end),) = chords([SQUARE], (5.0, 15.0), 0)
    assert (start, end) == pytest.approx((-5.0, 35.0))


def test_joined_stretches() -> None:
    assert joined([(5, 7), (0, 2), (2, 4), (6, 9)]) == [(0, 4), (5, 9)]
