"""Fills compared at one finished level, against figures computed independently by another program."""

from __future__ import annotations

import pytest

from packgen.plan import Plan

OTHERS = [  # project, fill, legs least and most, mean, litres, bags, dry kN/m², days to the test
    ("01-attic-studio", "bead screed", 42, 73, 63.703, 1304.0, 28, 0.476, 56),
    ("01-attic-studio", "sand cement", 64, 95, 85.703, 1754.4, 148, 1.800, 157),
    ("07-school-exercise-bay", "sand cement", 67, 96, 80.726, 968.7, 82, 1.648, 159),
    ("08-skew-old-house-room", "granulate", 39, 96, 64.720, 1388.9, 31, 0.505, None),
    ("08-skew-old-house-room", "sand cement", 61, 118, 86.720, 1861.0, 157, 1.826, 203),
]


@pytest.mark.parametrize(("name", "fill", "least", "most", "mean", "litres", "bags", "dry", "test"), OTHERS)
def test_another_fill(  # type: ignore[no-untyped-def]
    plan_of, name: str, fill: str, least: int, most: int, mean: float, litres: float, bags: int, dry: float, test
) -> None:
    row = next(c for c in plan_of(name).purchase.comparison if c.fill == fill)
    assert (row.leg_least_mm, row.leg_most_mm) == (least, most)
    assert row.mean_mm == pytest.approx(mean, abs=0.5)
    assert row.volume_l == pytest.approx(litres, rel=0.015)
    assert abs(row.bags - bags) <= max(1, 0.02 * bags)  # it fills out to the walls, packgen to the strip
    assert row.dry_kn_m2 == pytest.approx(dry, rel=0.02)
    assert row.drying_days == test or abs(row.drying_days - test) <= 1


def test_the_fill_in_use_comes_first_with_the_plans_own_figures(plan: Plan) -> None:
    first = plan.purchase.comparison[0]
    assert (first.fill, first.used) == (plan.project.fills.use, True)
    assert first.volume_l == plan.quantities.volume_l
    assert first.bags == sum(p.bags for p in plan.sequence.pours)
    assert first.legs_moved_mm == 0
    assert not any(c.used for c in plan.purchase.comparison[1:])
    assert {c.fill for c in plan.purchase.comparison} == {plan.project.fills.use, *plan.project.fills.compare}


def test_the_board_goes_with_the_fill(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Attic: granulate under a board of 22, finish 39; sand-cement without it, finish 17: rail tops 22 higher."""
    rows = {c.fill: c for c in plan_of("01-attic-studio").purchase.comparison}
    assert (rows["granulate"].finish_mm, rows["sand cement"].finish_mm) == (39, 17)
    assert rows["sand cement"].legs_moved_mm == 22


def test_what_a_fill_fails_is_said(plan_of) -> None:  # type: ignore[no-untyped-def]
    attic = {c.fill: c for c in plan_of("01-attic-studio").purchase.comparison}
    assert attic["sand cement"].fails == ("load-over-allowed",)
    assert attic["bead screed"].fails == ("leg-out-of-range",)
    house = {c.fill: c for c in plan_of("08-skew-old-house-room").purchase.comparison}
    assert set(house["granulate"].fails) == {"leg-out-of-range", "depth-too-small"}
