"""Where each day ends: the order cut into days that the crew can do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.sequence.fronts import Fronts
from packgen.sequence.pace import Pace
from packgen.trade.amounts import amount

BLOCK = 1 << 18  # figures worked on at once


@dataclass(frozen=True, slots=True)
class Amounts:
    """What lies in the bays, in the order they are filled."""

    litres: np.ndarray
    areas_m2: np.ndarray
    fills: tuple[str, ...]


def split_days(amounts: Amounts, fronts: Fronts, paces: Mapping[str, Pace]) -> tuple[int, ...]:
    """After how many bays of the order each day ends; the last entry is the number of bays.

    By dynamic programming over the order: as few days as can be, of these the ones with the shortest stop lines (to
    half a metre or so), of these the most even. One bay alone may be more than a day; one day holds one fill.
    O(bays x bays of a day): the ends that so many days can reach follow one another, and are found together.
    """
    count = len(amounts.litres)
    litres, areas = (np.concatenate(([0.0], np.cumsum(a))) for a in (amounts.litres, amounts.areas_m2))
    reach = _Reach(litres, areas, amounts.fills, fronts, paces)
    first = reach.first_of_day()
    best = _Best(np.zeros(count + 1), np.zeros(count + 1), np.zeros(count + 1, dtype=int))
    low, high = 0, 0
    while high < count:
        last = int(np.searchsorted(first[1:], high, side="right"))
        for fill, ends, closed in reach.blocks(low, high, last):
            _choose(reach, best, fill, np.arange(low, high + 1), ends, first[ends], closed)
        low, high = high + 1, last
    out = [count] if count else []
    while out and best.came_from[out[-1]] > 0:
        out.append(int(best.came_from[out[-1]]))
    return tuple(reversed(out))


@dataclass(frozen=True, eq=False)
class _Best:
    """For each number of bays filled: half metres of stop line so far, unevenness, and where its last day starts."""

    stop: np.ndarray
    uneven: np.ndarray
    came_from: np.ndarray


def _choose(
    reach: _Reach,
    best: _Best,
    fill: str,
    starts: np.ndarray,
    ends: np.ndarray,
    first: np.ndarray,
    closed: np.ndarray,
) -> None:
    """Writes the best start of the last day for each end. closed: mm of stop line, a row an end, a column a start."""
    pace = reach.paces[fill]
    spare = (1 - reach.needed_h(pace, starts[None, :], ends[:, None]) / pace.hours) ** 2
    stops = best.stop[starts] + np.round(closed / amount("stop_equal"))
    stops[starts[None, :] < first[:, None]] = np.inf
    uneven = best.uneven[starts] + spare
    even = np.where(stops == stops.min(axis=1, keepdims=True), np.round(uneven, 9), np.inf)
    chosen = np.argmin(even, axis=1)
    rows = np.arange(len(ends))
    best.stop[ends], best.uneven[ends], best.came_from[ends] = stops[rows, chosen], uneven[rows, chosen], starts[chosen]


@dataclass(frozen=True, eq=False)
class _Reach:
    """What a day can hold: litres and m² before each place of the order, fills by place, edges between places."""

    litres: np.ndarray
    areas: np.ndarray
    fills: tuple[str, ...]
    fronts: Fronts
    paces: Mapping[str, Pace]

    def needed_h(self, pace: Pace, start: np.ndarray, end: np.ndarray) -> np.ndarray:
        """Hours for the bays from place `start` up to, not with, place `end`."""
        return pace.needed_by_each(self.litres[end] - self.litres[start], self.areas[end] - self.areas[start])

    def first_of_day(self) -> np.ndarray:
        """For each end the earliest start of a day that ends there, by bisection; never falling."""
        first = np.zeros(len(self.litres), dtype=int)
        for fill, run in _runs(self.fills):
            pace = self.paces[fill]
            end = np.arange(run.start + 1, run.stop + 1)
            low, high = np.full(len(end), run.start), end - 1
            while (low < high).any():
                middle = (low + high) // 2
                fits = self.needed_h(pace, middle, end) <= pace.hours + 1e-9
                low, high = np.where(fits, low, middle + 1), np.where(fits, middle, high)
            first[end] = high
        return np.maximum.accumulate(first)

    def blocks(self, low: int, high: int, last: int) -> Iterator[tuple[str, np.ndarray, np.ndarray]]:
        """Days that start at places low ... high and end at high + 1 ... last, some ends of one fill at a time.

        With each block, for each of its ends (rows) and each start (columns), what has to be closed, mm.
        """
        width = high + 1 - low
        most = max(1, BLOCK // width)
        still_open = np.zeros(width)
        rows: list[np.ndarray] = []
        for place in range(low, last):
            still_open[: place + 1 - low] += self.fronts.later[place]
            for before, weight in self.fronts.back[place]:
                if before >= low:
                    still_open[: before + 1 - low] -= weight
            end = place + 1
            if end <= high:
                continue
            rows.append(still_open.copy() if end < len(self.fills) else np.zeros(width))
            if end == last or len(rows) == most or self.fills[end] != self.fills[place]:
                yield self.fills[place], np.arange(end + 1 - len(rows), end + 1), np.array(rows)
                rows = []


def _runs(fills: Sequence[str]) -> Iterator[tuple[str, range]]:
    """Places in the order that follow one another with one fill."""
    start = 0
    for end in range(1, len(fills) + 1):
        if end == len(fills) or fills[end] != fills[start]:
            yield fills[start], range(start, end)
            start = end


def earlier_ends(litres: np.ndarray, fronts: np.ndarray, first_share: float, second_share: float) -> tuple[int, ...]:
    """Where a day may end early: near each share of its litres the shortest stop line, first the nearest.

    litres: by bay of the day; fronts: stop line after each bay of the day. None for a day of one bay.
    """
    if len(litres) < 2:
        return ()
    done = np.cumsum(litres) / max(float(np.sum(litres)), 1e-9)
    out: list[int] = []
    equal = amount("stop_equal")
    middle = (first_share + second_share) / 2
    for share, low, high in ((first_share, first_share / 2, middle), (second_share, middle, (1 + second_share) / 2)):
        near = [k for k in range(len(litres) - 1) if low <= done[k] < high and k + 1 not in out]
        if near:
            best = min(near, key=lambda k: (round(float(fronts[k]) / equal), abs(float(done[k]) - share), k))
            out.append(best + 1)
    return tuple(out)
