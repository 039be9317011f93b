"""What one bar can give: the filling that is worth most, and all those worth at least so much."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

NOISE = 1e-9
MOST_STEPS = 400_000  # of a search for fillings; with more the search is given up, not cut short in silence


class TooMany(Exception):
    """There are more fillings than are worth listing."""


@dataclass(frozen=True, slots=True)
class Bin:
    """A kind of bar: how much it holds (saw cut counted with bar and pieces alike), what it costs, how many there are.

    ends: how many pieces it can give where each keeps a factory end; None: as many as fit
    number: None where as many can be bought as are wanted
    """

    room: int
    cost: int
    ends: int | None = None
    number: int | None = None


def fullest(size: np.ndarray, worth: np.ndarray, of: Bin) -> tuple[np.ndarray, float]:
    """The filling of one bar that is worth most: how many of each size, and its worth. Sizes may come any number of
    times, so that what follows from it holds however many are wanted."""
    if of.ends is not None:
        return _best_few(size, worth, of)
    stages = _stages(size, worth, of.room)
    filling, at = np.zeros(len(size), dtype=int), of.room
    for i in range(len(size) - 1, -1, -1):
        while stages[i + 1][at] > stages[i][at] + NOISE:
            filling[i] += 1
            at -= int(size[i])
    return filling, float(stages[-1][of.room])


def _stages(size: np.ndarray, worth: np.ndarray, room: int) -> list[np.ndarray]:
    """Stage i: what a bar of each length is worth when filled with the first i sizes."""
    stages = [np.zeros(room + 1)]
    for length, value in zip(size, worth, strict=True):
        now = stages[-1].copy()
        if value > NOISE and length <= room:
            for _ in range(room // int(length)):
                better = now[:-length] + value
                if not (better > now[length:] + NOISE).any():
                    break
                now[length:] = np.maximum(now[length:], better)
        stages.append(now)
    return stages


def _best_few(size: np.ndarray, worth: np.ndarray, of: Bin) -> tuple[np.ndarray, float]:
    filling = np.zeros(len(size), dtype=int)
    single = np.where(size <= of.room, worth, -np.inf)
    i = int(np.argmax(single))
    if not np.isfinite(single[i]) or of.ends == 0:
        return filling, 0.0
    best, picks = float(single[i]), [i]
    if of.ends != 1:
        both = np.where(np.add.outer(size, size) <= of.room, np.add.outer(worth, worth), -np.inf)
        k = int(np.argmax(both))
        if both.ravel()[k] > best + NOISE:
            best, picks = float(both.ravel()[k]), [k // len(size), k % len(size)]
    for i in picks:
        filling[i] += 1
    return filling, best


def worthy(size: np.ndarray, wanted: np.ndarray, worth: np.ndarray, of: Bin, least: float) -> list[np.ndarray]:
    """All fillings worth `least` or more to which no further wanted piece can be added. Raises TooMany."""
    if of.ends is not None:
        return list(_few(size, wanted, worth, of, least))
    stages = _stages(size, worth, of.room)
    out: list[np.ndarray] = []
    now = np.zeros(len(size), dtype=int)
    steps = 0

    def go(i: int, room: int, value: float) -> None:
        nonlocal steps
        steps += 1
        if steps > MOST_STEPS:
            raise TooMany
        if i < 0:
            if not ((size <= room) & (now < wanted)).any():
                out.append(now.copy())
            return
        for count in range(min(int(wanted[i]), room // int(size[i])), -1, -1):
            left, sum_ = room - count * int(size[i]), value + count * float(worth[i])
            if sum_ + stages[i][left] >= least - NOISE:
                now[i] = count
                go(i - 1, left, sum_)
        now[i] = 0

    go(len(size) - 1, of.room, 0.0)
    return out


def _few(size: np.ndarray, wanted: np.ndarray, worth: np.ndarray, of: Bin, least: float) -> Iterator[np.ndarray]:
    """One or two pieces a bar; a single one only where no other fits beside it."""
    for i in range(len(size)):
        if of.ends == 0 or size[i] > of.room:
            continue
        alone = True
        for j in range(len(size)) if of.ends != 1 else ():
            if size[i] + size[j] > of.room or (i == j and wanted[i] < 2):
                continue
            alone = False
            if j >= i and worth[i] + worth[j] >= least - NOISE:
                both = np.zeros(len(size), dtype=int)
                both[i] += 1
                both[j] += 1
                yield both
        if alone and worth[i] >= least - NOISE:
            one = np.zeros(len(size), dtype=int)
            one[i] = 1
            yield one
