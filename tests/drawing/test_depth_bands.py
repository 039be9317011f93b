"""Depth bands and contours are exact: bands tile the floor, contours lie where the depth is what they say."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.booklet.drawing.depth_map import band_limits, band_rings, contours, depth_pieces
from packgen.core.plane import Polygon, area, box, contains, ring_area
from packgen.core.surface import level_at, plane_surface, through_points
from packgen.plan import Plan

FLOOR = box(0, 0, 6000, 4000)


@given(least=st.floats(30, 90), span=st.floats(0, 120))
def test_at_most_five_bands_hold_all_depths(least: float, span: float) -> None:
    limits = band_limits(least, least + span)
    assert limits[0] <= least + 1e-6
    assert limits[-1] >= least + span - 1e-6
    assert 1 <= len(limits) - 1 <= 5
    steps = {round(b - a, 6) for a, b in itertools.pairwise(limits)}
    assert len(steps) == 1


def test_a_tilted_base_gives_straight_contours_at_known_places() -> None:
    pieces = depth_pieces(plane_surface(-18.0), plane_surface(-68.0, -0.005), [FLOOR])
    found = contours(pieces, [60.0, 70.0])
    assert [depth for depth, _ in found] == [60.0, 70.0]
    for depth, run in found:
        x = (depth - 50) / 0.005
        assert all(p[0] == pytest.approx(x) for p in run)
        assert math.dist(run[0], run[-1]) == pytest.approx(4000)


def test_bands_tile_the_floor_of_every_project(any_plan: Plan) -> None:
    pieces = depth_pieces(any_plan.heights.rail_top, any_plan.survey.base, any_plan.layout.floor)
    depth = any_plan.heights.depth
    limits = band_limits(depth.least_mm, depth.most_mm)
    total = sum(
        abs(ring_area(rings[0])) - sum(abs(ring_area(r)) for r in rings[1:])
        for low, high in itertools.pairwise(limits)
        for rings in band_rings(pieces, low, high, low == limits[0])
    )
    assert total == pytest.approx(sum(area(p) for p in any_plan.layout.floor), rel=1e-6)


def test_contours_lie_where_the_depth_is(any_plan: Plan) -> None:
    heights, base = any_plan.heights, any_plan.survey.base
    pieces = depth_pieces(heights.rail_top, base, any_plan.layout.floor)
    limits = band_limits(heights.depth.least_mm, heights.depth.most_mm)[1:-1]
    for limit, run in contours(pieces, limits):
        for p, q in itertools.pairwise(run):
            middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
            assert level_at(heights.rail_top, middle) - level_at(base, middle) == pytest.approx(limit, abs=0.05)


def test_a_hill_has_a_closed_contour_round_it() -> None:
    points = [(x, y, -70.0) for x in (0, 3000, 6000) for y in (0, 2000, 4000) if (x, y) != (3000, 2000)]
    base = through_points([*points, (3000.0, 2000.0, -60.0)])
    (found,) = contours(depth_pieces(plane_surface(0.0), base, [FLOOR]), [65.0])
    run = found[1]
    assert math.dist(run[0], run[-1]) < 1
    assert contains(Polygon(tuple(run[:-1])), (3000, 2000))
