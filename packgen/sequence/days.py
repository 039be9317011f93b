"""Where each day ends: the order cut into days that the crew can do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from packgen.sequence.fronts import Fronts
from packgen.sequence.pace import Pace
from packgen.trade.amounts import amount


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
    """
    count = len(amounts.litres)
    litres = np.concatenate(([0.0], np.cumsum(amounts.litres)))
    areas = np.concatenate(([0.0], np.cumsum(amounts.areas_m2)))
    days = np.zeros(count + 1, dtype=int)
    stop = np.zeros(count + 1)
    uneven = np.zeros(count + 1)
    came_from = np.zeros(count + 1, dtype=int)
    still_open = np.zeros(count)
    first, equal = 0, amount("stop_equal")
    for k in range(1, count + 1):
        still_open[k - 1] = fronts.later[k - 1]
        for place, weight in fronts.back[k - 1]:
            still_open[place] -= weight
        fill = amounts.fills[k - 1]
        pace = paces[fill]
        if k > 1 and amounts.fills[k - 2] != fill:
            first = k - 1
        while first < k - 1 and pace.needed_h(litres[k] - litres[first], areas[k] - areas[first]) > pace.hours + 1e-9:
            first += 1
        span = slice(first, k)
        spare = (1 - pace.needed_by_each(litres[k] - litres[span], areas[k] - areas[span]) / pace.hours) ** 2
        to_close = np.cumsum(still_open[span][::-1])[::-1] if k < count else np.zeros(k - first)
        stops = stop[span] + np.round(to_close / equal)
        best = int(np.lexsort((np.round(uneven[span] + spare, 9), stops, days[span]))[0])
        came_from[k] = best + first
        days[k] = days[best + first] + 1
        stop[k] = stops[best]
        uneven[k] = uneven[best + first] + spare[best]
    ends = [count] if count else []
    while ends and came_from[ends[-1]] > 0:
        ends.append(int(came_from[ends[-1]]))
    return tuple(reversed(ends))


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
