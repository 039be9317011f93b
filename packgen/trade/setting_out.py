"""How truly lines and levels are set out and checked, from data/setting_out.toml."""

from __future__ import annotations

from typing import Literal

from packgen.core.figures import plain
from packgen.core.worked import Assumed
from packgen.trade.limits import Limit
from packgen.trade.tables import source, table

Name = Literal["diagonals", "square_side", "foil_lap", "spot_far", "first_part_near"]


def assumed_setting(name: Name, used_for: str) -> Assumed:
    """The rule of that name as a line of the list of assumed values."""
    row, rule = table("setting_out")["rules"][name], setting_rule(name)
    return Assumed(row["says"], plain(rule.value), rule.unit, rule.source, "", used_for)


def setting_rule(name: Name) -> Limit:
    """The rule of that name.

    >>> setting_rule("diagonals").value
    5.0
    """
    row = table("setting_out")["rules"][name]
    return Limit(float(row["value"]), row["unit"], source("setting_out", row["source"]))
