"""Every fill of the comparison at the same finished level, its heights found again (J7)."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import half_up, round_up
from packgen.heights.for_fill import with_fill
from packgen.heights.model import Heights
from packgen.heights.settle import find_heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.boards import boards_over, bought_m2
from packgen.quantities.fill import bay_fills, order_litres
from packgen.quantities.model import BayFill, FillComparison
from packgen.quantities.weight import as_load, mean_weights
from packgen.survey.model import Survey
from packgen.trade.waiting import drying_days, drying_rule, waiting_rule


def compare_fills(project: Project, survey: Survey, layout: Layout, heights: Heights) -> tuple[FillComparison, ...]:
    """A row for the fill in use, then one for every other of `fills: compare`."""
    names = dict.fromkeys((project.fills.use, *project.fills.compare))
    rows = []
    for name in names:
        with_it = with_fill(project, survey, layout, name)
        found = heights if name == project.fills.use else find_heights(with_it, survey, layout)
        rows.append(_row(with_it, survey, layout, found, name, project.fills.use, heights))
    return tuple(rows)


def _row(
    project: Project, survey: Survey, layout: Layout, found: Heights, name: str, used: str, first: Heights
) -> FillComparison:
    fill = project.fills.used
    bays = bay_fills(project, survey, layout, found)
    mine = [b for b in bays if b.fill == name] or list(bays)
    volume = sum(b.volume_l for b in mine)
    bags = int(round_up(order_litres(volume, fill) / fill.bag.makes))
    dry, fresh = mean_weights(project, found)
    legs = [leg.leg_mm for leg in found.legs]
    greatest = half_up(found.depth.most_mm, 1)
    return FillComparison(
        fill=name,
        used=name == used,
        finish_mm=found.zones[0].build_up.finish_mm,
        leg_least_mm=min(legs, default=0),
        leg_most_mm=max(legs, default=0),
        legs_not_fitting=tuple(leg.node for leg in found.legs if not leg.fits),
        extensions=sum(leg.extensions for leg in found.legs),
        mean_mm=half_up(found.depth.mean_mm, 1),
        smallest_mm=half_up(found.depth.least_mm, 1),
        greatest_mm=greatest,
        least_allowed_mm=found.rule.least_mm,
        most_allowed_mm=found.rule.most_mm,
        volume_l=volume,
        bags=bags,
        dry_kn_m2=half_up(as_load(dry), 3),
        fresh_kn_m2=half_up(as_load(fresh), 3),
        drying_days=test_days(project, fill, greatest),
        price=_price(project, layout, fill, bags, mine),
        fails=_fails(project, found, dry),
        resistance_m2k_w=half_up(resistance(found.depth.mean_mm, fill.conductivity), 2) if fill.conductivity else None,
        bag_mass_kg=bags * fill.bag.mass,
        legs_moved_mm=found.zones[0].rail_top_mm - first.zones[0].rail_top_mm,
    )


def resistance(depth_mm: float, conductivity_w_mk: float) -> float:
    """Thermal resistance of a layer: R = d / lambda   [m²K/W]

    Source: ISO 6946.

    >>> round(resistance(65, 1.35), 4)
    0.0481
    """
    return depth_mm / 1000 / conductivity_w_mk


def covered_days(fill: Fill) -> int:
    """Days that a mixed fill is kept covered: the file's, else by its kind."""
    return waiting_rule(fill.family, "covered").days if fill.keep_covered is None else fill.keep_covered


def test_days(project: Project, fill: Fill, depth_mm: float) -> int | None:
    """Days from the pour to the earliest moisture test: covered, then drying of a depth; None where nothing dries.

    "drying: none" in the file means that no test is wanted; a screed without that key dries as published.
    """
    rates = drying_rates(project, fill)
    return None if rates is None else covered_days(fill) + drying_days(depth_mm, *rates)


def drying_rates(project: Project, fill: Fill) -> tuple[float, float, float] | None:
    """First so many mm, at one rate, the rest at another; None where nothing dries or nothing covers it."""
    if not fill.mixed:
        return None
    if fill.drying is not None:
        return fill.drying.first_mm, fill.drying.first_rate, fill.drying.rest_rate
    said_none = any(key.casefold() == "drying" for key, _ in fill.marks.keys)
    rule = None if said_none or project.outside else drying_rule(fill.family)
    return None if rule is None else (rule.first_mm, rule.first_rate, rule.rest_rate)


def _price(project: Project, layout: Layout, fill: Fill, bags: int, bays: Sequence[BayFill]) -> float | None:
    if fill.bag.price is None:
        return None
    price = bags * fill.bag.price
    if fill.board_on_top is not None:
        name = f"{fill.board_on_top.material} board".casefold()
        rate = next((p.value for n, p in project.prices.items if n.casefold() == name and p.per == "m2"), None)
        if rate is None:
            return None
        plan = boards_over(project, layout, fill.board_on_top, {b.bay for b in bays})
        price += bought_m2(plan) * rate
    return half_up(price, 2)


def _fails(project: Project, found: Heights, dry_kg_m2: float) -> tuple[str, ...]:
    """Codes of the stops that this fill would bring; those of heights and weight only."""
    codes = []
    if any(not leg.fits for leg in found.legs):
        codes.append("leg-out-of-range")
    if found.depth.least_mm < found.rule.least_mm - 0.5:
        codes.append("depth-too-small")
    if found.depth.most_mm > found.rule.most_mm + 0.5:
        codes.append("depth-too-great")
    allowed = project.base.extra_load_allowed
    if allowed is not None and half_up(as_load(dry_kg_m2), 2) > allowed:
        codes.append("load-over-allowed")
    return tuple(codes)
