"""Rails raised locally where a service passes below them, as far as the file allows and boards take it up."""

from __future__ import annotations

import bisect
from collections.abc import Sequence
from dataclasses import replace

from packgen.core.figures import round_up
from packgen.heights.model import RailOverService
from packgen.layout.model import Layout
from packgen.project.model import Project


def raised_rails(
    project: Project, layout: Layout, crossings: Sequence[RailOverService], boarded: Sequence[bool]
) -> tuple[tuple[RailOverService, ...], dict[str, int]]:
    """The crossings with what their rails are raised by, and by how much the leg at each node is set higher, whole mm.

    boarded: of each crossing whether boards lie on the rails there; the fill is struck off on the rails, so under
    tiles a raised rail would be a raised floor. A rail is raised at the legs on both sides of the crossing.
    """
    most = project.kit.raise_rail_locally
    if most is None or not any(boarded):
        return tuple(crossings), {}
    rails = {r.id: r for r in layout.rails}
    at = {n.id: n.at for n in layout.nodes}
    up: dict[str, int] = {}
    raised: list[int] = []
    for c, board in zip(crossings, boarded, strict=True):
        short = int(round_up(-c.free_mm)) if c.free_mm < 0 else 0
        nodes = _beside(rails[c.rail].nodes, at, c.at) if 0 < short <= most and board else ()
        raised.append(short if nodes else 0)
        for node in nodes:
            up[node] = max(up.get(node, 0), short)
    return tuple(replace(c, raised_mm=float(r)) if r else c for c, r in zip(crossings, raised, strict=True)), up


def _beside(nodes: Sequence[str], at: dict[str, tuple[float, float]], spot: tuple[float, float]) -> tuple[str, ...]:
    """The legs before and after a place on a rail; one alone where the place lies beyond the last."""
    first, last = at[nodes[0]], at[nodes[-1]]
    side = 0 if abs(last[0] - first[0]) >= abs(last[1] - first[1]) else 1
    places = [at[n][side] for n in nodes]
    k = bisect.bisect_left(places, spot[side])
    return tuple(nodes[max(0, k - 1) : k + 1])
