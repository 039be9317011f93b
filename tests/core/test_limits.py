"""What lies beyond a limit of depth, against closed forms."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.limits import beyond
from packgen.core.plane import box
from packgen.core.surface import depths, plane_surface, through_points

ROOM = box(0, 0, 6000, 4000)
TILTED = through_points([(0, 0, -50), (6000, 0, -80), (0, 4000, -50), (6000, 4000, -80)])


def test_a_wedge_under_a_plane_is_half_its_box() -> None:
    """Depth runs from 50 to 80 over 6000: below 60 over the first 2000, a wedge 10 high at its end."""
    found = beyond(plane_surface(0), TILTED, [ROOM], 60, "under")
    assert found is not None
    assert found.area_mm2 == pytest.approx(2000 * 4000)
    assert found.volume_l == pytest.approx(2000 * 4000 * 10 / 2 / 1e6)
    assert found.most_mm == pytest.approx(10)
    assert found.at[0] == pytest.approx(0)


def test_a_cone_of_a_pyramid_above_a_level() -> None:
    """A peak 40 high in the middle of a level base: what stands above half of it is an eighth of the pyramid."""
    base = through_points([(0, 0, -90), (6000, 0, -90), (0, 4000, -90), (6000, 4000, -90), (3000, 2000, -50)])
    found = beyond(plane_surface(0), base, [ROOM], 70, "under")
    assert found is not None
    assert found.area_mm2 == pytest.approx(6000 * 4000 / 4)
    assert found.volume_l == pytest.approx(6000 * 4000 * 40 / 3 / 8 / 1e6)
    assert (found.most_mm, found.at) == (pytest.approx(20), pytest.approx((3000, 2000)))


def test_at_the_limit_nothing_lies_beyond() -> None:
    assert beyond(plane_surface(0), TILTED, [ROOM], 50, "under") is None
    assert beyond(plane_surface(0), TILTED, [ROOM], 80, "over") is None
    assert beyond(plane_surface(0), plane_surface(-60), [ROOM], 60, "under") is None


@settings(max_examples=25)
@given(st.lists(st.integers(-90, -40), min_size=5, max_size=5), st.integers(30, 100))
def test_what_is_under_less_what_is_over_is_what_the_whole_lacks(levels: list[int], limit: int) -> None:
    """Integral of (limit - depth) over the floor is the volume under the limit less the volume over it."""
    spots = [(0, 0), (6000, 0), (0, 4000), (6000, 4000), (2600, 1700)]
    base = through_points([(x, y, z) for (x, y), z in zip(spots, levels, strict=True)])
    (whole,) = depths(plane_surface(0), base, [ROOM])
    under = beyond(plane_surface(0), base, [ROOM], limit, "under")
    over = beyond(plane_surface(0), base, [ROOM], limit, "over")
    lacks = (under.volume_l if under else 0.0) - (over.volume_l if over else 0.0)
    assert lacks == pytest.approx(limit * 24 - whole.volume_l, abs=1e-6)
    assert (under is None) == (whole.least_mm >= limit - 1e-9)
    assert (over is None) == (whole.most_mm <= limit + 1e-9)
