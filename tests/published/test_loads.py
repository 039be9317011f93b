"""Weight on a square metre.

Sources: standard gravity 9.80665 m/s² (exact, CGPM 1901); EN 1991-1-1 annex A for OSB at 7 kN/m³ (from memory); a
screed of about 2000 kg/m³ gives 70 kg/m² at 35 mm (yumpu.com 7378587, p. 16); 0.25 kN/m² is about 25 kg/m²
(bmtradabookshop.com). The rest was computed from those figures.
"""

from __future__ import annotations

import pytest

from packgen.core.figures import KILONEWTON_PER_KG, half_up
from packgen.trade.amounts import layer_density


@pytest.mark.parametrize(
    ("depth_mm", "density", "kg", "kn"),
    [(35, 2000, 70.0, 0.686), (50, 2000, 100.0, 0.981), (65, 2000, 130.0, 1.275), (75, 2100, 157.5, 1.545)],
)
def test_screed(depth_mm: float, density: float, kg: float, kn: float) -> None:
    mass = depth_mm / 1000 * density
    assert mass == pytest.approx(kg)
    assert half_up(mass * KILONEWTON_PER_KG, 3) == kn


def test_osb_by_its_weight_density() -> None:
    assert half_up(layer_density("OSB board").kg_m3 * 0.018 * KILONEWTON_PER_KG, 3) == 0.126


@pytest.mark.parametrize(("kg", "kn"), [(25, 0.25), (50, 0.5), (100, 1.0)])
def test_about_a_hundred_kilograms_to_the_kilonewton(kg: float, kn: float) -> None:
    assert kg * KILONEWTON_PER_KG == pytest.approx(kn, rel=0.02)
