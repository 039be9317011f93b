"""The cut list by cutting patterns: the fewest bars in the linear programme, and a list of whole bars made from it.

A pattern says how many pieces of each length one bar gives. The linear programme asks for the least total of bars,
parts of bars allowed; its patterns are found one by one, each as the most worthy filling of a bar when every length is
worth what the programme says (column generation). Source: Gilmore and Gomory, A linear programming approach to the
cutting-stock problem, Operations Research 9 (1961) (from memory, verify).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

NOISE = 1e-9
ROUNDS = 20  # pivots allowed for each different length; the bound holds wherever the search stops
MOST_LENGTHS = 30  # with more different lengths than this the search is not worth its time


def by_patterns(lengths: Sequence[int], stock: float, kerf: float) -> tuple[list[list[int]], list[int], int]:
    """Bars as lists of indices, the indices left over, and how many bars every list needs at least.

    `lengths` run down, none over `stock`. Whole bars of the programme's patterns are taken, the programme is asked
    again for what is left, until it gives no whole bar any more.
    """
    sizes, where = _sorted_sizes(lengths)
    scale = 1 if float(kerf).is_integer() and float(stock).is_integer() else 10
    need = np.array([round((s + kerf) * scale) for s in sizes])
    room = math.floor((stock + kerf) * scale + NOISE)
    left = np.array([len(w) for w in where])
    bars: list[list[int]] = []
    bound = 0
    while left.any():
        patterns, times, least = _programme(need, left, room)
        bound = bound or least
        whole = np.floor(times + NOISE).astype(int)
        if not whole.any():
            break
        for pattern, count in zip(patterns, whole, strict=True):
            left = left - pattern * count
            bars += [
                [where[i].pop() for i in np.nonzero(pattern)[0] for _ in range(int(pattern[i]))] for _ in range(count)
            ]
    return bars, sorted(i for w in where for i in w), bound


def few_enough(lengths: Sequence[int]) -> bool:
    return len(set(lengths)) <= MOST_LENGTHS


def _sorted_sizes(lengths: Sequence[int]) -> tuple[list[int], list[list[int]]]:
    """The different lengths, and of each the indices that have it."""
    where: dict[int, list[int]] = {}
    for i, length in enumerate(lengths):
        where.setdefault(length, []).append(i)
    return list(where), [list(reversed(w)) for w in where.values()]


def _programme(need: np.ndarray, wanted: np.ndarray, room: int) -> tuple[list[np.ndarray], np.ndarray, int]:
    """Patterns, how many bars of each (parts allowed), and the least whole number of bars."""
    live = np.nonzero(wanted)[0]
    size, count = need[live], wanted[live].astype(float)
    basis = np.diag(room // size).astype(float)
    bars = np.linalg.solve(basis, count)
    best = 0.0
    for _ in range(ROUNDS * len(live)):
        worth = np.linalg.solve(basis.T, np.ones(len(live)))
        pattern, value = _fullest(size, np.maximum(worth, 0.0), room)
        best = max(best, float(np.maximum(worth, 0.0) @ count) / max(value, 1.0))
        if value <= 1 + 1e-7:
            break
        step = np.linalg.solve(basis, pattern)
        ratio = np.where(step > NOISE, bars / np.where(step > NOISE, step, 1.0), np.inf)
        out = int(np.argmin(ratio))
        bars = bars - step * ratio[out]
        bars[out] = ratio[out]
        basis[:, out] = pattern
    patterns = []
    for column in basis.T:
        whole = np.zeros(len(need), dtype=int)
        whole[live] = np.round(column).astype(int)
        patterns.append(whole)
    return patterns, np.maximum(bars, 0.0), math.ceil(best - 1e-6)


def _fullest(size: np.ndarray, worth: np.ndarray, room: int) -> tuple[np.ndarray, float]:
    """The filling of one bar that is worth most: how many of each, and its worth."""
    stages = [np.zeros(room + 1)]
    for length, value in zip(size, worth, strict=True):
        now = stages[-1].copy()
        if value > NOISE:
            for _ in range(room // int(length)):
                better = now[:-length] + value
                if not (better > now[length:] + NOISE).any():
                    break
                now[length:] = np.maximum(now[length:], better)
        stages.append(now)
    pattern, at = np.zeros(len(size)), room
    for i in range(len(size) - 1, -1, -1):
        while stages[i + 1][at] > stages[i][at] + NOISE:
            pattern[i] += 1
            at -= int(size[i])
    return pattern, float(stages[-1][room])
