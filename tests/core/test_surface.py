"""Surfaces and depths against closed forms."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import Polygon, area, box, circle, without
from packgen.core.surface import depths, level_at, plane_surface, through_points, whole_depth, within_known

ROOM = box(0, 0, 6000, 4000)


def test_plane_base_under_level_top_is_the_prism_of_the_schoolbook() -> None:
    """A floor 50 deep at one end and 80 at the other holds the mean, 65, over its area: common practice, no source."""
    base = through_points([(0, 0, -50), (6000, 0, -80), (0, 4000, -50), (6000, 4000, -80)])
    (d,) = depths(plane_surface(0), base, [ROOM])
    assert d.mean_mm == pytest.approx(65)
    assert d.volume_l == pytest.approx(65 * 24)
    assert (d.least_mm, d.most_mm) == (pytest.approx(50), pytest.approx(80))


def test_hollow_in_the_middle_is_a_pyramid() -> None:
    """One point 30 deeper in the middle of a rectangle adds a pyramid: a third of 30 over the whole area."""
    corners = [(0, 0, -50), (6000, 0, -50), (0, 4000, -50), (6000, 4000, -50)]
    base = through_points([*corners, (3000, 2000, -80)])
    (d,) = depths(plane_surface(0), base, [ROOM])
    assert d.mean_mm == pytest.approx(60)
    assert d.most_at == pytest.approx((3000, 2000))


def test_beyond_the_readings_the_edge_is_held() -> None:
    base = through_points([(50, 50, -80), (550, 50, -90), (50, 550, -80), (550, 550, -90)])
    assert level_at(base, (0, 300)) == pytest.approx(-80)
    assert level_at(base, (600, 600)) == pytest.approx(-90)
    assert level_at(base, (300, -500)) == pytest.approx(-85)
    assert within_known(base, (300, 300))
    assert not within_known(base, (300, -500))


def test_one_point_and_points_on_one_line() -> None:
    assert level_at(through_points([(10, 10, -70)]), (5000, 0)) == -70
    line = through_points([(0, 0, -100), (100, 0, -110), (200, 0, -130)])
    assert level_at(line, (150, 9000)) == pytest.approx(-120)
    assert level_at(line, (-50, 0)) == pytest.approx(-100)
    (d,) = depths(plane_surface(0), line, [box(-50, -50, 250, 50)])
    assert d.mean_mm == pytest.approx((100 * 50 + 105 * 100 + 120 * 100 + 130 * 50) / 300)


def test_a_falling_top_over_a_level_base() -> None:
    """15 per metre over 4 m: 60 between the ends, 30 off the mean."""
    (d,) = depths(plane_surface(0, 0, -0.015), plane_surface(-100), [ROOM])
    assert (d.least_mm, d.mean_mm, d.most_mm) == (pytest.approx(40), pytest.approx(70), pytest.approx(100))


def test_cone_to_a_drain() -> None:
    """A cone 24 deep over a circle holds a third of the cylinder (Archimedes)."""
    r, n = 1000.0, 96
    rim = [(r * math.cos(2 * math.pi * i / n), r * math.sin(2 * math.pi * i / n), 0.0) for i in range(n)]
    base = through_points([*rim, (0, 0, -24)])
    (d,) = depths(plane_surface(0), base, [Polygon(tuple((x, y) for x, y, _ in rim))])
    assert d.mean_mm == pytest.approx(8)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 60), st.integers(0, 40), st.integers(-130, -60)),
        min_size=3,
        max_size=25,
        unique_by=lambda p: p[:2],
    ),
    st.randoms(use_true_random=False),
)
def test_surface_meets_its_points_whatever_their_order(
    points: list[tuple[int, int, int]], shuffle: random.Random
) -> None:
    known = [(100.0 * x, 100.0 * y, float(z)) for x, y, z in points]
    other = list(known)
    shuffle.shuffle(other)
    a, b = through_points(known), through_points(other)
    assert a.facets == b.facets
    for x, y, z in known:
        assert level_at(a, (x, y)) == pytest.approx(z, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6))
def test_parts_of_a_floor_add_up_to_the_floor(seed: int) -> None:
    rng = random.Random(seed)
    points = [(rng.uniform(0, 6000), rng.uniform(0, 4000), rng.uniform(-120, -70)) for _ in range(30)]
    base, top = through_points(points), plane_surface(-10, 0.004, -0.003)
    (floor,) = without(ROOM, [circle((2500, 1500), 300)])
    x, y = rng.uniform(500, 5500), rng.uniform(500, 3500)
    parts = [
        q
        for b in (box(-1, -1, x, y), box(x, -1, 6001, y), box(-1, y, x, 4001), box(x, y, 6001, 4001))
        for q in without(floor, without(box(-10, -10, 6010, 4010), [b]))
    ]
    whole, sum_of_parts = depths(top, base, [floor])[0], whole_depth(depths(top, base, parts))
    assert sum_of_parts.volume_l == pytest.approx(whole.volume_l, rel=1e-9)
    assert sum(area(p) for p in parts) == pytest.approx(area(floor), abs=1)
    assert (sum_of_parts.least_mm, sum_of_parts.most_mm) == pytest.approx((whole.least_mm, whole.most_mm), abs=1e-6)


def test_two_levels_at_one_place_are_refused() -> None:
    with pytest.raises(ValueError, match="two levels"):
        through_points([(0, 0, -1), (0, 0, -2), (5, 5, 0)])
