"""Quick cut lists of one stock length, and numbers of bars that no list goes under."""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence

# --------------------------------------------------------------------------------- at most two pieces a bar


def pair_up(lengths: Sequence[int], stock: int, kerf: float) -> list[list[int]]:
    """Bars of at most two pieces: each piece, longest first, with the longest other one that fits beside it.

    `lengths` run down; the result holds their indices. No list has fewer bars: if the longest piece fits with any
    other at all, giving it the longest that fits never takes a partner from a piece that has fewer to choose from.
    """
    room = stock - kerf
    left = list(range(len(lengths) - 1, -1, -1))  # shortest first
    bars = []
    while left:
        longest = left.pop()
        fit = bisect.bisect_right(left, room - lengths[longest], key=lambda i: lengths[i])
        bars.append([longest] if fit == 0 else [longest, left.pop(fit - 1)])
    return bars


def pair_bound(lengths: Sequence[int], stock: int, kerf: float) -> int:
    """No list of two pieces a bar has fewer bars: those too long for any partner of length t or more, and half of the
    others that are at least t, for the t that asks for most."""
    room = stock - kerf
    up = sorted(lengths)
    most = len(up) - bisect.bisect_right(up, room / 2)  # no two of these share a bar
    for t in {0, *(v for v in up if 2 * v <= room)}:
        alone = len(up) - bisect.bisect_right(up, room - t)
        others = bisect.bisect_right(up, room - t) - bisect.bisect_left(up, t)
        most = max(most, alone + max(0, math.ceil(others / 2)))
    return most


# --------------------------------------------------------------------------------- any number of pieces a bar


def best_fit(lengths: Sequence[int], stock: float, kerf: float) -> list[list[int]]:
    """Best-fit decreasing: each piece, longest first, into the bar that it fills best. `lengths` run down.

    With a saw cut k a bar of stock + k takes pieces of length + k each: the last piece needs no cut behind it.
    """
    bars: list[list[int]] = []
    room: list[tuple[float, int]] = []  # left in a bar and its number, least first
    for i, length in enumerate(lengths):
        need = length + kerf
        at = bisect.bisect_left(room, (need - 1e-9, -1))
        if at == len(room):
            bars.append([i])
            bisect.insort(room, (stock + kerf - need, len(bars) - 1))
        else:
            left, bar = room.pop(at)
            bars[bar].append(i)
            bisect.insort(room, (left - need, bar))
    return bars


def fewest_bars(lengths: Sequence[int], stock: float, kerf: float) -> int:
    """No list has fewer bars. For each limit t up to half a bar: pieces longer than stock - t have a bar each, pieces
    over half a bar too, and what the latter leave free is set against all that is at least t.

    Source: lower bound L2 of Martello and Toth, Knapsack Problems (1990), section 8.3 (from memory, verify).
    """
    size = stock + kerf
    up = sorted(v + kerf for v in lengths)
    if not up:
        return 0
    total = [0.0]
    for v in up:
        total.append(total[-1] + v)
    most = 1
    for t in {0.0, *(v for v in up if v <= size / 2)}:
        half, large = bisect.bisect_right(up, size / 2), bisect.bisect_right(up, size - t)
        small = bisect.bisect_left(up, t)
        middle = large - half
        free = middle * size - (total[large] - total[half])
        rest = total[half] - total[small] - free
        most = max(most, len(up) - half + max(0, math.ceil(rest / size - 1e-9)))
    return most
