"""The five demo projects against figures computed independently of packgen, from the same readings, by another program.

Each JSON file beside this one holds the other program's numbers: adjusted levels and legs at the readings, the outline
by the length rule of each axis or by least squares, depths by prisms and by a 10 mm raster, litres, bags, days.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from packgen.core.surface import level_at
from packgen.plan import Plan

HERE = Path(__file__).parent


@pytest.fixture
def other(plan: Plan) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((HERE / f"{Path(plan.project.file_name).stem}.json").read_text())
    return found


def test_outline(plan: Plan, other: dict[str, Any]) -> None:
    room = plan.survey.rooms[0]
    assert room.area_m2 == pytest.approx(other["area_m2"], rel=0.0005)
    assert room.perimeter_mm == pytest.approx(other["perimeter_mm"], abs=2)
    far = max(math.dist(a, b) for a, b in zip(room.corners, other["corners_mm"], strict=True))
    assert far <= 1
    if other["closing_error_mm"] is not None:
        assert room.closing_error_mm == pytest.approx(other["closing_error_mm"], abs=0.01)
    assert [abs(t.residual_mm) for t in room.tapes] == pytest.approx(
        [abs(r) for r in other["tape_residuals_mm"]], abs=0.1
    )


def test_levels_to_the_millimetre(plan: Plan, other: dict[str, Any]) -> None:
    book = plan.survey.levels
    assert book.misclosure_mm == other["misclosure_mm"]
    assert book.allowed_mm == other["allowed_mm"]
    levels = {p.id: p.level_mm for p in book.points}
    assert levels.keys() == other["levels_mm"].keys()
    wrong = {
        k: (v, other["levels_mm"][k]) for k, v in levels.items() if min(abs(v - o) for o in other["levels_mm"][k]) > 0.5
    }
    assert not wrong


def test_legs_at_the_readings_to_the_millimetre(plan: Plan, other: dict[str, Any]) -> None:
    if any(choice.chosen != choice.plain for choice in plan.layout.first_lines):
        pytest.skip("the grid stands off the readings, so that no foot stands on a pipe")
    at = {n.id: n.at for n in plan.layout.nodes}
    compared = 0
    for leg in plan.heights.legs:
        for x, y, tops, legs in other["legs_mm"].values():
            if math.dist(at[leg.node], (x, y)) <= 1e-6:
                compared += 1
                assert leg.rail_top_mm in tops
                assert leg.leg_mm in legs, leg
    assert compared >= 12


def test_depths_and_amounts(plan: Plan, other: dict[str, Any]) -> None:
    depth = plan.heights.depth
    assert depth.mean_mm == pytest.approx(other["mean_mm"], abs=0.5)
    assert depth.least_mm == pytest.approx(other["smallest_mm"], abs=1.1)
    assert depth.most_mm == pytest.approx(other["greatest_mm"], abs=1.1)
    assert plan.quantities.volume_l == pytest.approx(other["litres"], rel=0.015)
    bags = sum(p.bags for p in plan.sequence.pours)
    spare = len(plan.sequence.pours)
    assert math.ceil(other["bags_exact"] * 0.985) <= bags <= math.ceil(other["bags_exact"] * 1.005) + spare
    assert plan.quantities.weight.dry_kg_m2 == pytest.approx(other["dry_kg_m2"], rel=0.01)
    assert plan.quantities.weight.fresh_kg_m2 == pytest.approx(other["fresh_kg_m2"], rel=0.01)


def test_days(plan: Plan, other: dict[str, Any]) -> None:
    pours = [p.date for p in plan.sequence.pours]
    assert pours[0].isoformat() >= other["pour_days"][0]
    for event, days in other["days_after_last_pour"].items():
        mine = plan.sequence.dates[event]
        assert abs((mine - pours[-1]).days - days) <= (1 if event == "test_not_before" else 0), event


def test_stops_that_the_file_cannot_hide(plan: Plan, other: dict[str, Any]) -> None:
    stops = {f.code for f in plan.findings if f.kind == "stop"}
    assert set(other["stops"]) <= stops


def test_depth_is_rail_top_less_base_at_any_place(plan: Plan) -> None:
    for room in plan.survey.rooms:
        for x, y in room.corners:
            top, base = level_at(plan.heights.rail_top, (x, y)), level_at(plan.survey.base, (x, y))
            assert plan.heights.depth.least_mm - 0.5 <= top - base <= plan.heights.depth.most_mm + 0.5
