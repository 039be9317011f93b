"""A base of two slabs: nothing runs on across the step, and what the slabs hold is what they hold each for itself."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import Polygon, Segment, area, box
from packgen.core.profile import all_within_known, beyond_known
from packgen.core.stepped import divides, side_of, sides, through_points_on
from packgen.core.surface import depths, level_at, plane_surface, through_points

ROOM = box(0, 0, 6000, 4000)
L_SHAPE = Polygon(((0, 0), (6000, 0), (6000, 2000), (3000, 2000), (3000, 4000), (0, 4000)))
STEP = Segment((2500, 0), (2500, 4000))


def on_sides(outline, steps, points):
    parts = sides(outline, steps)
    side = [side_of((x, y), parts) for x, y, _ in points]
    own = [[i for i, s in enumerate(side) if s == k] for k in range(len(parts))]
    return parts, through_points_on(parts, points, own)


def grid(level, xs=(50, 1200, 2400, 2600, 4000, 5950), ys=(50, 2000, 3950)):
    return [(float(x), float(y), float(level(x, y))) for x in xs for y in ys]


def test_two_level_slabs_stay_level_up_to_the_step() -> None:
    _, base = on_sides(ROOM, [STEP], grid(lambda x, _: -100 if x < 2500 else -80))
    assert level_at(base, (2499, 1300)) == pytest.approx(-100)
    assert level_at(base, (2501, 1300)) == pytest.approx(-80)
    found = depths(plane_surface(0.0), base, [ROOM])[0]
    assert found.area_mm2 == pytest.approx(area(ROOM))
    assert found.volume_l == pytest.approx((2500 * 100 + 3500 * 80) * 4000 / 1e6)


@settings(max_examples=30)
@given(st.floats(-6, 6), st.floats(-6, 6), st.floats(600, 5400), st.floats(-900, 900))
def test_a_step_in_a_plane_changes_nothing(sx, sy, x, lean) -> None:
    """Wherever the step runs: depths and levels are those of the plane, as long as both sides hold three readings."""
    points = grid(
        lambda a, b: -100 + sx * a / 1000 + sy * b / 1000, xs=(0, 250, 500, 5500, 5750, 6000), ys=(0, 2000, 4000)
    )
    step = Segment((max(510, min(5490, x + lean)), 0), (max(510, min(5490, x - lean)), 4000))
    parts, base = on_sides(ROOM, [step], points)
    assert len(parts) == 2
    assert divides(step, parts)
    whole = depths(plane_surface(0.0), through_points(points), [ROOM])[0]
    assert sum(area(p) for p in parts) == pytest.approx(area(ROOM))
    left = depths(plane_surface(0.0), base, [box(0, 0, 500, 4000)])[0]
    assert left.mean_mm == pytest.approx(100 - sx * 0.25 - sy * 2, abs=1e-6)
    assert depths(plane_surface(0.0), base, [ROOM])[0].area_mm2 == pytest.approx(whole.area_mm2)


def test_a_raised_slab_inside_the_room_is_a_part_of_its_own() -> None:
    ring = [(2000, 1000), (4000, 1000), (4000, 3000), (2000, 3000)]
    steps = [Segment(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    inside = lambda x, y: 2000 < x < 4000 and 1000 < y < 3000  # noqa: E731
    points = grid(lambda x, y: -50 if inside(x, y) else -100, xs=(50, 2100, 3900, 5950), ys=(50, 1500, 2500, 3950))
    parts, base = on_sides(ROOM, steps, points)
    assert len(parts) >= 2
    assert level_at(base, (3000, 2000)) == pytest.approx(-50)
    assert level_at(base, (1000, 2000)) == pytest.approx(-100)
    assert depths(plane_surface(0.0), base, [ROOM])[0].volume_l == pytest.approx((24e6 * 100 - 4e6 * 50) / 1e6)


def test_a_step_across_the_leg_of_an_l() -> None:
    """To the inner corner, and to a hand's breadth beside it."""
    for x in (3000, 2990, 3010, 2900):
        parts = sides(L_SHAPE, [Segment((x, 0), (x, 2000))])
        assert len(parts) == 2
        assert side_of((4000, 1000), parts) != side_of((1000, 3000), parts)


def test_a_step_that_ends_in_mid_room_parts_nothing() -> None:
    step = Segment((2500, 0), (2500, 1500))
    assert not divides(step, sides(ROOM, [step]))
    short = Segment((2500, 100), (2500, 3900))  # within a hand of both walls
    assert divides(short, sides(ROOM, [short]))


def test_between_the_slabs_readings_the_base_is_not_known() -> None:
    _, base = on_sides(ROOM, [STEP], grid(lambda x, _: -100 if x < 2500 else -80))
    assert all_within_known(base, [(2390, 2000), (2450, 2000), (2550, 2000), (2610, 2000)]) == (
        True,
        False,
        False,
        True,
    )
    assert beyond_known(base, [(2450, 2000), (3000, 2000)]) == pytest.approx((50, 0))
