"""How truly lines and levels are set out and checked, from data/setting_out.toml."""

from __future__ import annotations

from typing import Literal

from packgen.trade.limits import Limit
from packgen.trade.tables import source, table

Name = Literal["diagonals", "square_side", "foil_lap", "spot_far", "first_part_near"]


def setting_rule(name: Name) -> Limit:
    """The rule of that name.

    >>> setting_rule("diagonals").value
    5.0
    """
    row = table("setting_out")["rules"][name]
    return Limit(float(row["value"]), row["unit"], source("setting_out", row["source"]))
