"""How many readings are taken on the grid and on the finished floor, from data/site_readings.toml."""

from __future__ import annotations

from typing import Literal

from packgen.core.figures import round_up
from packgen.trade.limits import Limit
from packgen.trade.tables import source, table

Name = Literal[
    "test_points", "test_point_clear", "heating_off", "straightedge_least", "straightedge_area", "datum_differs"
]


def reading_rule(name: Name) -> Limit:
    """The rule of that name."""
    row = table("site_readings")["rule"][name]
    return Limit(float(row["value"]), row["unit"], source("site_readings", row["source"]))


def surface_gap(surface: str) -> Limit | None:
    """Largest gap under a 2 m straightedge for a class of surface, mm; None for a class not in the table.

    >>> surface_gap("SR2").value
    5.0
    """
    row = table("site_readings")["surface"].get(surface.strip().upper())
    return None if row is None else Limit(float(row["gap"]), "mm", source("site_readings", row["source"]))


def test_point_count(area_m2: float) -> int:
    """Moisture test points for a room: so many for 100 m², one at least.

    >>> test_point_count(27.3), test_point_count(100), test_point_count(101)
    (1, 3, 4)
    """
    return max(1, int(round_up(area_m2 * reading_rule("test_points").value / 100)))


def straightedge_count(area_m2: float) -> int:
    """Straightedge readings for a room.

    >>> straightedge_count(10), straightedge_count(27.3)
    (5, 6)
    """
    least, area = reading_rule("straightedge_least").value, reading_rule("straightedge_area").value
    return int(max(least, round_up(area_m2 / area)))
