"""The arithmetic of single price rows, of masses delivered, and of the fills compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import KILONEWTON_PER_KG, half_up, plain
from packgen.core.worked import COUNTED, FILE, Given, Source, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.purchase.model import Delivery, Money
from packgen.purchase.money import Parts
from packgen.quantities.compare import covered_days, drying_rates
from packgen.quantities.fill import more_given
from packgen.quantities.leg_items import priced_part
from packgen.quantities.model import FillComparison, OrderLine
from packgen.quantities.waiting_given import covered_given, drying_given
from packgen.quantities.weight import zone_weights
from packgen.quantities.weight_lines import GRAVITY, STANDARD_GRAVITY, density_given, kit_given
from packgen.sequence.model import Pour
from packgen.sequence.pours import fill_named

SAME_FLOOR = Source("heights found again with this fill at the same finished level", known="calculated")


def price_lines(project: Project, money: Money, quantities: Mapping[int, Parts]) -> Iterator[Worked]:
    """amount = quantity x rate of every row. quantities: by row, the lines that its quantity is the sum of."""
    prices = project.prices
    for n, row in enumerate(money.rows, 1):
        parts = quantities.get(n, ())
        quantity = " + ".join(plain(q, 3) for _, q in parts) or plain(row.quantity, 3)
        if len(parts) > 1:
            quantity = f"({quantity})"
        keys = tuple(dict.fromkeys(key for key, _ in parts))
        rate = _rate(project, row.item, row.rate, row.unit)
        own = () if parts else (Given(f"{row.item}: how much", row.quantity, row.unit, COUNTED),)
        yield Worked(
            f"money/row {n}",
            f"price of {row.item}",
            "quantity x price",
            f"{quantity} x {plain(row.rate, 4)}",
            row.amount,
            2,
            prices.currency,
            FILE,
            keys,
            (*own, rate),
        )


def _rate(project: Project, item: str, rate: float, unit: str) -> Given:
    """The price as it stands in the file: of a fill at its bag, else among the prices."""
    says = f"price of {item}"
    per = f"{project.prices.currency} for {unit or 'one'}"
    for _, fill in project.fills.described:
        if item.startswith(f"{fill.kind}, ") and fill.bag.price == rate:
            return given(fill.bag, "price", says, rate, per)
    part = priced_part(project.kit, item)
    if part is not None and part.price == rate:
        return given(part, "price", says, rate, per)
    key = "labour" if item == "labour" else f"items/{item}"
    return given(project.prices, key, says, rate, per)


def bag_mass_lines(project: Project, pours: Sequence[Pour]) -> Iterator[Worked]:
    """Mass of the bags of each pour."""
    for p in pours:
        bag = fill_named(project, p.fill).bag
        yield Worked(
            f"pour/{p.number}/mass",
            f"mass of the bags of pour {p.number}",
            "bags x mass of a bag",
            f"{p.bags} x {plain(bag.mass)}",
            p.bags_mass_kg,
            1,
            "kg",
            FILE,
            (f"pour/{p.number}/bags",),
            (given(bag, "mass", "mass of a bag", bag.mass, "kg"),),
        )


def delivery_lines(project: Project, order: Sequence[OrderLine], delivery: Delivery) -> Iterator[Worked]:
    """Mass in all, bags, and hours to carry them."""
    rows = [line for line in order if line.mass_kg and not line.total]
    yield Worked(
        "delivery/mass",
        "mass of what is delivered, as far as it is known",
        "sum of the rows of the order list",
        " + ".join(plain(line.mass_kg or 0.0, 1) for line in rows) or "0",
        delivery.mass_kg,
        0,
        "kg",
        needs=tuple(mass_key(line) for line in rows),
    )
    rate = project.rates.carry_bags
    if rate and delivery.carry_hours is not None:
        yield Worked(
            "delivery/carrying",
            "hours to carry the bags in",
            "bags / rate",
            f"{delivery.bags} / {plain(rate)}",
            delivery.carry_hours,
            1,
            "h",
            FILE,
            ("delivery/bags",),
            (given(project.rates, "carry bags", "bags that one person carries in an hour", rate, "bags an hour"),),
        )


def delivered_bags_line(pours: Sequence[Pour]) -> Worked:
    return Worked(
        "delivery/bags",
        "bags in all",
        "sum of the pours",
        " + ".join(str(p.bags) for p in pours) or "0",
        sum(p.bags for p in pours),
        0,
        "bags",
        needs=tuple(f"pour/{p.number}/bags" for p in pours),
    )


def mass_key(line: OrderLine) -> str:
    """Key of the line of a row's mass."""
    return line.key.removesuffix("/bags") + "/mass" if line.key.startswith("pour/") else f"{line.key}/mass"


# --------------------------------------------------------------------------------- fills compared


