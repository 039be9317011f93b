"""Published and classical figures for bags, weights and resistances."""

from __future__ import annotations

import pytest

from packgen.plan import Plan
from packgen.quantities.compare import resistance
from packgen.quantities.feet import pressure_kpa
from packgen.quantities.weight import as_load, fill_kg_m2
from packgen.sequence.pours import bags_for
from packgen.trade.amounts import layer_density


def test_bag_yield_of_dry_mix(plan_of) -> None:  # type: ignore[no-untyped-def]
    """25 kg of dry mix giving 2000 kg/m³ make 12.5 L: 80 bags for a m³, 4.0 for a m² at 50 (from the definitions)."""
    plan: Plan = plan_of("02-extension-heated")
    fill = plan.project.fills.used.model_copy(update={"waste": 0.0, "settles": 0.0})
    assert fill.bag.mass / fill.hardened_density * 1000 == fill.bag.makes == 12.5
    assert bags_for(1000, fill) == 80
    assert bags_for(50, fill) == 4
    assert bags_for(51, fill) == 5


@pytest.mark.parametrize(
    ("depth_mm", "kg_m3", "kg_m2", "kn_m2"),
    [
        (50, 2000, 100, 0.98),
        (65, 2000, 130, 1.275),
        (75, 2100, 157.5, 1.545),
        (35, 2000, 70, 0.686),
        (25, 2000, 50, 0.49),
    ],
)
def test_weight_of_screed(depth_mm: float, kg_m3: float, kg_m2: float, kn_m2: float) -> None:
    """35 mm of screed at about 2000 kg/m³ weigh 70 kg/m² (yumpu.com 7378587, p. 16); the others calculated with
    standard gravity, 9.80665."""
    assert fill_kg_m2(depth_mm, kg_m3) == pytest.approx(kg_m2)
    assert as_load(kg_m2) == pytest.approx(kn_m2, abs=0.001)


@pytest.mark.parametrize(("name", "kn_m3"), [("OSB board", 7), ("MDF board", 8), ("birch plywood", 6), ("plywood", 5)])
def test_densities_of_boards(name: str, kn_m3: float) -> None:
    """EN 1991-1-1, annex A (from memory)."""
    assert as_load(layer_density(name).kg_m3) == pytest.approx(kn_m3)


def test_eighteen_osb() -> None:
    """18 of OSB at 7 kN/m³: 0.126 kN/m² (calculated)."""
    assert as_load(fill_kg_m2(18, layer_density("OSB board").kg_m3)) == pytest.approx(0.126)


def test_pressure_of_a_foot() -> None:
    """A foot 60 across has 2827 mm²; 0.36 m² x 3.67 kN/m² = 1.32 kN press with 467 kPa (calculated)."""
    assert pressure_kpa(1.32, 0.002827) == pytest.approx(467, abs=0.5)
    assert pressure_kpa(as_load(100), 0.002827) == pytest.approx(347, abs=0.5)


@pytest.mark.parametrize(
    ("depth_mm", "lam", "r"), [(10, 1.3, 0.0077), (65, 1.35, 0.0481), (120, 0.036, 3.3333), (150, 2.3, 0.0652)]
)
def test_resistance_of_a_layer(depth_mm: float, lam: float, r: float) -> None:
    """R = d / lambda, ISO 6946; an example calculated, not published."""
    assert resistance(depth_mm, lam) == pytest.approx(r, abs=0.00005)
