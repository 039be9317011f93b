"""Levels at many places, depth along pieces and prisms agree with the one-by-one and closed forms."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.plane import Polygon, Segment, area, box
from packgen.core.profile import all_within_known, facets_at, least_along, levels_at, pieces_within, prisms, profile
from packgen.core.surface import Facet, Surface, depths, level_at, plane_surface, through_points, within_known

ROOF = through_points([(0, 0, 0), (1000, 0, 10), (2000, 0, 0), (0, 1000, 0), (1000, 1000, 10), (2000, 1000, 0)])
FAR = 1e6
STEP = Surface(
    (
        Facet(((-FAR, -FAR), (1000, -FAR), (1000, FAR), (-FAR, FAR)), 100.0),
        Facet(((1000, -FAR), (FAR, -FAR), (FAR, FAR), (1000, FAR)), 70.0),
    )
)


@given(st.lists(st.tuples(st.floats(-3000, 5000), st.floats(-3000, 5000)), max_size=20))
def test_many_levels_are_the_levels_one_by_one(spots: list[tuple[float, float]]) -> None:
    assert levels_at(ROOF, spots) == tuple(level_at(ROOF, p) for p in spots)
    assert all_within_known(ROOF, spots) == tuple(within_known(ROOF, p) for p in spots)


def test_no_places_no_levels() -> None:
    assert facets_at(ROOF, []) == ()


def test_profile_turns_at_the_ridge() -> None:
    assert profile(ROOF, Segment((0, 500), (2000, 500)))[0] == (0, 0)
    assert (1000, pytest.approx(10)) in profile(ROOF, Segment((0, 500), (2000, 500)))
    assert profile(ROOF, Segment((0, 500), (2000, 500)))[-1] == (2000, pytest.approx(0))


def test_profile_shows_a_step_as_two_levels_at_one_distance() -> None:
    assert profile(STEP, Segment((500, 0), (1500, 0))) == ((0, 100), (500, 100), (500, 70), (1000, 70))


def test_least_lies_over_the_ridge_not_at_the_ends() -> None:
    found = least_along(plane_surface(50), ROOF, [Segment((0, 500), (2000, 500))])
    assert found is not None
    assert found.depth_mm == pytest.approx(40)
    assert found.at == pytest.approx((1000, 500))


def test_least_counts_the_lower_side_of_a_step() -> None:
    found = least_along(STEP, plane_surface(0), [Segment((0, 0), (1000, 0)), Segment((0, 10), (1500, 10))])
    assert found is not None
    assert found.depth_mm == pytest.approx(70)


def test_nothing_to_go_along() -> None:
    assert least_along(STEP, ROOF, []) is None
    assert least_along(STEP, ROOF, [Segment((1, 1), (1, 1))]) is None


@pytest.mark.parametrize(
    "region", [box(0, 0, 2000, 1000), box(300, 100, 1700, 900), Polygon(((0, 0), (1500, 0), (200, 900)))]
)
def test_prisms_add_up_to_the_integral(region: Polygon) -> None:
    parts = prisms(STEP, ROOF, region)
    whole = depths(STEP, ROOF, [region])[0]
    assert sum(p.area_mm2 for p in parts) == pytest.approx(area(region))
    assert sum(p.area_mm2 * p.mean_mm for p in parts) / 1e6 == pytest.approx(whole.volume_l)


def test_pieces_within_regions_keep_their_owners() -> None:
    left, right = box(0, 0, 1000, 1000), box(1000, 0, 2000, 1000)
    found = pieces_within([left, right], [Segment((-500, 500), (1500, 500)), Segment((1200, -10), (1200, 400))])
    assert [(i, j, round(s.length_mm)) for i, j, s in found] == [(0, 0, 1000), (0, 1, 500), (1, 1, 400)]
    assert pieces_within([], [Segment((0, 0), (1, 0))]) == ()
