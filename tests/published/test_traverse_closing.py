"""Closing a walk: published closures."""

from __future__ import annotations

import math

import pytest

from packgen.project.room_model import Wall
from packgen.survey.outline import walk_right_angled


def test_t4_small_closure() -> None:
    """T4: reuven.tools, traverse closure. N 100, E 100, S 100, W 99: misses by 1 east in 399 walked.

    The page's compass rule puts 100/399 on a first leg along the missed axis; here, with the right angles kept, the
    two legs of that axis (199) take all of it. Both close.
    """
    sides = (100, 100, 100, 99)
    walls = [Wall.model_construct(number=i, length=m, turn="right", angle=None) for i, m in enumerate(sides, 1)]
    fit = walk_right_angled(walls, 0)
    # wall 1 runs along x here, so the 99 closes wall 2's axis
    assert fit.closing_xy_mm == (0, 1)
    assert math.hypot(*fit.closing_xy_mm) / sum(sides) == pytest.approx(1 / 399)
    assert fit.corners[2] == pytest.approx((100, 100 - 100 / 199))
    assert fit.corners[3] == pytest.approx((0, 100 - 100 / 199))
