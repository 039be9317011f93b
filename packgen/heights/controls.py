"""Control readings: once a row is set by straightedge, which of its legs the staff goes back to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from packgen.heights.model import Control, LegSetting
from packgen.layout.model import Node


def find_controls(
    legs: Sequence[LegSetting], laid: Sequence[tuple[str, str, tuple[str, ...]]], nodes: Sequence[Node]
) -> tuple[Control, ...]:
    """One leg a row, in setting order: the master that the straightedge lay on last, for a knock moves the whole row.

    A row that rests on no master is read at the leg farthest from the legs that its straightedge lay on.
    """
    by_node = {leg.node: leg for leg in legs}
    on = {node: (a, b) for a, b, sets in laid for node in sets}
    spots = {n.id: n.at for n in nodes}
    rest = sorted((leg for leg in legs if leg.set_with == "straightedge"), key=lambda leg: leg.order)
    out = []
    for along, row in groupby(rest, key=lambda leg: leg.along):
        names = [leg.node for leg in row]
        ends = [end for name in reversed(names) for end in reversed(on.get(name, ()))]
        master = next((end for end in ends if by_node[end].set_with == "laser"), None)
        node = master or max(names, key=lambda name: (_free(name, on, spots), name))
        out.append(Control(along, node, master is not None, by_node[node].rail_top_mm))
    return tuple(out)


def _free(name: str, on: Mapping[str, tuple[str, str]], spots: Mapping[str, tuple[float, float]]) -> float:
    """Distance to the nearer of the two legs that the straightedge lay on."""
    x, y = spots[name]
    return min((abs(spots[end][0] - x) + abs(spots[end][1] - y) for end in on.get(name, ())), default=0.0)
