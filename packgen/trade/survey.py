"""Values about measuring: what counts as scatter, and what as a mistake. Source: trade/data/survey.toml."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import half_up
from packgen.core.worked import Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class Measuring:
    """Limits and spreads for tapes, angles and staff readings, mm unless said."""

    largest_residual_mm: float
    tape_spread_mm: float
    angle_spread_deg: float
    offset_spread_mm: float
    noticed_times: float
    once_in_thousand: float
    as_bad: float
    odds: float
    slip_odds: float
    slips_mm: tuple[float, ...]
    stands_off_mm: float
    times_scatter: float
    digit_within_mm: float
    two_sights_mm: float
    drop_outside_mm: float
    gap_between_rooms_mm: float
    chord_within_mm: float
    rooms_meet_mm: float
    walls_apart_deg: float
    spare_tapes: int
    source: Source


def measuring() -> Measuring:
    """The values of the table.

    >>> measuring().stands_off_mm
    7.0
    """
    t = table("survey")
    tape, reading = t["tape"], t["reading"]
    return Measuring(
        tape["largest_residual_mm"],
        tape["spread_mm"],
        tape["angle_spread_deg"],
        tape["offset_spread_mm"],
        tape["noticed_times"],
        tape["once_in_thousand"],
        tape["as_bad"],
        tape["odds"],
        tape["slip_odds"],
        tuple(tape["slips_mm"]),
        reading["stands_off_mm"],
        reading["times_scatter"],
        reading["digit_within_mm"],
        reading["two_sights_mm"],
        t["opening"]["drop_outside_mm"],
        t["plan"]["gap_between_rooms_mm"],
        t["plan"]["chord_within_mm"],
        t["plan"]["rooms_meet_mm"],
        t["plan"]["walls_apart_deg"],
        t["tape"]["spare"],
        source("survey", "practice"),
    )


@dataclass(frozen=True, slots=True)
class MisclosureRule:
    """Allowed misclosure = factor x square root of `by`: the number of set-ups, or the levelled way in km."""

    factor_mm: float
    by: Literal["set-ups", "km"]
    source: Source

    def allowed_mm(self, setups: int, way_km: float) -> float:
        """What is allowed, mm, to two decimals.

        >>> misclosure_rule("set-ups").allowed_mm(3, 0.0), misclosure_rule("third order").allowed_mm(1, 0.25)
        (8.66, 6.0)
        """
        return half_up(self.factor_mm * (setups if self.by == "set-ups" else way_km) ** 0.5, 2)


def misclosure_rule(name: str) -> MisclosureRule:
    """The rule of that name; KeyError for one that is not in the table."""
    row = table("survey")["misclosure"][name]
    return MisclosureRule(float(row["factor_mm"]), row["by"], source("survey", row["source"]))


def again_differs_mm() -> float:
    """How far a point read again from one set-up may differ."""
    return float(table("survey")["again"]["differs_mm"])


def reading_spread_mm(instrument: str) -> float:
    """What one reading scatters by, for an instrument by its name in the file; "" where it is not named.

    >>> reading_spread_mm("line laser"), reading_spread_mm("")
    (2.0, 1.5)
    """
    return float(table("survey")["spread"][f"{instrument.replace(' ', '_') or 'unknown'}_mm"])


@dataclass(frozen=True, slots=True)
class Between:
    """What is taken of a base between its readings."""

    least_tests: int
    rough_mm_per_m: float
    worth_mm: float
    most_places: int
    tests_at_most: int
    source: Source


def between() -> Between:
    """The values of the table."""
    t = table("survey")["between"]
    return Between(
        t["least_tests"],
        t["rough_mm_per_m"],
        t["worth_mm"],
        t["most_places"],
        t["tests_at_most"],
        source("survey", t["source"]),
    )


@dataclass(frozen=True, slots=True)
class Points:
    """Where the staff is set on a base that nobody has read yet, mm and m²."""

    spacing_mm: float
    hall_from_m2: float
    hall_spacing_mm: float
    from_wall_mm: float
    near_mm: float
    last_gap_mm: float
    clear_mm: float
    source: Source


def points_rule() -> Points:
    """The values of the table.

    >>> points_rule().spacing_mm
    1200.0
    """
    t = table("survey")["points"]
    return Points(
        t["spacing_mm"],
        t["hall_from_m2"],
        t["hall_spacing_mm"],
        t["from_wall_mm"],
        t["near_mm"],
        t["last_gap_mm"],
        t["clear_mm"],
        source("survey", t["source"]),
    )


@dataclass(frozen=True, slots=True)
class Pegs:
    """How far apart the marks of the two-peg test are, and how far the laser's second place is from the near one."""

    apart_m: float
    beside_m: float
    source: Source


def pegs_rule() -> Pegs:
    """The values of the table.

    >>> pegs_rule().apart_m
    20.0
    """
    t = table("survey")["pegs"]
    return Pegs(t["apart_m"], t["beside_m"], source("survey", t["source"]))


def on_step_mm() -> float:
    """A reading nearer to a step of the base than this belongs to neither side."""
    return float(table("survey")["step"]["on_it_mm"])
