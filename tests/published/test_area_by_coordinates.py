"""Areas with published answers."""

from __future__ import annotations

import pytest

from packgen.core.plane import ring_area
from packgen.project.room_model import Wall
from packgen.survey.tapes import fit_room


def test_a1_five_corners() -> None:
    """A1: jerrymahun.com, COGO chapter H. Corners as N, E in feet; unrounded products give 140 493.1 square feet."""
    ring = [(406.31, 1259.97), (235.12, 1489.47), (65.81, 1126.40), (317.89, 942.04), (675.32, 1282.54)]
    assert abs(ring_area(ring)) == pytest.approx(140493.1, abs=0.05)


def test_a2_either_way_round() -> None:
    """A2: open-exam-prep.com, FS 8.4."""
    ring = [(0.0, 0.0), (0.0, 300.0), (200.0, 300.0), (200.0, 0.0)]
    assert ring_area(ring) == -ring_area(ring[::-1])
    assert abs(ring_area(ring)) == 60000


def test_a3_heron_from_three_taped_walls() -> None:
    """A3: classical, from memory: sides 13, 14, 15 hold 84; with 14 as the base the top stands at 5 and 12."""
    sides = (14000, 13000, 15000)
    walls = [Wall.model_construct(number=i, length=m, turn="skew", angle=None) for i, m in enumerate(sides, 1)]
    fit = fit_room(walls, ())
    assert abs(ring_area(fit.corners)) / 1e6 == pytest.approx(84)
    assert 14000 - fit.corners[2][0] == pytest.approx(5000)
    assert fit.corners[2][1] == pytest.approx(12000)
    assert fit.spare_tapes == 0
