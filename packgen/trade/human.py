"""What people can bear: lifting, dust, vibration, electricity, headroom."""

from __future__ import annotations

from packgen.trade.limits import Limit
from packgen.trade.tables import source, table


def human(name: str) -> Limit:
    """A figure by its name in human.toml; KeyError for a name that is not there.

    >>> human("lift").value
    25.0
    """
    row = table("human")["limit"][name]
    return Limit(float(row["value"]), row["unit"], source("human", row["source"]))


def vibration_points(acceleration: float, hours: float) -> float:
    """Points of a day's hand-arm vibration: 2 a² T. [a in m/s², T in hours]; 100 at the action value, 400 at the limit.

    >>> vibration_points(2.5, 8), vibration_points(5.0, 2)
    (100.0, 100.0)

    Source: Directive 2002/44/EC, points as HSE counts them.
    """
    return 2 * acceleration**2 * hours
