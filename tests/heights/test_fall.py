"""Falls on plan: which way, from which line, and what the level at a wall means there."""

from __future__ import annotations

import pytest

TERRACE = "05-terrace-with-falls"
LEVEL = "finished level: 50 below TBM at wall 1"
FALL = "fall: 15 per metre, going down from wall 1 to wall 3"
WIDTH, DEPTH = 6001.5, 3500.0


def rail_tops(found):
    at = {n.id: n.at for n in found.layout.nodes}
    return [(at[leg.node], leg.rail_top_mm) for leg in found.heights.legs]


@pytest.mark.parametrize(
    ("level", "fall", "top"),
    [
        (LEVEL, FALL, lambda x, y: -75 - 0.015 * y),
        ("finished level: 50 below TBM at wall 3", FALL, lambda x, y: -75 + 0.015 * (DEPTH - y)),
        (
            "finished level: 50 below TBM at wall 4",
            "fall: 10 per metre, going down from wall 4 to wall 2",
            lambda x, y: -75 - 0.010 * x,
        ),
        (
            "finished level: 50 below TBM at wall 2",
            "fall: 10 per metre, going down from wall 2 to wall 4",
            lambda x, y: -75 - 0.010 * (WIDTH - x),
        ),
    ],
)
def test_plane_of_the_rail_tops(settle, level, fall, top):
    found = settle(TERRACE, (LEVEL, level), (FALL, fall))
    for (x, y), rail_top in rail_tops(found):
        assert rail_top == pytest.approx(top(x, y), abs=0.5001)


def test_wall_that_meets_the_other_at_a_corner_falls_square_to_the_lower_one(settle):
    found = settle(TERRACE, (FALL, "fall: 15 per metre, going down from wall 1 to wall 2"))
    zone = found.heights.zones[0]
    assert zone.direction == pytest.approx((1, 0))


def test_skew_room_falls_square_to_the_wall_it_starts_at(settle):
    level = "    finished level: same as TBM\n    fall: level"
    falling = "    finished level: same as TBM at wall 2\n    fall: 10 per metre, going down from wall 2 to wall 4"
    found = settle("08-skew-old-house-room", (level, falling))
    wall = found.survey.rooms[0].walls[1].line
    zone = found.heights.zones[0]
    along = (wall.b[0] - wall.a[0], wall.b[1] - wall.a[1])
    assert zone.direction[0] * along[0] + zone.direction[1] * along[1] == pytest.approx(0, abs=1e-6)
    assert zone.direction[0] < 0
    assert found.heights.rail_top.facets[0].level(*wall.a) == pytest.approx(-35)
    assert found.heights.rail_top.facets[0].level(*wall.b) == pytest.approx(-35)


def test_level_zone_says_so(settle):
    zone = settle("02-extension-heated").heights.zones[0]
    assert (zone.falls_in_words, zone.fall_per_m, zone.direction) == ("level", 0, (0, 0))
