"""Blanks of the fill: mean depth, litres, bags, water, part by part; the other fill, weight and drying at level 3."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from packgen.core.figures import day
from packgen.exercise import ways_fill as fill
from packgen.exercise import ways_height as height
from packgen.exercise import ways_time as time
from packgen.exercise.blanks import make, slip
from packgen.exercise.model import Answers, Blank, Case, CaseFill, CasePart, Way
from packgen.exercise.questions_height import top_slips

OTHER = "other"


def fill_blanks(case: Case) -> Iterator[Blank]:
    """Every part of the fill in use, then the other fill over the whole floor."""
    for n, part in enumerate(case.parts, 1):
        yield from _chain(case, case.fill, part, str(n), "rail top")
    if case.other is not None and case.whole is not None:
        yield make(
            f"rail top/{OTHER}",
            "rail top",
            f"rail top with {case.other.name}, at the same finished level",
            "another fill can have other layers above the rail: add them up again",
            "mm",
            partial(height.rail_top, case, case.other.layers),
            slips=top_slips(case, case.other.layers),
            writing="level",
        )
        yield from _chain(case, case.other, case.whole, OTHER, f"rail top/{OTHER}")
    yield from _later(case)


def _chain(case: Case, with_it: CaseFill, part: CasePart, key: str, top_id: str) -> Iterator[Blank]:
    where = f"{with_it.name} over the whole floor" if key == OTHER else part.name
    yield make(
        f"mean depth/{key}",
        "mean depth",
        f"mean depth, {where}",
        "mean depth = rail top - mean level of the base over the area",
        "mm",
        partial(fill.mean_depth, case, part, top_id),
        needs=(top_id,),
        slips=()
        if key == OTHER
        else (
            slip("W12", fill.depth_extremes, case),
            slip("W13", fill.depth_spots, case, part, top_id, near=True),
        ),
        digits=1,
    )
    yield make(
        f"volume/{key}",
        "volume",
        f"fill in place, {where}",
        "litres = area in m² × mean depth in mm",
        "L",
        partial(fill.volume, part, key),
        needs=(f"mean depth/{key}",),
        slips=(slip("W14", fill.volume_thousand, part, key), slip("W14", fill.volume_small, part, key)),
    )
    yield make(
        f"litres to order/{key}",
        "litres to order",
        f"litres to order, {where}",
        "to order = litres in place × (1 + settles) × (1 + waste)",
        "L",
        partial(_ordered, with_it, key),
        needs=(f"volume/{key}",),
        slips=(
            slip("W17", _no_waste, with_it, key),
            slip("W17", fill.to_order_divided, with_it, key, near=True),
            slip("W18", _no_settling, with_it, key),
        ),
    )
    yield make(
        f"bags/{key}",
        "bags",
        f"bags, {where}",
        "bags = litres to order / litres a bag, rounded up once a pour",
        "bags",
        partial(fill.bags, with_it, key),
        needs=(f"litres to order/{key}",),
        slips=(slip("W15", fill.bags_down, with_it, key), slip("W16", fill.bags_by_bay, with_it, part, key)),
    )
    if with_it.water_l is not None:
        yield make(
            f"water/{key}",
            "water",
            f"water at most, {where}",
            "water at most = bags × the most a bag takes",
            "L",
            partial(fill.water, with_it, key),
            needs=(f"bags/{key}",),
            digits=1,
        )


def _ordered(with_it: CaseFill, key: str, a: Answers) -> Way:
    way = fill.to_order(with_it, key, a)
    assert way is not None, "nothing is left out"
    return way


def _no_waste(with_it: CaseFill, key: str, a: Answers) -> Way | None:
    return fill.to_order(with_it, key, a, waste=False)


def _no_settling(with_it: CaseFill, key: str, a: Answers) -> Way | None:
    return fill.to_order(with_it, key, a, settles=False)


# ------------------------------------------------------------------------------------ weight and time


def _later(case: Case) -> Iterator[Blank]:
    """Weight of the mixed fill where there is one, and its drying."""
    with_it, part, key, top_id = _studied(case)
    if part is None:
        return
    where = f"{with_it.name}, {'whole floor' if key == OTHER else part.name}"
    yield make(
        "dry weight",
        "dry weight",
        f"dry weight for good with its layers, {where}",
        "dry = mean depth / 1000 × hardened density + layers + grid",
        "kg/m²",
        partial(fill.dry_weight, case, with_it, key),
        needs=(f"mean depth/{key}",),
        digits=1,
    )
    yield make(
        "fresh weight",
        "fresh weight",
        f"fresh weight on the day without layers, {where}",
        "fresh = mean depth / 1000 × fresh density + grid",
        "kg/m²",
        partial(fill.fresh_weight, case, with_it, key),
        needs=(f"mean depth/{key}",),
        slips=(slip("W19", fill.fresh_weight_hardened, case, with_it, key),),
        digits=1,
    )
    if with_it.drying is None or case.fall_per_m or not case.legs:
        return
    yield make(
        f"drying/{key}",
        "drying",
        f"days of drying, {where}",
        "by the greatest depth, at the lowest of your spots: first part / its rate + rest / its rate, rounded up",
        "days",
        partial(_dried, case, with_it, top_id),
        needs=(top_id, *(f"level/{leg.spot}" for leg in case.legs if leg.spot)),
        slips=(
            slip("W20", time.drying_mean, with_it, key),
            slip("W20", time.drying_one_rate, case, with_it, top_id),
        ),
    )
    yield make(
        f"date/{key}",
        "date",
        f"moisture test not before, if poured on {day(part.date)} and covered {with_it.covered_days} days, {where}",
        "day of the pour is day 0; + days covered + days of drying",
        "",
        partial(time.earliest_test, with_it, part.date, key),
        needs=(f"drying/{key}",),
        slips=(slip("W21", time.earliest_test, with_it, part.date, key, shift=-1),),
        writing="date",
    )


def _dried(case: Case, with_it: CaseFill, top_id: str, a: Answers) -> Way:
    way = time.drying(case, with_it, top_id, a)
    assert way is not None, "asked of a fill that dries"
    return way


def _studied(case: Case) -> tuple[CaseFill, CasePart | None, str, str]:
    if case.fill.covered_days is None and case.other is not None and case.whole is not None:
        return case.other, case.whole, OTHER, f"rail top/{OTHER}"
    return case.fill, case.parts[0] if case.parts else None, "1", "rail top"
