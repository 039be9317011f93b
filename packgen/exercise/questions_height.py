"""Blanks of the heights: rail top, legs and their parts, the hold, target readings, a rail's length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from packgen.exercise import ways_height as height
from packgen.exercise.blanks import make, slip
from packgen.exercise.model import Answers, Blank, Case, CaseLayer, CaseLeg, CaseRail, Slip, Way

TARGET_RULE = "target reading = today's backsight + depth of the rail top below the datum, or less its height above"
MOST_TARGETS = 3


def height_blanks(case: Case) -> Iterator[Blank]:
    """Rail top, then leg by leg, then what is read today."""
    yield _rail_top(case)
    for leg in case.legs:
        if case.fall_per_m:
            yield _rail_top_there(case, leg)
        yield _leg(case, leg)
        yield _parts(case, leg)
    if case.legs:
        yield _hold(case)
        for leg in case.legs[:MOST_TARGETS] if case.fall_per_m else case.legs[:1]:
            yield _target(case, leg)
    if case.rail is not None:
        yield _rail(case, case.rail)


def top_slips(case: Case, layers: tuple[CaseLayer, ...]) -> Sequence[Slip]:
    """Mistakes on the way from the finished level to a rail top."""
    return (
        slip("W5", height.rail_top_finished, case, layers),
        slip("W6", height.rail_top_no_board, case, layers),
        slip("W7", height.rail_top_added, case, layers),
        slip("W28", height.rail_top_no_bond, case, layers),
    )


def _rail_top(case: Case) -> Blank:
    layers = case.fill.layers
    return make(
        "rail top",
        "rail top",
        "rail top where the fall starts" if case.fall_per_m else "rail top",
        "rail top = finished level - all layers above the rail",
        "mm",
        partial(height.rail_top, case, layers),
        slips=top_slips(case, layers),
        writing="level",
    )


def _rail_top_there(case: Case, leg: CaseLeg) -> Blank:
    return make(
        height.top_id(case, leg),
        "rail top",
        f"rail top at {leg.node}",
        "rail top there = rail top where the fall starts - fall per metre × distance",
        "mm",
        partial(height.rail_top_there, case, leg),
        needs=("rail top",),
        slips=(slip("W22", _per_cent, case, leg),),
        writing="level",
    )


def _per_cent(case: Case, leg: CaseLeg, a: Answers) -> Way | None:
    return height.rail_top_there(case, leg, a, times=10.0) if leg.down_m else None


def _leg(case: Case, leg: CaseLeg) -> Blank:
    base = (f"level/{leg.spot}",) if leg.spot else ()
    return make(
        f"leg/{leg.node}",
        "leg",
        f"leg at {leg.node}",
        "leg = rail top - base: how far the rail top lies above the base",
        "mm",
        partial(height.leg_length, case, leg),
        needs=(height.top_id(case, leg), *base),
        slips=(slip("W8", height.leg_underside, case, leg), slip("W23", height.leg_extended, case, leg)),
    )


def _parts(case: Case, leg: CaseLeg) -> Blank:
    choices = [p for p in height.PARTS if p != "packing" or case.kit.packings]
    choices = [p for p in choices if p != "extension" or len(case.kit.ranges) > 1]
    return make(
        f"parts/{leg.node}",
        "parts",
        f"parts of the leg at {leg.node}",
        "the plain leg where it fits, else an extension, else packing, else it does not fit",
        "",
        partial(_chosen, case, leg, tuple(choices)),
        needs=(f"leg/{leg.node}",),
        writing="choice",
        choices=choices,
    )


def _chosen(case: Case, leg: CaseLeg, choices: tuple[str, ...], a: Answers) -> Way:
    way = height.parts(case, leg, a)
    return Way(float(choices.index(height.PARTS[int(way.value)])), way.formula, way.numbers)


def _hold(case: Case) -> Blank:
    return make(
        "hold",
        "hold",
        "which of these legs cannot be set with this kit",
        "a leg outside every range of the kit holds the job",
        "",
        partial(height.hold, case, case.legs),
        needs=tuple(f"leg/{leg.node}" for leg in case.legs),
        writing="choice",
        choices=(*(leg.node for leg in case.legs), "none"),
    )


def _target(case: Case, leg: CaseLeg) -> Blank:
    falling = bool(case.fall_per_m)
    return make(
        f"target/{leg.node}" if falling else "target",
        "target reading",
        f"target staff reading at {leg.node} today" if falling else "target staff reading today",
        TARGET_RULE,
        "mm",
        partial(height.target, case, leg),
        needs=(height.top_id(case, leg),),
        slips=(
            slip("W9", height.target_taken_off, case, leg),
            slip("W10", height.target_leg, case, leg),
            slip("W11", height.target_old, case, leg),
        ),
    )


def _rail(case: Case, rail: CaseRail) -> Blank:
    return make(
        "rail length",
        "rail length",
        f"length of the rails on line {rail.line} together, wall to wall {rail.between_mm:g}",
        "length = wall to wall - perimeter strip at each end",
        "mm",
        partial(height.rail_length, case, rail),
        slips=(slip("W24", height.rail_one_strip, case, rail),),
    )
