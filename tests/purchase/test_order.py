"""The order list and the money of the demo projects."""

from __future__ import annotations

import pytest

from packgen.core.figures import half_up
from packgen.plan import Plan
from packgen.purchase.buy import FILL


def test_bags_ordered_are_the_sum_of_the_pours(plan: Plan) -> None:
    rows = [line for line in plan.purchase.order if line.group == FILL]
    pours = plan.sequence.pours
    assert [r.quantity for r in rows if not r.total] == [p.bags for p in pours]
    assert [r.quantity for r in rows if r.total] == ([sum(p.bags for p in pours)] if len(pours) > 1 else [])


def test_nothing_is_without_a_unit_and_each_spare_has_its_line(plan: Plan) -> None:
    keys = {w.key: w.value for w in (*plan.worked, *plan.further)}
    for line in plan.purchase.order:
        assert line.unit
        assert line.quantity > 0
        if line.key:
            assert keys[line.key] == line.quantity


def test_there_is_a_leg_for_every_node_and_an_extension_for_every_long_one(plan: Plan) -> None:
    by_item = {line.item: line.quantity for line in plan.purchase.order}
    legs = next(v for k, v in by_item.items() if k.startswith("leg "))
    assert legs >= len(plan.layout.nodes) * 1.03
    assert legs < len(plan.layout.nodes) * 1.03 + 1
    needed = sum(s.extensions for s in plan.heights.legs)
    extensions = sum(v for k, v in by_item.items() if k.startswith("extension"))
    assert (extensions >= needed * 1.03) if needed else extensions == 0
    assert plan.quantities.legs_plain + plan.quantities.legs_extended + plan.quantities.legs_packed + (
        plan.quantities.legs_not_fitting
    ) == len(plan.layout.nodes)


def test_sheets_cover_the_floor_and_turn_up_at_the_walls(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Extension: 27.07 m² in the strip x 1.15, and 21.2 m of wall x 122: depth 74, layers 18, 30 to cut off."""
    quantities = plan_of("02-extension-heated").quantities
    assert quantities.separating_layer_m2 == pytest.approx(27.07 * 1.15 + 21.2 * 0.122, abs=0.1)
    assert quantities.strip_m == pytest.approx(21.2 * 1.05, abs=0.1)


def test_a_terrace_gets_a_mat_and_no_foil_and_a_ground_without_membrane_gets_one(plan_of) -> None:  # type: ignore[no-untyped-def]
    terrace = [line.item for line in plan_of("05-terrace-with-falls").purchase.order]
    assert "protection mat" in terrace
    assert not any("separating layer" in item for item in terrace)
    house = [line.item for line in plan_of("08-skew-old-house-room").purchase.order]
    assert "damp-proof membrane" in house


def test_money_adds_up(plan: Plan) -> None:
    money, prices = plan.purchase.money, plan.project.prices
    for row in money.rows:
        assert row.amount == half_up(row.quantity * row.rate, 2)
    assert money.net == half_up(sum(r.amount for r in money.rows), 2)
    assert money.overhead == half_up(money.net * (prices.overhead_and_profit or 0), 2)
    assert money.tax == half_up((money.net + money.overhead) * (prices.tax or 0), 2)
    assert money.total == half_up(money.net + money.overhead + money.tax, 2)


def test_every_price_of_the_file_stands_in_one_row_and_what_has_none_is_named(plan: Plan) -> None:
    prices, money = plan.project.prices, plan.purchase.money
    items = [r.item for r in money.rows]
    for name, price in prices.items:
        assert items.count(name) == 1
        assert next(r for r in money.rows if r.item == name).rate == price.value
    assert items.count("labour") == (1 if prices.labour is not None else 0)
    priced = {line.item for line in plan.purchase.order if line.amount is not None}
    assert not priced & set(money.not_priced)


def test_prices_find_what_they_are_for(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Extension: grid by the room's 27.28 m², the layer by what is bought, hire by the pour day, labour by the hour."""
    plan = plan_of("02-extension-heated")
    rows = {r.item: r for r in plan.purchase.money.rows}
    assert rows["grid"].quantity == pytest.approx(27.28, abs=0.01)
    assert rows["separating layer"].quantity == plan.quantities.separating_layer_m2
    assert rows["edge strip"].quantity == plan.quantities.strip_m
    assert rows["mixer hire"].quantity == len(plan.sequence.pours)
    assert rows["delivery"].quantity == 1
    assert rows["labour"].quantity == pytest.approx(sum(h for _, h in plan.sequence.person_hours))
    bags = next(r for r in plan.purchase.money.rows if r.unit == "bags")
    assert (bags.quantity, bags.rate) == (sum(p.bags for p in plan.sequence.pours), 4.2)


def test_delivery_weighs_what_is_ordered(plan: Plan) -> None:
    delivery = plan.purchase.delivery
    assert delivery is not None
    masses = [line.mass_kg or 0 for line in plan.purchase.order if not line.total]
    assert delivery.mass_kg == half_up(sum(masses))
    assert delivery.bags == sum(p.bags for p in plan.sequence.pours)
    board = plan.project.fills.used.board_on_top
    whole = 0 if board is None else 2.5 * 1.25 * board.thickness / 1000 * 7.0 / 9.80665e-3  # OSB, 7 kN/m³, EN 1991-1-1
    assert delivery.heaviest_kg == max(plan.project.fills.used.bag.mass, half_up(whole))
