"""Heights: right and wrong ways from layers to rail top, leg, parts, target and a rail's length. Levels mm, up is plus.

rail top = finished level - layers above the rail - fall;  leg = rail top - base;
target = backsight of the day - rail top.
Source: J1 and J21 of the trade's rules: printed figures are carried on.
"""

from __future__ import annotations

from packgen.core.figures import half_up, plain, round_down
from packgen.exercise.model import Answers, Case, CaseLayer, CaseLeg, CaseRail, Way
from packgen.exercise.ways import signed_sum, summed
from packgen.heights.kit_range import Choice, KitRange, choose_parts, range_of

PARTS = ("plain", "extension", "packing", "does not fit")


# ------------------------------------------------------------------------------------ rail top


def finish(layers: tuple[CaseLayer, ...]) -> list[float]:
    """What is taken off the finished level, layer by layer."""
    return [-layer.mm for layer in layers]


def rail_top(case: Case, layers: tuple[CaseLayer, ...], a: Answers) -> Way:
    return summed("finished level - layers above the rail", case.finished_mm, *finish(layers))


def rail_top_finished(case: Case, layers: tuple[CaseLayer, ...], a: Answers) -> Way | None:
    """W5."""
    return Way(case.finished_mm, "finished level", plain(abs(case.finished_mm))) if layers else None


def rail_top_no_board(case: Case, layers: tuple[CaseLayer, ...], a: Answers) -> Way | None:
    """W6."""
    if not any(layer.board for layer in layers) or all(layer.board for layer in layers):
        return None
    return summed("board left out", case.finished_mm, *finish(tuple(x for x in layers if not x.board)))


def rail_top_no_bond(case: Case, layers: tuple[CaseLayer, ...], a: Answers) -> Way | None:
    """W28."""
    if not any(layer.bond for layer in layers) or all(layer.bond for layer in layers):
        return None
    return summed("adhesive or mat left out", case.finished_mm, *finish(tuple(x for x in layers if not x.bond)))


def rail_top_added(case: Case, layers: tuple[CaseLayer, ...], a: Answers) -> Way | None:
    """W7."""
    return summed("finished level + layers", case.finished_mm, *(-t for t in finish(layers))) if layers else None


def top_id(case: Case, leg: CaseLeg | None = None) -> str:
    """Blank of the rail top that a leg hangs on: its own where the floor falls, else the zone's."""
    return f"rail top/{leg.node}" if leg is not None and case.fall_per_m else "rail top"


def rail_top_there(case: Case, leg: CaseLeg, a: Answers, times: float = 1.0) -> Way:
    """Rail top at a leg of a falling floor. `times` 10 is W22: the fall taken for per cent."""
    down = case.fall_per_m * times * leg.down_m
    value = half_up(a["rail top"] - down)
    numbers = signed_sum([a["rail top"], -down])
    if a["rail top"] - down < 0 and a["rail top"] <= 0:
        fall = plain(case.fall_per_m * times)
        numbers = f"{plain(-a['rail top'])} + {fall} x {plain(leg.down_m)}"
    return Way(value, "rail top where the fall starts - fall × distance", numbers)


# ------------------------------------------------------------------------------------ legs


def base_of(leg: CaseLeg, a: Answers) -> float:
    return a[f"level/{leg.spot}"] if leg.spot else float(leg.base_mm)


def leg_length(case: Case, leg: CaseLeg, a: Answers) -> Way:
    return summed("rail top - base", a[top_id(case, leg)], -base_of(leg, a))


def leg_underside(case: Case, leg: CaseLeg, a: Answers) -> Way:
    """W8."""
    return summed("rail top - base - rail", a[top_id(case, leg)], -base_of(leg, a), -case.kit.rail_high_mm)


def leg_extended(case: Case, leg: CaseLeg, a: Answers) -> Way | None:
    """W23, at a leg that needs an extension."""
    right = leg_length(case, leg, a).value
    if parts_by_rule(right, kit_of(case)).extensions == 0:
        return None
    return summed("rail top - base + extension", a[top_id(case, leg)], -base_of(leg, a), case.kit.adds_mm)


def kit_of(case: Case) -> KitRange:
    return range_of(case.kit.ranges, case.kit.packings)


def parts_by_rule(length_mm: float, kit: KitRange) -> Choice:
    """Parts by the rule that stands on the sheet: the plain leg where it fits, else as few extensions as fit.

    A plan keeps a little of the screw in hand besides; a leg for which that matters is not asked (see pick.py).
    """
    fitting = next((m for m in kit.made if m.low_mm <= length_mm <= m.high_mm), None)
    if fitting is None:
        return choose_parts(length_mm, kit)
    return Choice("extension" if fitting.extensions else "plain", fitting.extensions, 0.0, 0.0, fitting)


def parts(case: Case, leg: CaseLeg, a: Answers) -> Way:
    length = a[f"leg/{leg.node}"]
    choice = parts_by_rule(length, kit_of(case)).parts
    lengths = "; ".join(
        f"{'plain' if n == 0 else f'with {n} extension' + ('s' if n > 1 else '')} {plain(lo)} to {plain(hi)}"
        for n, lo, hi in case.kit.ranges
    )
    return Way(float(PARTS.index(choice)), "the range the leg lies in", f"{plain(length)}: {lengths}")


def hold(case: Case, legs: tuple[CaseLeg, ...], a: Answers) -> Way:
    """Which of the legs does not fit: its place among them, or one beyond the last for none."""
    misfits = [
        i for i, leg in enumerate(legs) if choose_parts(a[f"leg/{leg.node}"], kit_of(case)).parts == "does not fit"
    ]
    at = misfits[0] if misfits else len(legs)
    name = legs[at].node if at < len(legs) else "none"
    ends = [hi for _, _, hi in case.kit.ranges]
    span = f"this kit sets {plain(case.kit.ranges[0][1])} to {plain(max(ends))}"
    return Way(float(at), "the leg outside every range", f"{name}; {span}")


# ------------------------------------------------------------------------------------ target


def target(case: Case, leg: CaseLeg | None, a: Answers) -> Way:
    return summed("backsight of today - rail top", case.backsight_mm, -a[top_id(case, leg)])


def target_taken_off(case: Case, leg: CaseLeg | None, a: Answers) -> Way:
    """W9."""
    return summed("backsight of today, rail top the other way", case.backsight_mm, a[top_id(case, leg)])


def target_leg(case: Case, leg: CaseLeg, a: Answers) -> Way:
    """W10, with the leg asked first where one target counts for all."""
    return summed("backsight of today + leg", case.backsight_mm, a[f"leg/{leg.node}"])


def target_old(case: Case, leg: CaseLeg | None, a: Answers) -> Way | None:
    """W11: the first backsight of the survey."""
    if not case.setups:
        return None
    return summed("backsight of the survey - rail top", case.setups[0].back_mm, -a[top_id(case, leg)])


# ------------------------------------------------------------------------------------ a rail


def rail_length(case: Case, rail: CaseRail, a: Answers) -> Way:
    value = round_down(rail.between_mm - 2 * rail.strip_mm)
    return Way(
        value, "wall to wall - strip at both ends", f"floor({plain(rail.between_mm)} - 2 x {plain(rail.strip_mm)})"
    )


def rail_one_strip(case: Case, rail: CaseRail, a: Answers) -> Way:
    """W24."""
    value = round_down(rail.between_mm - rail.strip_mm)
    return Way(value, "wall to wall - one strip", f"floor({plain(rail.between_mm)} - {plain(rail.strip_mm)})")
