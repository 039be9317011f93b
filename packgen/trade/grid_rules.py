"""Rules of setting out and levelling a grid, by name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.worked import Source
from packgen.trade.tables import source, table

Name = Literal[
    "masters_every",
    "straightedge_most",
    "straightedge_over",
    "straightedge_beyond",
    "joint_gap",
    "open_gap",
    "in_hand",
    "packing_least",
    "packing_most",
    "over_service",
    "raise_rail_most",
    "leg_at_cut_end",
    "same_spot",
    "at_wall",
    "outside_drop",
    "outside_drop_channel",
    "channel_at_door",
    "headroom",
    "channel_ratio",
    "channel_at_wall",
    "imposed_living",
]


@dataclass(frozen=True, slots=True)
class GridRule:
    """A rule's figure with its unit, what it is for, and its source."""

    value: float
    unit: str
    says: str
    source: Source


def grid_rule(name: Name) -> GridRule:
    """The rule of that name."""
    row = table("grid_rules")["rules"][name]
    return GridRule(float(row["value"]), row["unit"], row["says"], source("grid_rules", row["source"]))


def value(name: Name) -> float:
    """The rule's figure alone."""
    return float(table("grid_rules")["rules"][name]["value"])
