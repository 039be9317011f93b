"""Rules for laying out rails and legs, from data/layout.toml."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.worked import Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class LayoutRule:
    """One rule: its value in mm, what it says, and where it comes from."""

    name: str
    value_mm: float
    what: str
    source: Source


@dataclass(frozen=True, slots=True)
class LayoutRules:
    """All lengths in mm.

    overhang          longest rail end beyond its last leg
    joint_leg         farthest a leg stands from a joint at which its rail is cut
    near_service      clear distance wanted between a foot and a service
    needle_bay        bays narrower than this are filled with their neighbour
    first_line_most   farthest a first line lies from its wall
    first_line_off    how truly a first line is set out on site
    saw_cut           width of a saw cut where the kit does not say
    offcut_kept       offcuts from this length on are kept
    """

    overhang: float
    joint_leg: float
    near_service: float
    needle_bay: float
    first_line_most: float
    first_line_off: float
    saw_cut: float
    offcut_kept: float


def layout_rule(name: str) -> LayoutRule:
    """One rule by its name in the data file, for the list of assumed values. Raises KeyError for an unknown name."""
    row = table("layout")[name]
    return LayoutRule(name, float(row["value"]), row["what"], source("layout", row["source"]))


def layout_rules() -> LayoutRules:
    """All rules of data/layout.toml; every one is common practice without a published source."""
    return LayoutRules(**{name: layout_rule(name).value_mm for name in LayoutRules.__dataclass_fields__})
