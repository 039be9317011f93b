"""Shared edges of polygons against shapely's own overlay of their boundaries."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.beside import along, beside
from packgen.core.plane import Polygon, Segment, box, cells


def turned(p: Polygon, angle: float) -> Polygon:
    c, s = math.cos(angle), math.sin(angle)
    return Polygon(tuple((x * c - y * s, x * s + y * c) for x, y in p.shell))


@settings(max_examples=60, deadline=None)
@given(
    xs=st.lists(st.integers(1, 39), min_size=1, max_size=5, unique=True),
    ys=st.lists(st.integers(1, 29), min_size=1, max_size=5, unique=True),
    angle=st.sampled_from([0.0, 0.3, 1.2, 2.5]),
)
def test_shared_edges_of_a_cut_up_room(xs: list[int], ys: list[int], angle: float) -> None:
    room = Polygon(((0, 0), (4000, 0), (4000, 1500), (2500, 1500), (2500, 3000), (0, 3000)))
    parts = [turned(p, angle) for _, _, p in cells(room, sorted(x * 100 for x in xs), sorted(y * 100 for y in ys))]
    shapes = [shapely.Polygon(p.shell) for p in parts]
    found = {(k.first, k.second): k.shared_mm for k in beside(parts, 5.0)}
    for i in range(len(parts)):
        for j in range(i + 1, len(parts)):
            common = shapes[i].buffer(0.01).intersection(shapes[j].boundary).length
            assert found.get((i, j), 0.0) == pytest.approx(common, abs=0.5)


def test_a_joint_between_two_bays_is_stepped_over_and_a_wall_is_not() -> None:
    left, right, beyond = box(0, 0, 600, 600), box(608, 0, 1200, 600), box(1300, 0, 1900, 600)
    found = beside([left, right, beyond], 60.0)
    assert [(k.first, k.second) for k in found] == [(0, 1)]
    assert found[0].edge.length_mm == pytest.approx(600)
    assert found[0].edge.a[0] == pytest.approx(604)


def test_an_edge_in_two_parts_counts_as_one() -> None:
    below = Polygon(((0, 0), (50, 0), (600, 0), (600, 600), (0, 600)))
    above = box(0, -600, 600, 0)
    (link,) = beside([below, above], 1.0)
    assert link.shared_mm == pytest.approx(600)
    assert link.edge.length_mm == pytest.approx(600)


def test_back_to_back_is_not_beside() -> None:
    assert beside([box(0, 0, 600, 600), box(0, 0, 600, 600)], 1.0) == ()


def test_bays_along_a_wall() -> None:
    bays = [box(10, 10, 600, 600), box(600, 10, 1200, 600), box(10, 600, 600, 1200)]
    assert along(bays, [Segment((0, 0), (1200, 0))], 20, 100) == (0, 1)
    assert along(bays, [Segment((500, 0), (650, 0))], 20, 100) == (0,)
    assert along(bays, [Segment((0, 0), (1200, 0))], 5, 100) == ()
    assert along(bays, [Segment((500, 0), (650, 0)), Segment((0, 600), (0, 1200))], 20, 100) == (0, 2)
    assert along([], [Segment((0, 0), (1200, 0))], 20, 100) == ()
