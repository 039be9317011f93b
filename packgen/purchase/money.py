"""Prices of the file against what is bought and done: rows, overhead, tax, total; what has no price is named."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, Worked
from packgen.project.amounts import Price
from packgen.project.given import given
from packgen.project.model import Project
from packgen.purchase.model import Money, PriceRow
from packgen.quantities.model import OrderLine
from packgen.quantities.order import GRID

UNITS = {
    "m2": "m²",
    "m": "m",
    "l": "l",
    "kg": "kg",
    "bag": "bags",
    "piece": "pieces",
    "hour": "h",
    "day": "days",
    "job": "",
}
AMOUNT_KEYS: Mapping[str, tuple[str, ...]] = {
    "m2": ("rooms/area",),
    "l": ("fill/litres",),
    "kg": ("delivery/mass",),
    "bag": ("delivery/bags",),
    "hour": ("work/hours",),
}
Parts = tuple[tuple[str, float], ...]  # keys of lines, and the results that a quantity is the sum of
SAME_THING = {"edge strip": "perimeter strip", "foil": "separating layer", "screed bags": "fill"}


@dataclass(frozen=True, slots=True)
class Known:
    """Amounts that a price may be for when no line of the order list bears its name."""

    room_m2: float
    perimeter_m: float
    pour_days: int
    person_hours: float
    volume_l: float
    mass_kg: float
    bags: int


def price_up(
    project: Project, order: Sequence[OrderLine], known: Known
) -> tuple[tuple[OrderLine, ...], Money, tuple[Worked, ...], dict[int, Parts]]:
    """The order lines with their prices, the money, its arithmetic, and for each row of money the keys of the lines
    that its quantity is the sum of.

    amount = quantity x rate; net = sum of the rows; overhead on net; tax on both. All to 2 decimals.
    """
    prices = project.prices
    lines = list(order)
    rows: list[PriceRow] = []
    parts: dict[int, Parts] = {}
    for index, line in enumerate(lines):
        if line.unit_price is not None and not line.total:
            amount = half_up(line.quantity * line.unit_price, 2)
            lines[index] = replace(line, amount=amount)
            rows.append(PriceRow(line.item, line.quantity, line.digits, line.unit, line.unit_price, amount))
            parts[len(rows)] = ((line.key, line.quantity),)
    covered: set[int] = set()
    for name, price in prices.items:
        row, own = _row(name, price, lines, known, covered)
        rows.append(row)
        parts[len(rows)] = own
    if prices.labour is not None:
        hours = known.person_hours if prices.labour.per == "hour" else _amount_for(prices.labour, known)
        amount = half_up(hours * prices.labour.value, 2)
        rows.append(PriceRow("labour", hours, 1, UNITS[prices.labour.per], prices.labour.value, amount))
        parts[len(rows)] = tuple((key, hours) for key in AMOUNT_KEYS.get(prices.labour.per, ()))
    not_priced = tuple(
        line.item for k, line in enumerate(lines) if line.amount is None and k not in covered and not line.total
    )
    net = half_up(sum(r.amount for r in rows), 2)
    overhead = half_up(net * (prices.overhead_and_profit or 0.0), 2)
    tax = half_up((net + overhead) * (prices.tax or 0.0), 2)
    money = Money(
        prices.currency,
        tuple(rows),
        not_priced,
        net,
        overhead,
        tax,
        half_up(net + overhead + tax, 2),
        prices.overhead_and_profit,
        prices.tax,
    )
    return tuple(lines), money, _lines(project, money) if rows else (), parts


def _row(name: str, price: Price, lines: list[OrderLine], known: Known, covered: set[int]) -> tuple[PriceRow, Parts]:
    """A priced item, and the keys of the lines that its quantity is the sum of."""
    unit = UNITS[price.per]
    wanted = SAME_THING.get(name.casefold(), name.casefold())
    found = [k for k, line in enumerate(lines) if wanted in line.item.casefold() and not line.total]
    if wanted == "grid":
        found = []
        covered.update(k for k, line in enumerate(lines) if line.group == GRID)
    same = [k for k in found if lines[k].unit.rstrip("s") == unit.rstrip("s")]
    covered.update(found)
    if not same:
        quantity = _amount_for(price, known)
        digits = 0 if quantity == int(quantity) else 2
    else:
        quantity, digits = sum(lines[k].quantity for k in same), max(lines[k].digits for k in same)
        for k in same:
            line = lines[k]
            lines[k] = replace(line, unit_price=price.value, amount=half_up(line.quantity * price.value, 2))
    if same:
        parts: Parts = tuple((lines[k].key, lines[k].quantity) for k in same)
    else:
        parts = tuple((key, quantity) for key in AMOUNT_KEYS.get(price.per, ()))
    return PriceRow(name, quantity, digits, unit, price.value, half_up(quantity * price.value, 2)), parts


def _amount_for(price: Price, known: Known) -> float:
    amounts: Mapping[str, float] = {
        "m2": known.room_m2,
        "m": known.perimeter_m,
        "day": known.pour_days,
        "hour": known.person_hours,
        "l": known.volume_l,
        "kg": known.mass_kg,
        "bag": known.bags,
        "piece": 1,
        "job": 1,
    }
    return amounts[price.per]


def _lines(project: Project, money: Money) -> tuple[Worked, ...]:
    prices = project.prices
    unit = money.currency
    rows = " + ".join(plain(r.amount, 2) for r in money.rows)
    net, overhead, tax = (plain(v, 2) for v in (money.net, money.overhead, money.tax))
    return (
        Worked(
            "money/net",
            "net",
            "sum of the rows",
            rows,
            money.net,
            2,
            unit,
            needs=tuple(f"money/row {n}" for n in range(1, len(money.rows) + 1)),
        ),
        Worked(
            "money/overhead",
            "overhead and profit",
            "net x share",
            f"{net} x {plain(money.overhead_share or 0.0, 4)}",
            money.overhead,
            2,
            unit,
            FILE,
            ("money/net",),
            (given(prices, "overhead and profit", "overhead and profit, share", money.overhead_share or 0.0, ""),),
        ),
        Worked(
            "money/tax",
            "tax",
            "(net + overhead and profit) x share",
            f"({net} + {overhead}) x {plain(money.tax_share or 0.0, 4)}",
            money.tax,
            2,
            unit,
            FILE,
            ("money/net", "money/overhead"),
            (given(prices, "tax", "tax, share", money.tax_share or 0.0, ""),),
        ),
        Worked(
            "money/total",
            "total",
            "net + overhead and profit + tax",
            f"{net} + {overhead} + {tax}",
            money.total,
            2,
            unit,
            needs=("money/net", "money/overhead", "money/tax"),
        ),
    )
