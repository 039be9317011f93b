"""What tells a slip of the pen in a project file from what somebody means. Source: trade/data/plausible.toml."""

from __future__ import annotations

from packgen.trade.tables import table


def plausible(group: str, name: str) -> float:
    """A limit of the table, in the unit its name ends in.

    >>> plausible("kit", "smallest_module_mm")
    150.0
    """
    return float(table("plausible")[group][name])
