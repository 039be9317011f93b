"""Where to read the base next: the places that would make most of the floor better known, the best first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.plane import Point
from packgen.core.stepped import sides_of
from packgen.survey.certainty import Spread, spreads
from packgen.survey.model import Survey
from packgen.trade.survey import between

MOST_WEIGHED = 3000  # of a hall's nodes the worst known are weighed
MOST_TRIED = 400


@dataclass(frozen=True, slots=True)
class NextReading:
    """A place worth reading: how well the base is known there now, and how many nodes a reading would help."""

    node: str
    at: Point
    spread: Spread
    helps: int


def read_next(survey: Survey, nodes: Sequence[tuple[str, Point]], most: int | None) -> tuple[NextReading, ...]:
    """At most so many places (None: as many as is usual), each chosen for what it takes off the squared spreads of all
    nodes together once those before it have been read. None where the base is known well enough at every node.
    """
    rule = between()
    found = spreads(survey, [at for _, at in nodes])
    if survey.certainty is None or not found or most == 0:
        return ()
    order = sorted(range(len(nodes)), key=lambda i: (-found[i].mm, i))[:MOST_WEIGHED]
    spots = np.array([nodes[i][1] for i in order], dtype=float)
    now, rough = (np.array([getattr(found[i], f) for i in order]) for f in ("mm", "rough_mm_per_m"))
    reading, parts = survey.certainty.reading_mm, survey.certainty.parts
    side = np.array(sides_of([nodes[i][1] for i in order], parts))
    out: list[NextReading] = []
    while len(out) < (rule.most_places if most is None else most):
        tried = np.flatnonzero(now > rule.worth_mm)[:MOST_TRIED]
        if not len(tried):
            break
        gains = [_gain(now, _with_one_at(spots, side, rough, reading, k)) for k in tried]
        best = int(tried[int(np.argmax(np.round(gains, 6)))])
        then = np.minimum(now, _with_one_at(spots, side, rough, reading, best))
        name, at = nodes[order[best]]
        out.append(NextReading(name, at, found[order[best]], int((then < now - 0.05).sum())))
        now = then
        order_now = np.argsort(-now, kind="stable")
        spots, side, rough, now = spots[order_now], side[order_now], rough[order_now], now[order_now]
        order = [order[i] for i in order_now]
    return tuple(out)


def _with_one_at(spots: np.ndarray, side: np.ndarray, rough: np.ndarray, reading: float, k: int) -> np.ndarray:
    """The spread at every node by a reading at node k alone."""
    far = np.hypot(*(spots - spots[k]).T) / 1000
    by_it: np.ndarray = np.where(side == side[k], reading + rough * far, np.inf)
    return by_it


def _gain(now: np.ndarray, by_it: np.ndarray) -> float:
    return float((now**2 - np.minimum(now, by_it) ** 2).sum())
