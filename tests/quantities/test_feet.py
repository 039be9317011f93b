"""Forces of legs on the base."""

from __future__ import annotations

import pytest

from packgen.plan import Plan
from packgen.project.room_model import Pads
from packgen.quantities.feet import feet, foot_area_m2
from packgen.quantities.weight import as_load, zone_weights


def test_all_feet_together_carry_the_floor_and_what_is_on_it(plan: Plan) -> None:
    """Tributary areas tile the floor: the forces add up to the loads over it, but for depth by leg instead of mean."""
    w = plan.quantities.weight
    area = sum(n.tributary_mm2 for n in plan.layout.nodes) / 1e6
    assert area == pytest.approx(plan.heights.depth.area_mm2 / 1e6, rel=0.03)
    mean_load = max(w.fresh_with_people_kn_m2, w.dry_kn_m2 + w.imposed_kn_m2)
    assert sum(f.force_kn for f in plan.quantities.feet) == pytest.approx(area * mean_load, rel=0.05)


@pytest.mark.parametrize(
    ("name", "force_kn"),
    [
        ("01-attic-studio", 0.73),
        ("02-extension-heated", 1.189),
        ("07-school-exercise-bay", 0.708),
        ("08-skew-old-house-room", 0.75),
    ],
)
def test_the_greatest_force_agrees_with_a_second_program(plan_of, name: str, force_kn: float) -> None:  # type: ignore[no-untyped-def]
    """Figures computed independently: a full module's area with the greatest depth of the floor."""
    found = max(f.force_kn for f in plan_of(name).quantities.feet)
    assert found <= force_kn + 0.01
    assert found == pytest.approx(force_kn, rel=0.05)


def test_a_heavier_of_fresh_and_dry_counts(plan_of) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("02-extension-heated")
    leg = max(plan.heights.legs, key=lambda k: k.leg_mm)
    zone, w = zone_weights(plan.project)[leg.zone], plan.quantities.weight
    fresh = as_load(leg.leg_mm * 2.15 + 2.8) + 1.0
    dry = as_load(leg.leg_mm * 2.0 + 2.8 + zone.layers_kg_m2) + w.imposed_kn_m2
    area = next(n.tributary_mm2 for n in plan.layout.nodes if n.id == leg.node) / 1e6
    found = next(f for f in plan.quantities.feet if f.node == leg.node)
    assert found.force_kn == pytest.approx(area * max(fresh, dry), abs=0.002)


def test_a_pad_spreads_the_force(plan_of) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("02-extension-heated")
    base = plan.project.base.model_copy(update={"pads": Pads(width=210, length=210)})
    project = plan.project.model_copy(update={"base": base})
    assert foot_area_m2(project) == pytest.approx(0.0441)
    found = feet(project, plan.heights.legs, plan.layout.nodes, zone_weights(project), plan.quantities.weight)
    for padded, bare in zip(found, plan.quantities.feet, strict=True):
        assert padded.force_kn == bare.force_kn
        assert padded.pressure_kpa == pytest.approx(bare.force_kn / 0.0441, abs=0.05)
