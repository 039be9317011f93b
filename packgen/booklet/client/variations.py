"""Section 19: what a change costs, from the rates of the project file; what has no rate says so."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import half_up, number, plain
from packgen.plan import Plan

NOT_PRICED = "not priced"
DEEPER_MM = 10  # the step of depth for which a rate is asked (a litre on a square metre is a mm)

Change = tuple[str, str, str, str]  # change, unit, how reckoned, rate


def section(plan: Plan) -> Section:
    """Rates, and how a change is made."""
    prices = plan.project.prices
    shares = [
        f"{name} {plain(share * 100, 2)} %"
        for name, share in (("overhead and profit", prices.overhead_and_profit), ("tax", prices.tax))
        if share
    ]
    before = f"Rates are before {' and '.join(shares)}. " if shares else ""
    text = (
        f"{before}A change is written, priced and signed before it is done. A change of a measured number makes a new "
        "plan with a new sign: sheets with the old sign are then withdrawn."
    )
    blocks: list[Block] = [Rows(_rates(plan)), Text(text)]
    return Section("variations", "Variations", tuple(blocks))


def changes(plan: Plan) -> tuple[Change, ...]:
    """Every change with its rate or "not priced"."""
    return tuple(_changes(plan))


def _changes(plan: Plan) -> Iterator[Change]:
    prices, items = plan.project.prices, dict(plan.project.prices.items)
    grid = items.get("grid")
    yield (
        "one square metre more or less of grid",
        "m²",
        "rate of the grid, without fill and labour" if grid and grid.per == "m2" else "",
        number(grid.value, 2) if grid and grid.per == "m2" else NOT_PRICED,
    )
    for fill in fills_in_use(plan)[:3]:
        price, bag = fill.bag.price, fill.bag
        settles = f" x (1 + {plain(fill.settles, 4)})" if fill.settles else ""
        litres = f"{DEEPER_MM} x (1 + {plain(fill.waste, 4)}){settles}"
        reckoned = f"{litres} / {plain(bag.makes)} x {number(price, 2)}" if price is not None else ""
        value = DEEPER_MM * (1 + fill.waste) * (1 + fill.settles) / bag.makes * price if price is not None else None
        yield (
            f"{DEEPER_MM} mm more depth of {fill.kind}",
            "m²",
            f"bags alone: {reckoned}" if reckoned else "",
            number(half_up(value, 2), 2) if value is not None else NOT_PRICED,
        )
    yield "one leg more, or one with extension", "piece", "", NOT_PRICED
    labour = prices.labour
    if labour is not None and labour.per == "hour":
        yield "one hour of work more", "person hour", "rate of labour", number(labour.value, 2)
        hours = sum(p.number * p.hours_a_day for p in plan.project.crew)
        yield (
            "one day of waiting, the whole crew",
            "day",
            f"{plain(hours, 1)} person hours x {number(labour.value, 2)}; hire not in it",
            number(half_up(hours * labour.value, 2), 2),
        )
    else:
        yield "one hour of work more", "person hour", "", NOT_PRICED
        yield "one day of waiting, the whole crew", "day", "", NOT_PRICED
    for name, rate in prices.items:
        if rate.per == "day":
            yield f"one day more of {name}", "day", "rate of the file", number(rate.value, 2)
    yield "one moisture test or sample more", "piece", "", NOT_PRICED


def _rates(plan: Plan) -> Table:
    rows = [Row((first_upper(what), unit, how, rate), "light") for what, unit, how, rate in _changes(plan)]
    columns = (
        Column("rate for", width_mm=72),
        Column("unit", width_mm=24),
        Column("how reckoned"),
        Column("rate", "number", 24, plan.purchase.money.currency),
    )
    return Desk(columns, tuple(rows))
