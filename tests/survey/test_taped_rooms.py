"""Skew rooms by least squares: exact tapes give the room back; the tapes decide whether the shape is fixed."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from packgen.core.plane import Point
from packgen.survey.tapes import fit_room

near = st.floats(-400, 400)


def placed(ring: list[Point]) -> list[Point]:
    """The ring with corner 1 at the origin and corner 2 on the x axis."""
    (x0, y0), (x1, y1) = ring[0], ring[1]
    c, s = (x1 - x0) / math.dist(*ring[:2]), (y1 - y0) / math.dist(*ring[:2])
    return [((x - x0) * c + (y - y0) * s, (y - y0) * c - (x - x0) * s) for x, y in ring]


def measured(walls, tapes, ring, turns, pairs):
    n = len(ring)
    sides = [(math.dist(ring[i], ring[(i + 1) % n]), t) for i, t in enumerate(turns)]
    return walls(sides), tapes((a, b, math.dist(ring[a - 1], ring[b - 1])) for a, b in pairs)


@given(st.floats(1500, 9000), st.floats(1500, 9000), near, near, near, near)
def test_a_skew_quadrilateral_comes_back(walls, tapes, w, d, p, q, r, s) -> None:
    ring = [(0.0, 0.0), (w, p), (w + q, d + r), (s, d)]
    fit = fit_room(*measured(walls, tapes, ring, ["skew"] * 4, [(1, 3), (2, 4)]))
    assert fit.spare_tapes == 1
    assert max(math.dist(a, b) for a, b in zip(fit.corners, placed(ring), strict=True)) < 0.01
    assert fit.blamed == ()


@given(near, near, near)
def test_a_corner_that_sticks_in_comes_back(walls, tapes, p, q, r) -> None:
    ring = [(0.0, 0.0), (6000.0, 0.0), (6000.0 + p, 4000.0), (3000.0, 4000.0 + q), (3000.0 + r, 2500.0), (0.0, 2600.0)]
    turns = ["skew", "skew", "skew", "skew left", "skew", "skew"]
    pairs = [(1, 3), (1, 4), (1, 5), (2, 4), (2, 5)]
    fit = fit_room(*measured(walls, tapes, ring, turns, pairs))
    assert max(math.dist(a, b) for a, b in zip(fit.corners, ring, strict=True)) < 0.01
    assert fit.spare_tapes == 2


def test_one_diagonal_fixes_four_walls_with_nothing_to_spare(walls, tapes) -> None:
    ring = [(0.0, 0.0), (5000.0, 0.0), (5200.0, 3000.0), (-100.0, 3100.0)]
    fit = fit_room(*measured(walls, tapes, ring, ["skew"] * 4, [(2, 4)]))
    assert fit.spare_tapes == 0
    assert fit.measure == ("corner 1 to corner 3",)  # the one tape that would check it
    assert fit.corners[2] == pytest.approx(ring[2], abs=0.01)


@pytest.mark.parametrize(("corners", "lacking"), [(4, 1), (5, 2), (6, 3)])
def test_walls_alone_do_not_fix_a_skew_room(walls, tapes, corners, lacking) -> None:
    ring = [
        (3000 * math.cos(2 * math.pi * i / corners), 2500 * math.sin(2 * math.pi * i / corners)) for i in range(corners)
    ]
    room, none = measured(walls, tapes, ring, ["skew"] * corners, [])
    fit = fit_room(room, none)
    assert fit.spare_tapes == -lacking
    assert len(fit.measure) == lacking
    asked = [tuple(int(word) for word in m.split() if word.isdigit()) for m in fit.measure]
    assert fit_room(*measured(walls, tapes, ring, ["skew"] * corners, asked)).spare_tapes == 0


def test_right_corners_are_kept_exactly_in_a_room_with_a_bevel(walls, tapes) -> None:
    ring = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (5000.0, 4000.0), (0.0, 4000.0)]
    turns = ["right", "skew", "skew", "right", "right"]
    room, tape = measured(walls, tapes, ring, turns, [(1, 3)])
    wrong = (room[0].model_copy(update={"length": room[0].length + 3}), *room[1:])
    fit = fit_room(wrong, tape)
    (ax, ay), (bx, by), (cx, cy), *_, (ex, _) = fit.corners
    assert (bx - ax) * (cx - bx) + (by - ay) * (cy - by) == pytest.approx(0, abs=1)  # mm²: 1e-7 of a right angle
    assert ex == pytest.approx(ax, abs=1e-3)
    assert fit.spare_tapes == 1


def test_a_wall_by_its_angle_needs_no_diagonal(walls) -> None:
    a, b, c, d = walls([(6000, "skew"), (4000, "skew"), (5500, "skew"), (4100, "skew")])
    fit = fit_room((a.model_copy(update={"angle": 80.0}), b, c, d), ())
    (_, _), (bx, by), (cx, cy), _ = fit.corners
    assert math.degrees(math.atan2(cy - by, bx - cx)) == pytest.approx(80, abs=1e-4)
    assert fit.spare_tapes == 0


@given(st.integers(0, 11), st.sampled_from([-100.0, 100.0, 60.0]))
def test_with_four_spare_tapes_the_wrong_one_is_named(walls, tapes, which, by) -> None:
    ring = [(0.0, 0.0), (6100.0, 0.0), (6500.0, 2900.0), (5200.0, 4700.0), (900.0, 4500.0), (-300.0, 2100.0)]
    pairs = [(1, 3), (1, 4), (1, 5), (2, 4), (2, 5), (3, 6), (2, 6)]
    assume(which < 6 + len(pairs))
    room, tape = measured(walls, tapes, ring, ["skew"] * 6, pairs)
    if which < 6:
        changed = room[which].model_copy(update={"length": room[which].length + by})
        name, room = f"wall {which + 1}", (*room[:which], changed, *room[which + 1 :])
    else:
        k = which - 6
        changed = tape[k].model_copy(update={"length": tape[k].length + by})
        name, tape = f"corner {pairs[k][0]} to corner {pairs[k][1]}", (*tape[:k], changed, *tape[k + 1 :])
    assert name in fit_room(room, tape).blamed


def test_with_one_spare_nobody_can_tell_which_is_wrong(walls, tapes) -> None:
    ring = [(0.0, 0.0), (5000.0, 0.0), (5200.0, 3000.0), (-100.0, 3100.0)]
    room, tape = measured(walls, tapes, ring, ["skew"] * 4, [(1, 3), (2, 4)])
    wrong = (tape[0].model_copy(update={"length": tape[0].length + 100}), tape[1])
    assert len(fit_room(room, wrong).blamed) == 6
