"""Two-peg tests with published answers."""

from __future__ import annotations

import pytest

from packgen.project.two_peg import two_peg


def test_l13_ten_metres_beyond_the_first_peg() -> None:
    """L13: curioustab.com 66910. AB 80 m; 0.05 m per 100 m; a level line would have read 1.105 and 1.345."""
    got = two_peg(1320, 1560, 1110, 1390, 10, 90)
    assert got.error_per_m * 100 == pytest.approx(50)
    assert (got.near_mm, got.far_mm) == pytest.approx((1105, 1345))


def test_l14_from_known_levels() -> None:
    """L14: curioustab.com 66998. 25 m to A, 50 m to B; 0.060 m per 100 m by the levels as printed.

    The page's true difference is doubtful (B reads more yet is said to be higher); with B below A by 0.630 the
    readings differ by 0.615, so the line falls 0.060 in 100 m: only the size is held.
    """
    got = two_peg(0, 630, 2847, 3462, 25, 50)
    assert abs(got.error_per_m * 100) == pytest.approx(60)
