"""Right-angled rooms: whatever was walked exactly closes; what does not close is shared along each axis."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.plane import ring_area
from packgen.survey.outline import walk_right_angled


def staircase(widths: list[int], drops: list[int]) -> list[tuple[float, str]]:
    """A room whose far side comes back in steps: wall 1, wall 2, then left and right by turns."""
    rows: list[tuple[float, str]] = [(float(sum(widths)), "right"), (float(sum(drops)), "right")]
    for w, d in zip(widths[:-1], drops[:-1], strict=True):
        rows += [(float(w), "right"), (float(d), "left")]
    return [*rows, (float(widths[-1]), "right"), (float(drops[-1]), "right")]


@given(st.lists(st.tuples(st.integers(300, 5000), st.integers(300, 5000)), min_size=1, max_size=6))
def test_a_room_walked_exactly_closes(walls, sides) -> None:
    widths, drops = [w for w, _ in sides], [d for _, d in sides]
    fit = walk_right_angled(walls(staircase(widths, drops)), 0)
    assert fit.closing_xy_mm == (0, 0)
    # the steps climb towards wall 1 as one walks back: column k is as deep as the drops not yet climbed
    columns = sum(w * sum(drops[k:]) for k, w in enumerate(widths))
    assert ring_area(fit.corners) == pytest.approx(columns)


@given(st.integers(2000, 9000), st.integers(2000, 9000), st.integers(-9, 9), st.integers(-9, 9))
def test_right_angles_stay_and_each_wall_takes_its_share(walls, w, d, ex, ey) -> None:
    room = walls([(w + ex, "right"), (d + ey, "right"), (w, "right"), (d, "right")])
    a, b, c, e = walk_right_angled(room, 0).corners
    assert b[1] == a[1] == 0
    assert b[0] == pytest.approx(c[0], abs=1e-6)
    assert c[1] == pytest.approx(e[1], abs=1e-6)
    # half and half, up to the share of two walls of nearly one length
    assert b[0] == pytest.approx(w + ex / 2, abs=0.03)
    assert c[1] == pytest.approx(d + ey / 2, abs=0.03)


def test_round_a_chimney_breast(walls) -> None:
    """Eight walls: 2 over on 10 802 along wall 1, 3 over on 8 697 into the room; shares by pocket calculator."""
    first = [(5402, "right"), (3900, "right"), (2100, "right"), (450, "left")]
    room = walls([*first, (1300, "left"), (450, "right"), (2000, "right"), (3897, "right")])
    fit = walk_right_angled(room, 1)
    assert fit.closing_xy_mm == (2, 3)
    wanted = [(0, 0), (5401, 0), (5401, 3898.655), (3300.611, 3898.655), (3300.611, 3448.5), (2000.37, 3448.5)]
    for corner, (x, y) in zip(fit.corners, wanted, strict=False):
        assert math.dist(corner, (x, y)) < 0.1
