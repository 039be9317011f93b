"""Suspect readings: a slip of ten in a smooth floor is found, a real hump told apart, a smooth floor left alone."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.survey.model import LevelPoint
from packgen.survey.suspects import likely_reading, suspects


def floor(level, columns=6, rows=5, step=1200):
    """Spots A1 … with levels from a function of column and row; each read from a line 1400 above TBM."""
    out = []
    for i in range(columns):
        for j in range(rows):
            z = float(level(i, j))
            out.append(LevelPoint(f"{'ABCDEFGH'[i]}{j + 1}", i * step, j * step, z, (("S1", 1400 - z, z),)))
    return out


def changed(points, name, reading):
    return [
        LevelPoint(p.id, p.x_mm, p.y_mm, 1400 - reading, (("S1", reading, 1400 - reading),)) if p.id == name else p
        for p in points
    ]


@given(st.floats(-8, 8), st.floats(-8, 8), st.floats(-0.8, 0.8), st.integers(0, 5), st.integers(0, 4))
def test_planes_and_bowls_are_left_alone(sx, sy, bowl, i0, j0) -> None:
    points = floor(lambda i, j: round(-90 + sx * i + sy * j + bowl * ((i - i0) ** 2 + (j - j0) ** 2)))
    assert suspects(points, True) == ()


@pytest.mark.parametrize("slip", [10, -10, 100, -100])
@pytest.mark.parametrize("spot", ["C3", "D2", "B4", "E3"])
def test_a_digit_misread_in_a_smooth_floor_is_found_and_put_right(spot, slip) -> None:
    points = floor(lambda i, j: -90 + i - j)
    right = next(p.seen[0][1] for p in points if p.id == spot)
    found = suspects(changed(points, spot, right + slip), True)
    assert [(s.point, s.likely_mm) for s in found] == [(spot, right)]
    assert math.copysign(1, found[0].off_mm) == -math.copysign(1, slip)  # a bigger reading is a lower floor


def test_a_hump_that_its_neighbours_climb_is_no_mistake() -> None:
    cone = floor(lambda i, j: -95 + max(0, 16 - 8 * math.hypot(i - 2, j - 2)), step=600)
    assert suspects(cone, True) == ()


def test_a_peak_out_of_nothing_is_asked_about_but_no_digit_is_made_up() -> None:
    points = changed(floor(lambda i, j: -98), "C3", 1480)  # 18 above its neighbours; 1498 is no slip of one digit
    (found,) = suspects(points, True)
    assert (found.point, found.off_mm, found.likely_mm) == ("C3", 18, None)


def test_two_sights_of_one_spot_that_disagree() -> None:
    points = floor(lambda i, j: -90)
    twice = LevelPoint("A1", 0, 0, -93, (("S1", 1490, -90.0), ("S2", 1470, -96.0)))
    (found,) = suspects([twice, *points[1:]], True)
    assert (found.point, found.why, found.off_mm) == ("A1", "two sights", -6)


@pytest.mark.parametrize(
    ("read", "low", "high", "likely"),
    [(1470, 1478, 1483, 1480), (1549, 1594, 1596, 1594), (1394, 1410, 1414, None), (1388, 1486, 1490, 1488)],
)
def test_the_reading_probably_meant(read, low, high, likely) -> None:
    assert likely_reading(read, low, high) == likely


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=1, max_size=3, unique=True))
def test_few_readings_raise_no_alarm(spots) -> None:
    points = [p for p in floor(lambda i, j: -90, 4, 4) if (int(p.x_mm // 1200), int(p.y_mm // 1200)) in spots]
    assert suspects(points, True) == ()
