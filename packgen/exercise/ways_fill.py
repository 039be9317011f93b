"""Fill: right and wrong ways from mean depth to litres, bags, water and weight.

mean depth = rail top - mean level of the base;  litres = m² × mm;  to order = litres × (1 + settles) × (1 + waste);
bags = to order / litres a bag, rounded up once a pour.  Source: J2, J3, J18 of the trade's rules.
`key` names the part: "1", "2" for parts of the fill in use, "other" for the whole floor in the other fill.
"""

from __future__ import annotations

from packgen.core.figures import half_up, plain, round_down, round_up
from packgen.exercise.model import Answers, Case, CaseFill, CasePart, Way
from packgen.exercise.ways import signed_sum

DEPTH_DIGITS = 1


# ------------------------------------------------------------------------------------ mean depth


def _depth(case: Case, part: CasePart, top_id: str, base_mm: float, a: Answers, formula: str) -> Way:
    terms = [a[top_id], -base_mm]
    if case.fall_per_m:
        terms.insert(1, -half_up(case.fall_per_m * part.down_m, 1))
    return Way(half_up(sum(terms), DEPTH_DIGITS), formula, signed_sum(terms))


def mean_depth(case: Case, part: CasePart, top_id: str, a: Answers) -> Way:
    return _depth(case, part, top_id, part.base_mean_mm, a, "rail top - mean level of the base")


def depth_extremes(case: Case, a: Answers) -> Way | None:
    """W12: the middle of the shortest and the longest leg."""
    legs = [a[f"leg/{leg.node}"] for leg in case.legs if f"leg/{leg.node}" in a]
    if len(legs) < 2:
        return None
    low, high = min(legs), max(legs)
    numbers = f"({plain(high)} + {plain(low)}) / 2"
    return Way(half_up((low + high) / 2, DEPTH_DIGITS), "middle of shortest and longest leg", numbers)


def depth_spots(case: Case, part: CasePart, top_id: str, a: Answers) -> Way | None:
    """W13: the plain mean of the spots."""
    if part.base_spots_mm is None:
        return None
    return _depth(case, part, top_id, part.base_spots_mm, a, "rail top - plain mean of the readings")


# ------------------------------------------------------------------------------------ litres


def volume(part: CasePart, key: str, a: Answers) -> Way:
    depth = a[f"mean depth/{key}"]
    return Way(half_up(part.area_m2 * depth), "area × mean depth", f"{plain(part.area_m2)} x {plain(depth)}")


def volume_thousand(part: CasePart, key: str, a: Answers) -> Way:
    """W14: said in m³, or divided where nothing is to be divided."""
    depth = a[f"mean depth/{key}"]
    return Way(
        half_up(part.area_m2 * depth * 1000),
        "area × mean depth × 1000",
        f"{plain(part.area_m2)} x {plain(depth)} x 1000",
    )


def volume_small(part: CasePart, key: str, a: Answers) -> Way:
    """W14 the other way: a thousandth."""
    depth = a[f"mean depth/{key}"]
    return Way(
        half_up(part.area_m2 * depth / 1000, 3),
        "area × mean depth / 1000",
        f"{plain(part.area_m2)} x {plain(depth)} / 1000",
    )


def to_order(fill: CaseFill, key: str, a: Answers, waste: bool = True, settles: bool = True) -> Way | None:
    """Litres to order, whole. Without `waste` it is W17, without `settles` W18; None where that changes nothing."""
    if (not waste and not fill.waste) or (not settles and not fill.settles):
        return None
    litres, numbers, value = a[f"volume/{key}"], plain(a[f"volume/{key}"]), a[f"volume/{key}"]
    for share, used in ((fill.settles, settles), (fill.waste, waste)):
        if used and share:
            value *= 1 + share
            numbers += f" x {plain(1 + share, 4)}"
    words = " × ".join(
        [
            "litres",
            *(["(1 + settles)"] if settles and fill.settles else []),
            *(["(1 + waste)"] if waste and fill.waste else []),
        ]
    )
    return Way(half_up(value), words, numbers) if numbers != plain(litres) else Way(litres, "litres", numbers)


