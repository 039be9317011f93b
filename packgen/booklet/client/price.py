"""Section 18: the price build-up: printed rows that add to the printed total, and what is not priced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import half_up, number, plain
from packgen.plan import Plan
from packgen.purchase.model import Money, PriceRow


def section(plan: Plan) -> Section:
    """The rows, the sums, what is provisional."""
    money = plan.purchase.money
    if not money.rows:
        text = "The project file gives no prices: nothing is priced."
        return Section("price", "Price", (Text(text),))
    blocks: list[Block] = [Rows(_table(money)), Text(_provisional(plan))]
    return Section("price", "Price", tuple(blocks))


def total_words(money: Money) -> str:
    """What the total stands for: "total", or "total without 4 items not priced"."""
    count = len(money.not_priced)
    return f"total without {count} {'item' if count == 1 else 'items'} not priced" if count else "total"


def together(rows: Sequence[PriceRow]) -> tuple[PriceRow, ...]:
    """Rows of one item at one rate as one, where their amounts are the amount of their sum to the printed digit."""
    out: list[PriceRow] = []
    for r in rows:
        k = next((i for i, o in enumerate(out) if (o.item, o.unit, o.rate) == (r.item, r.unit, r.rate)), None)
        if k is not None:
            quantity, amount = out[k].quantity + r.quantity, half_up(out[k].amount + r.amount, 2)
            if half_up(quantity * r.rate, 2) == amount:
                out[k] = replace(out[k], quantity=quantity, amount=amount, digits=max(out[k].digits, r.digits))
                continue
        out.append(r)
    return tuple(out)


def _unit(unit: str, quantity: float) -> str:
    """The unit beside its quantity: 1 day, 2 days; "job" where there is none."""
    return (unit.removesuffix("s") if quantity == 1 else unit) or "job"


def _table(money: Money) -> Table:
    rows = [
        Row(
            (
                first_upper(r.item),
                number(r.quantity, r.digits),
                _unit(r.unit, r.quantity),
                number(r.rate, 2),
                number(r.amount, 2),
            ),
            "light",
        )
        for r in together(money.rows)
    ]
    rows += [Row((first_upper(item), "", "", "", "not priced"), "light") for item in money.not_priced]
    rows.append(Row(("Net, sum of the rows", "", "", "", number(money.net, 2)), "heavy", strong=True))
    rows.append(_share("Overhead and profit", "of net", money.overhead_share, money.overhead))
    rows.append(_share("Tax", "of net with overhead and profit", money.tax_share, money.tax))
    rows.append(Row((first_upper(total_words(money)), "", "", "", number(money.total, 2)), "heavy", strong=True))
    columns = (
        Column("item"),
        Column("quantity", "number", 22),
        Column("unit", width_mm=18),
        Column("rate", "number", 24, money.currency),
        Column("amount", "number", 28, money.currency),
    )
    return Desk(columns, tuple(rows))


def _share(name: str, of: str, share: float | None, amount: float) -> Row:
    if share is None:
        return Row((name, "", "", "", "not stated"), "light", keep=True)
    return Row((f"{name}, {plain(share * 100, 2)} % {of}", "", "", "", number(amount, 2)), "light", keep=True)


def _provisional(plan: Plan) -> str:
    legs = plan.heights.legs
    guessed = sum(leg.known != "read" for leg in legs)
    tasks = [f"{task} {plain(hours, 1)}" for task, hours in plan.sequence.person_hours]
    parts = []
    if guessed:
        parts.append(
            f"Provisional: quantity of fill and kind of legs, as the base was read under {len(legs) - guessed} of "
            f"{len(legs)} legs; the bags used are counted."
        )
    else:
        parts.append("Provisional: nothing; the bags used are counted.")
    if plan.project.prices.labour is not None and tasks:
        parts.append(f"Labour: person hours to {', to '.join(tasks)}; no other hours are priced.")
    parts.append("Quantities include the spare of the order list. The price holds until ____________________")
    return " ".join(parts)
