"""Waiting after a pour by kind of fill, from data/waiting.toml. The day of the pour is day 0."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import round_up
from packgen.core.worked import Source
from packgen.trade.tables import source, table

Event = Literal["covered", "walk_on", "load", "heat_up"]


@dataclass(frozen=True, slots=True)
class WaitingRule:
    """So many days from the day of the pour, and who says so."""

    days: int
    source: Source


@dataclass(frozen=True, slots=True)
class NightLeast:
    """So many nights from the pour's evening on must not be colder."""

    nights: int
    celsius: float
    source: Source


@dataclass(frozen=True, slots=True)
class DryingRule:
    """The first so many mm at one rate, the rest at another, mm a day."""

    first_mm: float
    first_rate: float
    rest_rate: float
    source: Source


def waiting_rule(family: str, event: Event) -> WaitingRule:
    """Days to wait with a family of fill; an unknown family waits as long as cement."""
    families = table("waiting")["families"]
    row = families.get(family, families["other"])[event]
    return WaitingRule(int(row["days"]), source("waiting", row["source"]))


def night_least(family: str) -> NightLeast:
    """The nights after laying that a family of fill must be kept from frost, and the least temperature."""
    families = table("waiting")["families"]
    row = families.get(family, families["other"])["nights"]
    return NightLeast(int(row["days"]), float(row["least"]), source("waiting", row["source"]))


def drying_rule(family: str) -> DryingRule | None:
    """Drying rates of a family of fill; None where none is published here."""
    row = table("waiting")["families"].get(family, {}).get("drying")
    if row is None:
        return None
    return DryingRule(
        float(row["first_mm"]), float(row["first_rate"]), float(row["rest_rate"]), source("waiting", row["source"])
    )


def heating_days(stage: Literal["first_stage", "second_stage"]) -> WaitingRule:
    """How long a stage of the first heating is held."""
    row = table("waiting")["heating"][stage]
    return WaitingRule(int(row["days"]), source("waiting", row["source"]))


def joining_days() -> WaitingRule:
    """Days until work goes on against yesterday's rail."""
    row = table("waiting")["joining"]
    return WaitingRule(int(row["days"]), source("waiting", row["source"]))


def drying_days(depth_mm: float, first_mm: float, first_rate: float, rest_rate: float) -> int:
    """Days that a depth takes to dry at one face; a started day counts.

    days = min(depth, first) / first rate + max(depth - first, 0) / rest rate, rounded up   [mm, mm a day]
    Source: rates for drying at 20 °C and at most 65 % RH, checks M3; never a substitute for the test.

    >>> drying_days(74, 40, 1, 0.5), drying_days(65, 50, 1, 0.5)
    (108, 80)
    """
    return int(round_up(min(depth_mm, first_mm) / first_rate + max(depth_mm - first_mm, 0.0) / rest_rate))