def to_order_divided(fill: CaseFill, key: str, a: Answers) -> Way | None:
    """W17, the other form: divided by 1 - waste."""
    if not fill.waste:
        return None
    litres = a[f"volume/{key}"]
    value = litres * (1 + fill.settles) / (1 - fill.waste)
    numbers = f"{plain(litres)} x {plain(1 + fill.settles, 4)} / {plain(1 - fill.waste, 4)}"
    return Way(half_up(value), "litres × (1 + settles) / (1 - waste)", numbers)


# ------------------------------------------------------------------------------------ bags and water


def bags(fill: CaseFill, key: str, a: Answers) -> Way:
    litres = a[f"litres to order/{key}"]
    return Way(
        round_up(litres / fill.bag_l),
        "litres to order / litres a bag, rounded up",
        f"ceil({plain(litres)} / {plain(fill.bag_l)})",
    )


def bags_down(fill: CaseFill, key: str, a: Answers) -> Way:
    """W15."""
    litres = a[f"litres to order/{key}"]
    return Way(round_down(litres / fill.bag_l), "rounded down", f"floor({plain(litres)} / {plain(fill.bag_l)})")


def bags_by_bay(fill: CaseFill, part: CasePart, key: str, a: Answers) -> Way | None:
    """W16: every bay rounded up for itself."""
    if len(part.bays_l) < 2:
        return None
    factor = (1 + fill.settles) * (1 + fill.waste)
    each = [round_up(litres * factor / fill.bag_l) for litres in part.bays_l]
    counts = sorted({int(n) for n in each})
    numbers = " + ".join(f"{sum(n == c for n in each)} x {c}" for c in counts)
    return Way(float(sum(each)), "rounded up in each bay", numbers)


def water(fill: CaseFill, key: str, a: Answers) -> Way:
    """Water at most: bags × the most a bag takes. Only for a fill that takes water."""
    most = fill.water_l[1] if fill.water_l else 0.0
    return Way(
        half_up(a[f"bags/{key}"] * most, 1), "bags × water a bag at most", f"{plain(a[f'bags/{key}'])} x {plain(most)}"
    )


# ------------------------------------------------------------------------------------ weight


def dry_weight(case: Case, fill: CaseFill, key: str, a: Answers) -> Way:
    depth = a[f"mean depth/{key}"]
    value = depth / 1000 * fill.hardened_kg_m3 + fill.layers_kg_m2 + case.kit.kg_m2
    numbers = (
        f"{plain(depth)} / 1000 x {plain(fill.hardened_kg_m3)} + {plain(fill.layers_kg_m2)} + {plain(case.kit.kg_m2)}"
    )
    return Way(half_up(value, 1), "mean depth × hardened density + layers + grid", numbers)


def fresh_weight(case: Case, fill: CaseFill, key: str, a: Answers, density: float | None = None) -> Way:
    """Weight on the day, without the layers that come later. Another `density` is W19."""
    depth, kg_m3 = a[f"mean depth/{key}"], density or fill.fresh_kg_m3
    value = depth / 1000 * kg_m3 + case.kit.kg_m2
    numbers = f"{plain(depth)} / 1000 x {plain(kg_m3)} + {plain(case.kit.kg_m2)}"
    return Way(half_up(value, 1), "mean depth × fresh density + grid", numbers)


def fresh_weight_hardened(case: Case, fill: CaseFill, key: str, a: Answers) -> Way | None:
    """W19."""
    if fill.hardened_kg_m3 == fill.fresh_kg_m3:
        return None
    way = fresh_weight(case, fill, key, a, fill.hardened_kg_m3)
    return Way(way.value, "mean depth × hardened density + grid", way.numbers)
