"""Straight pieces with a reach round them, and which stretch of a line comes within it; asked again and again."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

SLOT_MM = 1000.0
SPOT_MM = 1e-6  # a piece shorter than this is a spot


@dataclass(frozen=True, eq=False)
class Strips:
    """Pieces as rows (across, along, across, along), each with its reach; slots: which come near each metre across."""

    rows: np.ndarray
    reach: np.ndarray
    slots: Mapping[int, np.ndarray]
    known: dict[tuple[float, float], tuple[tuple[float, float], ...]] = field(default_factory=dict, repr=False)

    def near(self, at: float, extra: float = 0.0) -> tuple[tuple[float, float], ...]:
        """For each piece the stretch of the line at `at` that lies nearer to it than its reach and `extra`.

        A line is asked for again with each of its rails: what was found is kept.
        """
        if (at, extra) not in self.known:
            self.known[at, extra] = tuple(self._find(at, extra))
        return self.known[at, extra]

    def _find(self, at: float, extra: float) -> list[tuple[float, float]]:
        slots = range(_slot(at - extra), _slot(at + extra) + 1)
        found = [self.slots[s] for s in slots if s in self.slots]
        if not found:
            return []
        mine = found[0] if len(found) == 1 else np.unique(np.concatenate(found))
        return near_intervals(self.rows[mine], self.reach[mine] + extra, at)


def strips(rows: np.ndarray, reach: np.ndarray) -> Strips:
    """Pieces sorted into slots across."""
    slots: dict[int, list[int]] = {}
    low = np.minimum(rows[:, 0], rows[:, 2]) - reach
    high = np.maximum(rows[:, 0], rows[:, 2]) + reach
    for i, (a, b) in enumerate(zip(low.tolist(), high.tolist(), strict=True)):
        for slot in range(_slot(a), _slot(b) + 1):
            slots.setdefault(slot, []).append(i)
    return Strips(rows, reach, {slot: np.array(mine) for slot, mine in slots.items()})


def _slot(across: float) -> int:
    return math.floor(across / SLOT_MM)


def near_intervals(rows: np.ndarray, reach: np.ndarray, at: float) -> list[tuple[float, float]]:
    """For each straight piece the stretch of the line that lies nearer to it than its reach.

    A piece with round ends of radius `reach` is convex, so the line meets it in one stretch.
    """
    near = (np.minimum(rows[:, 0], rows[:, 2]) < at + reach) & (np.maximum(rows[:, 0], rows[:, 2]) > at - reach)
    if not near.any():
        return []
    (c0, t0, c1, t1), r = rows[near].T, reach[near]
    places = []
    for c, t in ((c0, t0), (c1, t1)):
        side = np.sqrt(np.where(np.abs(at - c) < r, r * r - (at - c) ** 2, np.nan))
        places += [t - side, t + side]
    length = np.hypot(c1 - c0, t1 - t0)
    long = np.where(length > SPOT_MM, length, np.nan)
    nc, nt = (t1 - t0) / long * r, -(c1 - c0) / long * r
    for sign in (-1, 1):
        a, b = c0 + sign * nc, c1 + sign * nc
        span = np.where((a <= at) != (b <= at), b - a, np.nan)
        places.append(t0 + sign * nt + (at - a) / span * (t1 - t0))
    found = np.array(places)
    met = (~np.isnan(found)).sum(axis=0) > 1
    found = found[:, met]
    return list(zip(np.nanmin(found, axis=0).tolist(), np.nanmax(found, axis=0).tolist(), strict=True))
