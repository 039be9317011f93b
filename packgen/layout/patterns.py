"""The shortest cut list by cutting patterns, with the proof that it is the shortest.

A pattern says how many pieces of each size one bar gives. The linear programme asks for the least stock, parts of bars
allowed; its patterns are found one by one, each as the most worthy filling of a bar when every size is worth what the
programme says (column generation). What the sizes are worth bounds every list from below. A list of whole bars is made
from the patterns found; where it does not meet the bound, every pattern that a shorter list could hold is added: a
pattern that costs more than its pieces are worth by d lengthens each list that holds it by d.
Source: Gilmore and Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9 (1961)
(from memory, verify). Solver: HiGHS.

The search is capped by counted steps, never by the clock, so that the same file gives the same list everywhere.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packgen.layout.fillings import Bin, TooMany, fullest, worthy

NOISE = 1e-6
MOST_SIZES = 100  # with more different sizes than this the search is not worth its time
MOST_ROUNDS = 400
MOST_CELLS = 150_000_000  # table cells of all fillings sought together: some seconds
MOST_PATTERNS = 12_000
MOST_BRANCHES = 1000


@dataclass(frozen=True, slots=True)
class Found:
    """Bars by kind with their patterns, and a cost that no list goes under. bars: None where no list was made."""

    bars: tuple[tuple[int, tuple[int, ...]], ...] | None
    bound: int


def shortest(size: Sequence[int], wanted: Sequence[int], bins: Sequence[Bin], known: int) -> Found:
    """The list that costs least, or None for the bars where none costs less than `known`.

    size: the different sizes with the saw cut; wanted: how many of each; bins: the kinds of bars, one at least without
    a limit to its number that holds every size.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    sizes, need = np.array(size), np.array(wanted)
    unit = math.gcd(*(b.cost for b in bins)) or 1
    patterns, worth, low = _programme(sizes, need, bins)
    bound = _reachable(low / unit, [b.cost // unit for b in bins]) * unit
    best: tuple[tuple[int, tuple[int, ...]], ...] | None = None
    for step in ("found", "all"):
        if known <= bound:
            break
        target = known - unit
        if step == "all":
            try:
                patterns = _could_help(sizes, need, bins, worth, target - low)
            except TooMany:
                break
            if not patterns:
                bound = known
                break
        cost = np.array([bins[b].cost for b, _ in patterns], dtype=float)
        table = np.array([p for _, p in patterns], dtype=float).T
        rows, least, most = [table], [need.astype(float)], [np.full(len(need), np.inf)]
        for b, of in enumerate(bins):
            if of.number is not None:
                rows.append(np.array([[float(k == b) for k, _ in patterns]]))
                least.append(np.zeros(1))
                most.append(np.array([float(of.number)]))
        result = milp(
            cost / unit,
            integrality=np.ones(len(cost)),
            bounds=Bounds(0, np.inf),
            constraints=LinearConstraint(np.vstack(rows), np.concatenate(least), np.concatenate(most)),
            options={"node_limit": MOST_BRANCHES, "mip_rel_gap": 0.0},
        )
        if result.x is not None:
            bars = _bars(patterns, np.round(result.x).astype(int), need)
            made = known if bars is None else sum(bins[b].cost for b, _ in bars)
            if made < known:
                known, best = made, bars
        if step == "all" and result.status in (0, 2):  # solved, or nothing shorter can be made
            bound = known
        elif step == "all" and result.mip_dual_bound is not None and math.isfinite(result.mip_dual_bound):
            bound = max(bound, min(known, math.ceil(result.mip_dual_bound - NOISE) * unit))
    return Found(best, bound)


def _bars(
    patterns: Sequence[tuple[int, np.ndarray]], times: np.ndarray, need: np.ndarray
) -> tuple[tuple[int, tuple[int, ...]], ...] | None:
    """Bars one by one; what the patterns give over what is wanted is left in the bar. None where a piece is missing."""
    left = need.copy()
    out = []
    for (b, pattern), count in zip(patterns, times, strict=True):
        for _ in range(int(count)):
            taken = np.minimum(pattern, left)
            left = left - taken
            if taken.any():
                out.append((b, tuple(int(t) for t in taken)))
    return None if left.any() else tuple(out)


def _reachable(low: float, costs: Sequence[int]) -> int:
    """The least sum of whole bars bought that is not under `low`."""
    at = max(0, math.ceil(low - NOISE))
    bought = sorted({c for c in costs if c})
    if bought == [1] or at > 1_000_000:
        return at
    top = at + bought[0]
    can = np.zeros(top + 1, dtype=bool)
    can[0] = True
    for c in bought:
        for start in range(min(c, top + 1)):
            line = can[start::c]
            line |= np.logical_or.accumulate(line)
    return at + int(np.argmax(can[at:]))


def _programme(
    size: np.ndarray, need: np.ndarray, bins: Sequence[Bin]
) -> tuple[list[tuple[int, np.ndarray]], np.ndarray, float]:
    """Patterns, what each size is worth at the best bound, and that bound."""
    from scipy.optimize import linprog

    patterns = _first(size, need, bins)
    seen = {(b, tuple(p)) for b, p in patterns}
    best, at_best = 0.0, np.zeros(len(size))
    cells = 0
    for _ in range(MOST_ROUNDS):
        cost = np.array([bins[b].cost for b, _ in patterns], dtype=float)
        rows = [-np.array([p for _, p in patterns], dtype=float).T]
        limits = [b for b, of in enumerate(bins) if of.number is not None]
        rows += [np.array([[float(k == b) for k, _ in patterns]]) for b in limits]
        right = np.concatenate([-need.astype(float), [float(bins[b].number or 0) for b in limits]])
        result = linprog(cost, A_ub=np.vstack(rows), b_ub=right, method="highs-ds")
        if result.status != 0:
            break
        worth = np.maximum(-result.ineqlin.marginals[: len(size)], 0.0)
        rent = dict(zip(limits, -result.ineqlin.marginals[len(size) :], strict=True))
        filled = [fullest(size, worth, of) for of in bins]
        cells += sum(of.room * len(size) for of in bins)
        over = max([1.0, *(v / of.cost for of, (_, v) in zip(bins, filled, strict=True) if of.cost)])
        free = sum((of.number or 0) * v for of, (_, v) in zip(bins, filled, strict=True) if not of.cost)
        bound = (float(worth @ need) - free) / over
        if bound > best:
            best, at_best = bound, worth / over
        added = False
        for b, (pattern, value) in enumerate(filled):
            key = (b, tuple(pattern))
            if value > bins[b].cost + rent.get(b, 0.0) + NOISE and key not in seen:
                seen.add(key)
                patterns.append((b, pattern))
                added = True
        if not added or cells > MOST_CELLS:
            break
    return patterns, at_best, best


def _first(size: np.ndarray, need: np.ndarray, bins: Sequence[Bin]) -> list[tuple[int, np.ndarray]]:
    """Of each size as many as a bar gives, from the cheapest bar without a limit that holds it."""
    out = []
    for i, length in enumerate(size):
        fit = [b for b, of in enumerate(bins) if of.number is None and of.room >= length]
        b = min(fit, key=lambda b: bins[b].cost)
        one = np.zeros(len(size), dtype=int)
        ends, most = bins[b].ends, min(bins[b].room // int(length), int(need[i]))
        one[i] = most if ends is None else min(most, ends)
        out.append((b, one))
    return out


def _could_help(
    size: np.ndarray, need: np.ndarray, bins: Sequence[Bin], worth: np.ndarray, slack: float
) -> list[tuple[int, np.ndarray]]:
    """Every pattern that a list not longer than the bound and `slack` could hold. Raises TooMany."""
    out: list[tuple[int, np.ndarray]] = []
    for b, of in enumerate(bins):
        rent = 0.0 if of.number is None else fullest(size, worth, of)[1]
        found = worthy(size, need, worth, of, of.cost + rent - slack)
        out += [(b, p) for p in found if p.any()]
        if len(out) > MOST_PATTERNS:
            raise TooMany
    return out
