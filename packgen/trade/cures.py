"""Usual rates of work on a base that does not fit, from data/cures.toml; they rank cures and price nothing."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.worked import Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class CureRate:
    """A rate with its unit, what for, and its source."""

    value: float
    unit: str
    says: str
    source: Source


def cure_rate(name: str) -> CureRate:
    """The rate of that name. KeyError for an unknown one."""
    row = table("cures")["rates"][name]
    return CureRate(float(row["value"]), row["unit"], row["says"], source("cures", row["source"]))


def rate(name: str) -> float:
    """The rate's figure alone."""
    return cure_rate(name).value
