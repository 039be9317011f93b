"""Values about measuring: what counts as scatter, and what as a mistake. Source: trade/data/survey.toml."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.worked import Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class Measuring:
    """Limits and spreads for tapes, angles and staff readings, mm unless said."""

    largest_residual_mm: float
    tape_spread_mm: float
    angle_spread_deg: float
    stands_off_mm: float
    times_scatter: float
    digit_within_mm: float
    two_sights_mm: float
    drop_outside_mm: float
    gap_between_rooms_mm: float
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
        reading["stands_off_mm"],
        reading["times_scatter"],
        reading["digit_within_mm"],
        reading["two_sights_mm"],
        t["opening"]["drop_outside_mm"],
        t["plan"]["gap_between_rooms_mm"],
        source("survey", "practice"),
    )
