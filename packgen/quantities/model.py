"""What the quantities stage returns. Litres, kg, m², kN/m², money."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.worked import Assumed, Worked


@dataclass(frozen=True, slots=True)
class Weights:
    """kg/m² at the mean depth and over the worst square metre; kN/m² beside. `allowed` from the engineer."""

    dry_kg_m2: float
    fresh_kg_m2: float
    dry_kn_m2: float
    fresh_kn_m2: float
    fresh_with_people_kn_m2: float
    worst_dry_kn_m2: float
    worst_fresh_kn_m2: float
    worst_at: str
    worst_mean_depth_mm: float
    layers_kg_m2: float
    kit_kg_m2: float
    people_kn_m2: float
    allowed_dry_kn_m2: float | None
    allowed_working_kn_m2: float | None
    bags_per_m2: int | None  # how many bags may stand on one m²


@dataclass(frozen=True, slots=True)
class FootForce:
    """Force of one leg on its foot and the pressure below (J4)."""

    node: str
    force_kn: float
    pressure_kpa: float
    limit_kn: float | None


@dataclass(frozen=True, slots=True)
class OrderLine:
    """A row of the order list: generic item, quantity to buy, unit, spare included, mass, what it is for."""

    group: str
    item: str
    quantity: float
    digits: int
    unit: str
    spare: str
    mass_kg: float | None
    used_for: str
    unit_price: float | None = None
    amount: float | None = None


@dataclass(frozen=True, slots=True)
class BayFill:
    bay: str
    area_m2: float
    mean_depth_mm: float
    volume_l: float


@dataclass(frozen=True, slots=True)
class FillComparison:
    """Another fill at the same finished level, its heights computed again (J7)."""

    fill: str
    used: bool
    finish_mm: float
    leg_least_mm: float
    leg_most_mm: float
    legs_not_fitting: tuple[str, ...]
    extensions: int
    mean_mm: float
    smallest_mm: float
    greatest_mm: float
    least_allowed_mm: float
    most_allowed_mm: float
    volume_l: float
    bags: int
    dry_kn_m2: float
    fresh_kn_m2: float
    drying_days: int | None
    price: float | None
    fails: tuple[str, ...]  # codes of what it fails


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


@dataclass(frozen=True, slots=True)
class CircuitLength:
    service: str
    length_m: float
    leads_m: float
    allowed_m: float | None
    fits: bool


@dataclass(frozen=True)
class Quantities:
    """bays in layout order; volume_l is the sum of the printed bay rows (whole litres)."""

    bays: tuple[BayFill, ...]
    volume_l: float
    to_order_l: float
    weight: Weights
    feet: tuple[FootForce, ...]
    order: tuple[OrderLine, ...]
    comparison: tuple[FillComparison, ...]
    money: Money
    circuits: tuple[CircuitLength, ...]
    strip_m: float
    separating_layer_m2: float
    legs_plain: int
    legs_extended: int
    legs_packed: int
    legs_not_fitting: int
    assumed: tuple[Assumed, ...] = ()
    worked: tuple[Worked, ...] = ()
