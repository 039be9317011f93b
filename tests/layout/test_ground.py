"""Where a rail can lie and a foot can stand, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.plane import Segment, box, circle, segment_distance
from packgen.layout.ground import Break, Stop, clear_runs, foot_places, gaps_between, make_ground
from packgen.layout.strips import near_intervals

RAIL, FOOT = 35.0, 60.0


@pytest.fixture
def ground(outline):
    def make(corners, cut=(), breaks=()):
        room = outline(corners, cut)
        return make_ground(room, room.floor, breaks, [], ((), ()), FOOT, RAIL)

    return make


def ends(runs):
    return [(round(r.lo, 1), round(r.hi, 1)) for r in runs]


def test_a_rail_ends_where_its_first_corner_meets_a_skew_wall(ground):
    """Inscribed length: the far wall rises 1 in 4, so the rail's outer corner is 17.5 / 4 short of its middle."""
    room = ground([(0, 0), (4000, 0), (4000, 3000), (0, 2000)])
    (run,) = clear_runs(room, "lettered", 1000.0)
    assert run.hi == pytest.approx(2000 + 1000 / 4 - RAIL / 2 / 4, abs=0.1)
    assert run.hi_stop == Stop("wall", 3)


def test_a_line_that_grazes_a_nib_is_stopped_by_it(ground):
    """The nib's face stands 10 from the middle of the rail, within its width, though the middle passes free."""
    room = ground([(0, 0), (4000, 0), (4000, 3000), (2000, 3000), (2000, 2500), (1900, 2500), (1900, 3000), (0, 3000)])
    assert ends(clear_runs(room, "lettered", 1890.0)) == [(0, 2500)]
    assert ends(clear_runs(room, "lettered", 1882.0)) == [(0, 3000)]


def test_a_corner_on_the_line_stops_it(ground):
    room = ground([(0, 0), (4000, 0), (4000, 1000), (1000, 1000), (1000, 3000), (0, 3000)])
    assert ends(clear_runs(room, "lettered", 1000.0)) == [(0, 1000)]
    assert ends(clear_runs(room, "numbered", 1000.0)) == [(0, 1000)]


def test_a_line_along_a_wall_has_no_rail(ground):
    room = ground([(0, 0), (4000, 0), (4000, 3000), (0, 3000)])
    assert clear_runs(room, "lettered", 0.0) == []
    assert clear_runs(room, "lettered", RAIL / 2 - 0.5) == []
    assert ends(clear_runs(room, "lettered", RAIL / 2)) == [(0, 3000)]


def test_a_column_parts_a_line_and_is_named(ground):
    """Half the chord of a circle of radius 200 is sqrt(r² - c²), c at the side of the rail nearest to its middle."""
    room = ground([(0, 0), (4000, 0), (4000, 3000), (0, 3000)], [circle((2000, 1500), 200, 720)])
    first, second = clear_runs(room, "lettered", 2100.0)
    half = math.sqrt(200**2 - (100 - RAIL / 2) ** 2)
    assert (first.hi, second.lo) == pytest.approx((1500 - half, 1500 + half), abs=0.1)
    assert first.hi_stop == second.lo_stop == Stop("cut-out", 1)


def test_a_joint_leaves_a_gap_of_its_width_and_each_side_its_letter(ground):
    joint = Break(Stop("joint", 3), Segment((0, 1000), (4000, 1000)), 8.0)
    first, second = clear_runs(ground([(0, 0), (4000, 0), (4000, 3000), (0, 3000)], (), [joint]), "lettered", 500.0)
    assert (first.hi, second.lo) == (996, 1004)
    assert (first.hi_stop, second.lo_stop) == (Stop("joint", 3, "a"), Stop("joint", 3, "b"))


def test_a_skew_joint_takes_more_of_a_rail_than_its_width(ground):
    """At 45° a band of 35 crosses a joint of 10 over 35 + 10 x sqrt(2)."""
    joint = Break(Stop("joint", 1), Segment((0, 0), (3000, 3000)), 10.0)
    first, second = clear_runs(ground([(0, 0), (3000, 0), (3000, 3000), (0, 3000)], (), [joint]), "lettered", 1500.0)
    assert second.lo - first.hi == pytest.approx(RAIL + 10 * math.sqrt(2), abs=0.2)


def test_feet_keep_their_radius_from_edges_and_columns(ground):
    room = ground([(0, 0), (4000, 0), (4000, 3000), (0, 3000)], [box(1000, 1000, 1400, 1400)])
    (before,) = foot_places(room, "lettered", 1200.0, 0, 1000)
    (after,) = foot_places(room, "lettered", 1200.0, 1400, 3000)
    assert before == pytest.approx((30, 970), abs=0.1)
    assert after == pytest.approx((1430, 2970), abs=0.1)
    beside = foot_places(room, "lettered", 980.0, 0, 3000)
    corner = math.sqrt(30**2 - 20**2)
    assert [g for pair in beside for g in pair] == pytest.approx([30, 1000 - corner, 1400 + corner, 2970], abs=0.1)


@given(st.lists(st.floats(-100, 100), min_size=4, max_size=4), st.floats(5, 80), st.floats(-120, 120))
def test_near_stretch_of_a_line_is_where_the_distance_says(ends_of, reach, at):
    ax, ay, bx, by = ends_of
    found = near_intervals(np.array([ends_of]), np.array([reach]), at)
    piece = Segment((ax, ay), (bx, by))
    for step in range(-300, 301, 7):
        distance = segment_distance((at, float(step)), piece)
        if abs(distance - reach) > 1e-3:
            assert any(lo < step < hi for lo, hi in found) == (distance < reach)


def test_gaps_between_taken_stretches():
    assert gaps_between([(5, 7), (1, 3), (2, 4)], 0, 10) == [(0, 1), (4, 5), (7, 10)]
    assert gaps_between([(-5, 20)], 0, 10) == []
    assert gaps_between([], 0, 10) == [(0, 10)]
