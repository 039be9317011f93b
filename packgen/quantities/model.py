"""What the quantities stage returns. Litres, kg, m², kN/m², money."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from packgen.core.worked import Assumed, Worked
from packgen.layout.board_model import BoardPlan


@dataclass(frozen=True, slots=True)
class Weights:
    """kg/m² at the mean depth and over the worst square metre; kN/m² beside.

    dry: for good, with kit and layers; fresh: on the day, without layers and people (worst_fresh too)
    allowed_dry: from the engineer; allowed_working: that and the imposed load; None: the file gives no number
    worst_at: the node in the middle of the worst square; imposed_kn_m2: imposed load taken for feet and work
    """

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
    imposed_kn_m2: float = 0.0
    worst_from: tuple[float, float] = (0.0, 0.0)  # low corner of the worst square in plan, mm


@dataclass(frozen=True, slots=True)
class FootForce:
    """Force of one leg on its foot and the pressure below (J4)."""

    node: str
    force_kn: float
    pressure_kpa: float
    limit_kn: float | None


@dataclass(frozen=True, slots=True)
class OrderLine:
    """A row of the order list: generic item, quantity to buy, unit, spare included, mass, what it is for.

    heaviest_kg: heaviest single piece; day: needed by, where it belongs to a pour; total: sum of rows above
    """

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
    heaviest_kg: float | None = None
    day: datetime.date | None = None
    total: bool = False
    key: str = ""  # of its worked line


@dataclass(frozen=True, slots=True)
class BayFill:
    """A printed row: area to 4 decimals x mean depth to 2 = litres, whole; its part of a drain's bed with it."""

    bay: str
    area_m2: float
    mean_depth_mm: float
    volume_l: float
    zone: str = ""
    fill: str = ""


@dataclass(frozen=True, slots=True)
class FillComparison:
    """A fill at the same finished level, its heights computed again (J7).

    bags: for the fill in use the sum of its pours, else as if poured in one go. price: bags and board at the file's
    prices, None where a price is missing. resistance: mean depth / conductivity.
    """

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
    resistance_m2k_w: float | None = None
    bag_mass_kg: float = 0.0
    legs_moved_mm: float = 0.0  # rail top against that of the fill in use, up is plus


@dataclass(frozen=True, slots=True)
class CircuitLength:
    service: str
    length_m: float
    leads_m: float
    allowed_m: float | None
    fits: bool


@dataclass(frozen=True)
class Quantities:
    """bays in layout order; volume_l is the sum of the printed bay rows (whole litres).

    goods: all that is bought besides the fill; the order list with bags by pour is made when the days are known.
    """

    bays: tuple[BayFill, ...]
    volume_l: float
    to_order_l: float
    weight: Weights
    feet: tuple[FootForce, ...]
    goods: tuple[OrderLine, ...]
    comparison: tuple[FillComparison, ...]
    circuits: tuple[CircuitLength, ...]
    strip_m: float
    separating_layer_m2: float
    legs_plain: int
    legs_extended: int
    legs_packed: int
    legs_not_fitting: int
    assumed: tuple[Assumed, ...] = ()
    worked: tuple[Worked, ...] = ()
    further: tuple[Worked, ...] = ()  # lines that others need and no sheet prints
    floor_m2: float = 0.0  # inside the perimeter strip
    room_m2: float = 0.0
    boards_m2: float = 0.0  # floor under boards
    boards: tuple[BoardPlan, ...] = ()
    free_edges_m: float = 0.0
