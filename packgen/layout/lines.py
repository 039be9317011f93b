"""Lines of one room: the regular ones at every module, and their names."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from packgen.core.plane import bounds
from packgen.layout.ground import SAME_MM, Ground, Kind, Run, clear_runs, foot_places

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I and no O: they read as 1 and 0


@dataclass(frozen=True, slots=True)
class Track:
    """A line before it has a name, with the stretches on which rails can lie.

    own: it stands for itself in the row of names; else it lies between two such lines and takes the name of the one
    before it with a small letter
    """

    kind: Kind
    at: float
    runs: tuple[Run, ...]
    own: bool = True


@dataclass(frozen=True, slots=True)
class Sizes:
    """What the kit and the rules say about lengths along a rail, mm."""

    module: float
    first: float
    first_most: float
    strip: float
    smallest: float
    overhang: float
    joint_leg: float
    near_service: float


def regular_places(lo: float, hi: float, first: float, module: float) -> list[float]:
    """first, first + module, ... and first - module, ... as far as they lie between lo and hi.

    >>> regular_places(0, 1500, 50, 600), regular_places(-700, 700, 50, 600)
    ([50, 650, 1250], [-550, 50, 650])
    """
    least = math.floor((lo - first) / module) + 1
    most = math.ceil((hi - first) / module) - 1
    return [first + module * k for k in range(least, most + 1)]


def regular_tracks(ground: Ground, kind: Kind, first: float, sizes: Sizes) -> list[Track]:
    """Every line at the module on which a rail of useful length can lie, moved off joints that run along it."""
    if not ground.floor:
        return []
    boxes = [bounds(p) for p in ground.floor]
    side = 0 if kind == "lettered" else 1
    lo, hi = min(b[side] for b in boxes), max(b[side + 2] for b in boxes)
    tracks = []
    for place in regular_places(lo, hi, first, sizes.module):
        at = clear_of_joints(ground, kind, place)
        runs = usable_runs(ground, kind, at, sizes)
        if runs:
            tracks.append(Track(kind, at, runs))
    return tracks


def clear_of_joints(ground: Ground, kind: Kind, at: float) -> float:
    """The line itself, or, where a joint runs along under its feet, the nearest whole mm beside that joint."""
    cross = ground.joint_axes[:, [0, 2]] if kind == "lettered" else ground.joint_axes[:, [1, 3]]
    for ends, reach in zip(cross, ground.joint_reach, strict=True):
        if bool(np.all(np.abs(ends - at) < reach)):
            corner = ground.corner[0 if kind == "lettered" else 1]
            before = corner + math.floor(float(ends.min() - reach) - corner + SAME_MM)
            after = corner + math.ceil(float(ends.max() + reach) - corner - SAME_MM)
            return before if at - before <= after - at + SAME_MM else after
    return at


def usable_runs(ground: Ground, kind: Kind, at: float, sizes: Sizes) -> tuple[Run, ...]:
    """Runs that are worth a rail and have a place for a foot."""
    return tuple(
        run
        for run in clear_runs(ground, kind, at)
        if run.length >= sizes.smallest - SAME_MM and foot_places(ground, kind, at, run.lo, run.hi)
    )


def letters(index: int) -> str:
    """The name of a lettered line, counted from 0.

    >>> [letters(i) for i in (0, 7, 8, 23, 24, 25, 599, 600)]
    ['A', 'H', 'J', 'Z', 'AA', 'AB', 'ZZ', 'AAA']
    """
    name = ""
    index += 1
    while index > 0:
        index, rest = divmod(index - 1, len(LETTERS))
        name = LETTERS[rest] + name
    return name


def name_tracks(tracks: Sequence[Track], before: int) -> list[str]:
    """Names of one room's tracks of one kind, in order of `at`; `before` is how many names earlier rooms have used."""
    names: list[str] = []
    count, small = before, 0
    for track in tracks:
        if track.own or not names:
            name = letters(count) if track.kind == "lettered" else str(count + 1)
            count, small, last = count + 1, 0, name
        else:
            name = f"{last}{'abcdefghjkmnpqrstuvwxyz'[small]}"
            small += 1
        names.append(name)
    return names


def in_order(tracks: Iterable[Track]) -> list[Track]:
    """By place; tracks at one place become one with the runs of both."""
    merged: list[Track] = []
    for track in sorted(tracks, key=lambda t: (t.at, not t.own)):
        if merged and abs(merged[-1].at - track.at) < SAME_MM:
            merged[-1] = replace(merged[-1], runs=_joined(merged[-1].runs + track.runs))
        else:
            merged.append(track)
    return merged


def _joined(runs: Sequence[Run]) -> tuple[Run, ...]:
    out: list[Run] = []
    for run in sorted(runs, key=lambda r: (r.lo, r.hi)):
        if out and run.lo < out[-1].hi + SAME_MM:
            if run.hi > out[-1].hi:
                out[-1] = Run(out[-1].lo, run.hi, out[-1].lo_stop, run.hi_stop)
        else:
            out.append(run)
    return tuple(out)


def runs_of(tracks: Sequence[Track]) -> np.ndarray:
    """All runs of some tracks as rows: number of the track, its place, from, to."""
    rows = [(i, t.at, run.lo, run.hi) for i, t in enumerate(tracks) for run in t.runs]
    return np.array(rows, dtype=float).reshape(-1, 4)


def those_over(runs: np.ndarray, along: float) -> list[float]:
    """Where those tracks lie that have a rail over a place along them, in their order; runs as by `runs_of`."""
    hit = runs[(runs[:, 2] - SAME_MM <= along) & (along <= runs[:, 3] + SAME_MM)]
    places: list[float] = hit[np.diff(hit[:, 0], prepend=-1.0) > 0, 1].tolist()
    return places


def covers(track: Track, along: float) -> bool:
    """Whether a rail of the track lies over that place along the line."""
    return any(run.lo - SAME_MM <= along <= run.hi + SAME_MM for run in track.runs)
