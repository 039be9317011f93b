"""Which nodes a straightedge on two set nodes can set, along one run of a line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import pairwise

from packgen.trade.grid_rules import value

SLACK_MM = 1.0  # lines are set out to the mm


@dataclass(frozen=True, slots=True)
class Reach:
    """Masters stand on every n-th line; a straightedge of `length_mm` bridges `bridges_mm`."""

    every: int
    length_mm: float
    bridges_mm: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A straightedge on set nodes a and b, and the nodes it sets: between them, or just beyond one of them."""

    a: str
    b: str
    sets: tuple[str, ...]


def reach_for(module_mm: float) -> Reach:
    """How far apart masters stand for a module: 4 lines, fewer where the straightedge would be too long to handle."""
    most = math.floor((value("straightedge_most") - value("straightedge_over")) / module_mm + 1e-9)
    every = max(1, min(int(value("masters_every")), most))
    return Reach(every, every * module_mm + value("straightedge_over"), every * module_mm)


def lay_along(
    run: Sequence[tuple[float, str]], known: AbstractSet[str], reach: Reach
) -> tuple[tuple[str, ...], tuple[Laid, ...]]:
    """What the laser has to set besides the known nodes of a run, and the straightedges that set all the rest.

    run: (distance along the line, node), rising. An end of the run is set by a straightedge that reaches beyond two
    set nodes by no more than half of what lies between them; else by the laser.
    """
    far = [distance for distance, _ in run]
    marks = [i for i, (_, node) in enumerate(run) if node in known]
    added: list[int] = []
    if not marks:
        marks = sorted({0, len(run) - 1})
        added += marks
    over: list[tuple[int, int, range]] = []
    for end, step in ((0, 1), (len(run) - 1, -1)):
        nearest = marks[0] if step == 1 else marks[-1]
        if nearest == end:
            continue
        base = _base_beyond(far, marks, nearest, end, reach)
        if base is None:
            added.append(end)
            marks = sorted({*marks, end})
        else:
            over.append((nearest, base, range(end, nearest, step)))
    for a, b in list(pairwise(marks)):
        while far[b] - far[a] > reach.bridges_mm + SLACK_MM and b - a > 1:
            a = max((i for i in range(a + 1, b) if far[i] - far[a] <= reach.bridges_mm + SLACK_MM), default=a + 1)
            added.append(a)
    marks = sorted({*marks, *added})
    laid = [(a, b, range(a + 1, b)) for a, b in pairwise(marks)] + over
    return (
        tuple(run[i][1] for i in sorted(added)),
        tuple(
            Laid(run[a][1], run[b][1], tuple(run[i][1] for i in sorted(between)))
            for a, b, between in sorted(laid, key=lambda x: min(x[0], x[1], *x[2]))
            if len(between) > 0
        ),
    )


def _base_beyond(far: Sequence[float], marks: Sequence[int], nearest: int, end: int, reach: Reach) -> int | None:
    """The set node farthest back on which a straightedge over `nearest` can rest and still reach the end."""
    beyond = abs(far[nearest] - far[end])
    fitting = [
        i
        for i in marks
        if i != nearest
        and abs(far[i] - far[end]) <= reach.bridges_mm + SLACK_MM
        and beyond <= value("straightedge_beyond") * abs(far[i] - far[nearest])
    ]
    return max(fitting, key=lambda i: abs(far[i] - far[end]), default=None)
