"""What the purchase stage returns: order list by pour and day, delivery, money, fills compared as bought."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.worked import Worked
from packgen.quantities.model import FillComparison, OrderLine


@dataclass(frozen=True, slots=True)
class Delivery:
    """What is carried in: mass in all, the heaviest piece, bags, and person hours to carry them."""

    mass_kg: float
    heaviest_kg: float
    heaviest: str
    bags: int
    carry_hours: float | None


@dataclass(frozen=True, slots=True)
class PriceRow:
    item: str
    quantity: float
    digits: int
    unit: str
    rate: float
    amount: float


@dataclass(frozen=True, slots=True)
class Money:
    currency: str
    rows: tuple[PriceRow, ...]
    not_priced: tuple[str, ...]
    net: float
    overhead: float
    tax: float
    total: float
    overhead_share: float | None = None
    tax_share: float | None = None


@dataclass(frozen=True)
class Purchase:
    """order: bags by pour at the head, then all else, dated and priced. comparison: the fill in use as poured."""

    order: tuple[OrderLine, ...]
    delivery: Delivery
    money: Money
    comparison: tuple[FillComparison, ...]
    worked: tuple[Worked, ...]
    further: tuple[Worked, ...] = ()  # lines that others need and no sheet prints
