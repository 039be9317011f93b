"""Names a place on the floor by the leg a person finds there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from packgen.core.plane import Point
from packgen.layout.model import Node
from packgen.trade.grid_rules import value


def namer(nodes: Sequence[Node]) -> Callable[[Point], str]:
    """A function from a place to "C4" where that leg stands, else "near C4"; without legs to its coordinates."""
    at = np.array([n.at for n in nodes]).reshape(-1, 2)

    def name(place: Point) -> str:
        if not nodes:
            return f"{place[0]:.0f} along wall 1, {place[1]:.0f} into the room"
        far = np.hypot(at[:, 0] - place[0], at[:, 1] - place[1])
        i = int(np.argmin(far))
        return nodes[i].id if far[i] <= value("same_spot") else f"near {nodes[i].id}"

    return name