def compare_lines(project: Project, row: FillComparison) -> Iterator[Worked]:
    """What a fill of the comparison weighs, needs and costs at the same finished level."""
    fill, key = fill_named(project, row.fill), f"compare/{row.fill}"
    litres = Given(f"litres of {row.fill} in place", row.volume_l, "L", SAME_FLOOR)
    mean = Given(f"mean depth with {row.fill}", row.mean_mm, "mm", SAME_FLOOR)
    if not row.used:
        yield _bags(f"{key}/bags", row, fill, litres)
    zones = zone_weights(project)
    if len(zones) == 1 and fill.conductivity and row.resistance_m2k_w is not None:
        yield _resistance(f"{key}/resistance", row, fill, mean)
    drying = _drying(project, f"{key}/drying", row, fill)
    if drying is not None:
        yield drying
    if len(zones) == 1:
        yield from _weights(project, row, fill, mean)


def _weights(project: Project, row: FillComparison, fill: Fill, mean: Given) -> Iterator[Worked]:
    """Dry and fresh weight with a fill, in kg and as a load."""
    kit = project.kit.mass
    for name, load, density in (
        ("dry", row.dry_kn_m2, fill.hardened_density),
        ("fresh", row.fresh_kn_m2, fill.fresh_density),
    ):
        key, dry = f"compare/{row.fill}/{name}", name == "dry"
        kg = half_up(load / KILONEWTON_PER_KG, 1)
        own = half_up(row.mean_mm / 1000 * density, 6)
        layers = half_up(kg - own - kit, 2) if dry else 0.0
        numbers = f"{plain(row.mean_mm, 1)} / 1000 x {plain(density)}" + (f" + {plain(layers)}" if dry else "")
        with_it = Given(f"layers above {row.fill}", layers, "kg/m²", SAME_FLOOR)
        figures = (mean, density_given(fill, dry), *((with_it,) if dry else ()), kit_given(project))
        yield Worked(
            key,
            f"{name} weight with {row.fill}",
            f"mean depth x density{' + layers' if dry else ''} + kit",
            f"{numbers} + {plain(kit)}",
            kg,
            1,
            "kg/m²",
            FILE,
            (),
            figures,
        )
        yield Worked(
            f"{key}/force",
            f"{name} weight with {row.fill} as a load",
            "kg/m² x standard gravity / 1000",
            f"{plain(kg, 1)} x {GRAVITY} / 1000",
            half_up(load, 3),
            3,
            "kN/m²",
            needs=(key,),
            given=(STANDARD_GRAVITY,),
        )


def _bags(key: str, row: FillComparison, fill: Fill, litres: Given) -> Worked:
    factor = f"{plain(row.volume_l)} x (1 + {plain(fill.settles, 4)}) x (1 + {plain(fill.waste, 4)})"
    return Worked(
        key,
        f"bags of {row.fill}, as if poured in one go",
        "litres x (1 + settles) x (1 + waste) / litres per bag, rounded up",
        f"ceil({factor} / {plain(fill.bag.makes)})",
        row.bags,
        0,
        "bags",
        FILE,
        (),
        (litres, *more_given(fill), given(fill.bag, "makes", "litres that a bag makes", fill.bag.makes, "L")),
    )


def _resistance(key: str, row: FillComparison, fill: Fill, mean: Given) -> Worked:
    conductivity = fill.conductivity or 0.0
    exact = half_up(row.mean_mm / 1000 / conductivity, 2)
    own = given(fill, "conductivity", f"conductivity of {row.fill}", conductivity, "W/mK")
    numbers = f"{plain(row.mean_mm, 1)} / 1000 / {plain(conductivity, 4)}"
    formula = "mean depth / 1000 / conductivity"
    name = f"thermal resistance of {row.fill}"
    return Worked(key, name, formula, numbers, exact, 2, "m²K/W", FILE, (), (mean, own))


def _drying(project: Project, key: str, row: FillComparison, fill: Fill) -> Worked | None:
    rates = drying_rates(project, fill)
    if rates is None or row.drying_days is None:
        return None
    first, first_rate, rest_rate = rates
    depth, covered = row.greatest_mm, covered_days(fill)
    if depth > first:
        dry = f"{plain(first)} / {plain(first_rate)} + ({plain(depth, 1)} - {plain(first)}) / {plain(rest_rate)}"
    else:
        dry = f"{plain(depth, 1)} / {plain(first_rate)}"
    return Worked(
        key,
        f"days until {row.fill} is tested",
        "covered + (first part / first rate + rest / rest rate, rounded up)",
        f"{covered} + ceil({dry})",
        row.drying_days,
        0,
        "days",
        FILE,
        (),
        (Given(f"greatest depth with {row.fill}", depth, "mm", SAME_FLOOR), covered_given(fill), *drying_given(fill)),
    )
