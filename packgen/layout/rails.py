"""Rails cut into pieces: of stock of one module clipped on legs, or of long bars jointed at legs."""

from __future__ import annotations

import bisect
import heapq
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.figures import round_down
from packgen.layout.ground import SAME_MM


@dataclass(frozen=True, slots=True)
class Length:
    """A piece along a rail: from lo to hi, whole stock or cut, with the factory ends it needs."""

    lo: float
    hi: float
    whole: bool
    factory_ends: int

    @property
    def mm(self) -> int:
        """Cut length: rounded down to whole mm, so that the piece never is too long."""
        return int(round_down(self.hi - self.lo + SAME_MM))


@dataclass(frozen=True, slots=True)
class Bars:
    """The lengths rails come in, and whether every piece clips on a leg by an uncut end."""

    lengths: tuple[int, ...]
    clipped: bool

    @property
    def longest(self) -> float:
        return float(max(self.lengths))


def clipped_pieces(
    lo: float, hi: float, legs: Sequence[float], stocks: Sequence[float], smallest: float
) -> list[Length]:
    """Pieces of stock clipped at both ends on legs; what is shorter than the stock is cut and clipped at one end.

    Over the last leg a piece runs on to the end where the stock is long enough. A run-on that would need a piece of
    its own is laid only from the smallest cut piece on; else the rail ends over the leg.
    """
    stock = max(stocks)
    stops = _fewest(legs, stocks)
    if len(stops) == 1:
        spans = [(lo, hi)] if hi - lo <= stock + SAME_MM else [(lo, stops[0]), (stops[0], hi)]
        return [Length(a, b, False, 1) for a, b in spans if b - a > SAME_MM]
    spans = list(itertools.pairwise(stops))
    for side, run_on in ((-1, hi - stops[-1]), (0, stops[0] - lo)):
        a, b = spans[side]
        if run_on <= SAME_MM:
            continue
        if b - a + run_on <= stock + SAME_MM:
            spans[side] = (a, hi) if side == -1 else (lo, b)
        elif run_on >= smallest - SAME_MM:
            spans = [*spans, (b, hi)] if side == -1 else [(lo, a), *spans]
    on_legs = set(stops)
    return [_clipped(a, b, stocks, on_legs) for a, b in spans]


def _whole(span: float, stocks: Sequence[float]) -> bool:
    return any(abs(span - s) <= SAME_MM for s in stocks)


def _clipped(a: float, b: float, stocks: Sequence[float], on_legs: set[float]) -> Length:
    whole = _whole(b - a, stocks) and a in on_legs and b in on_legs
    return Length(a, b, whole, 2 if whole else 1)


def _fewest(legs: Sequence[float], stocks: Sequence[float]) -> list[float]:
    """The legs at which pieces meet: fewest pieces, of these most whole ones, of these the longest first."""
    stock = max(stocks)
    best: dict[int, tuple[int, int, int]] = {0: (0, 0, 0)}
    for j in range(1, len(legs)):
        options = []
        for i in range(j - 1, -1, -1):
            span = legs[j] - legs[i]
            if span > stock + SAME_MM and i < j - 1:
                break
            count, cut, _ = best[i]
            options.append((count + 1, cut + (not _whole(span, stocks)), i))
        best[j] = min(options)
    stops = [len(legs) - 1]
    while stops[-1] > 0:
        stops.append(best[stops[-1]][2])
    return [legs[i] for i in reversed(stops)]


def jointed_pieces(
    lo: float, hi: float, legs: Sequence[float], stocks: Sequence[float], smallest: float, reach: float
) -> list[Length]:
    """Pieces of long bars laid end to end over several legs, meeting at a leg or not farther than `reach` from one.

    Fewest pieces; of these most whole bars; no piece under the smallest cut piece unless there is no other way.
    """
    stock = max(stocks)
    if hi - lo <= stock + SAME_MM:
        return [_bar(lo, hi, stocks)]
    found: dict[float, tuple[tuple[int, int, int], float]] = {lo: ((0, 0, 0), lo)}
    waiting = [lo]
    while waiting:
        at = heapq.heappop(waiting)
        cost = found[at][0]
        for to in _next_joints(at, hi, legs, stock, reach):
            span = to - at
            new = (cost[0] + (span < smallest - SAME_MM), cost[1] + 1, cost[2] + (not _whole(span, stocks)))
            if to not in found or new < found[to][0]:
                if to not in found:
                    heapq.heappush(waiting, to)
                found[to] = (new, at)
    cuts = [hi]
    while cuts[-1] > lo:
        cuts.append(found[cuts[-1]][1])
    cuts.reverse()
    return [_bar(a, b, stocks) for a, b in itertools.pairwise(cuts)]


def _bar(a: float, b: float, stocks: Sequence[float]) -> Length:
    return Length(a, b, _whole(b - a, stocks), 0)


def _next_joints(at: float, hi: float, legs: Sequence[float], stock: float, reach: float) -> list[float]:
    """Where a piece that begins at `at` may end: the rail's end, a leg, or a whole bar on near a leg."""
    options = [hi] if hi - at <= stock + SAME_MM else []
    full = at + stock
    first, last = (
        bisect.bisect_right(legs, at + SAME_MM),
        bisect.bisect_right(legs, min(full, hi - 2 * SAME_MM) + SAME_MM),
    )
    options += legs[first:last]
    near = bisect.bisect_left(legs, full - reach)
    if full < hi - SAME_MM and near < len(legs) and legs[near] <= full + reach:
        options.append(round(full, 6))
    return options or [round(full, 6)]
