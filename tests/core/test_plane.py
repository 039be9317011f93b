"""Plane geometry against published areas and closed forms."""

from __future__ import annotations

import math

import pytest

from packgen.core.plane import (
    Polygon,
    Segment,
    area,
    box,
    cells,
    circle,
    contains,
    crossing,
    inset,
    is_simple,
    label_point,
    pieces_inside,
    ring_area,
    segment_distance,
    without,
)

L_ROOM = Polygon(((0, 0), (5000, 0), (5000, 2000), (3000, 2000), (3000, 4000), (0, 4000)))


def test_area_by_coordinates_of_a_surveying_text() -> None:
    """Jerry Mahun's open text, COGO chapter H: five corners in feet, 140 494 sq ft from rounded products."""
    corners = [(1259.97, 406.31), (1489.47, 235.12), (1126.40, 65.81), (942.04, 317.89), (1282.54, 675.32)]
    assert abs(ring_area(corners)) == pytest.approx(140_493.1, abs=0.1)


def test_area_does_not_depend_on_the_way_round() -> None:
    ring = [(0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0)]
    assert ring_area(ring) == -ring_area(ring[::-1]) == 60_000


def test_circle_keeps_its_area() -> None:
    assert area(circle((0, 0), 150)) == pytest.approx(math.pi * 150**2)


def test_inset_keeps_corners_sharp() -> None:
    (inner,) = inset(L_ROOM, 10)
    assert area(inner) == pytest.approx(area(L_ROOM) - 18_000 * 10 + (5 - 1) * 100)


def test_cells_tile_an_l_shaped_room_with_a_column() -> None:
    (floor,) = without(L_ROOM, [circle((1500, 1700), 200)])
    cut = cells(floor, [50, 650, 1250, 1850, 2450, 3050, 4000], [50, 1300, 2600, 3950])
    assert sum(area(p) for _, _, p in cut) == pytest.approx(area(floor), abs=1)


def test_pieces_inside_run_the_way_of_the_line() -> None:
    found = pieces_inside(L_ROOM, Segment((4000, 5000), (4000, -1000)))
    assert [(s.a, s.b) for s in found] == [((4000, 2000), (4000, 0))]
    (floor,) = without(L_ROOM, [box(1000, 500, 1200, 700)])
    assert [round(s.length_mm) for s in pieces_inside(floor, Segment((-10, 600), (6000, 600)))] == [1000, 3800]


def test_distance_and_crossing() -> None:
    s = Segment((0, 0), (100, 0))
    assert segment_distance((50, 30), s) == 30
    assert segment_distance((130, 40), s) == 50
    assert crossing(s, Segment((50, -5), (50, 5))) == (50, 0)
    assert crossing(s, Segment((0, 1), (100, 1))) is None


def test_label_point_of_a_horseshoe_lies_in_it() -> None:
    shoe = Polygon(((0, 0), (3000, 0), (3000, 3000), (2500, 3000), (2500, 500), (500, 500), (500, 3000), (0, 3000)))
    assert contains(shoe, label_point(shoe))


def test_a_ring_that_crosses_itself_is_not_simple() -> None:
    assert is_simple(L_ROOM.shell)
    assert not is_simple([(0, 0), (100, 100), (100, 0), (0, 100)])


def test_pieces_along_an_edge_and_on_into_the_room_are_one_piece():
    step = Polygon(((0, 0), (900, 0), (900, 250), (250, 250), (250, 900), (-250, 900), (-250, 250), (0, 250)))
    assert pieces_inside(step, Segment((0, 0), (0, 7000))) == (Segment((0, 0), (0, 900)),)
