"""Which tapes fix a room with skew corners: counts that hold for every polygon."""

from __future__ import annotations

import pytest

from packgen.project.rigid import missing_diagonals
from packgen.project.room_model import Tape, Wall


def room(count: int, skew: bool = True) -> list[Wall]:
    return [Wall(number=n, length=3000.0 + 100 * n, turn="skew" if skew else "right") for n in range(1, count + 1)]


def tape(start: int, end: int) -> Tape:
    return Tape(start=start, end=end, length=5000.0)


@pytest.mark.parametrize("count", [4, 5, 6, 8])
def test_a_room_of_n_skew_corners_needs_n_less_three_diagonals(count: int) -> None:
    """n sides leave n - 3 degrees of freedom (a polygon cut into triangles has n - 3 diagonals)."""
    walls = room(count)
    asked = missing_diagonals(walls, [])
    assert len(asked) == count - 3
    assert missing_diagonals(walls, [tape(a, b) for a, b in asked]) == []


def test_a_triangle_is_fixed_by_its_walls() -> None:
    assert missing_diagonals(room(3), []) == []


def test_the_same_diagonal_twice_counts_once() -> None:
    assert len(missing_diagonals(room(5), [tape(1, 3), tape(1, 3)])) == 1


def test_diagonals_that_fix_one_part_twice_leave_the_other_loose() -> None:
    """Both diagonals of corners 1 to 4 leave corners 5 and 6 of a hexagon to move."""
    walls = room(6)
    assert len(missing_diagonals(walls, [tape(1, 3), tape(2, 4), tape(1, 4)])) == 1


def test_an_angle_serves_as_a_diagonal() -> None:
    walls = room(4)
    walls[1] = walls[1].model_copy(update={"angle": 92.0})
    assert missing_diagonals(walls, []) == []


def test_one_skew_corner_among_right_angles_needs_no_tape() -> None:
    walls = room(4, skew=False)
    walls[0] = walls[0].model_copy(update={"turn": "skew"})
    assert missing_diagonals(walls, []) == []
