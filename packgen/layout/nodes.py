"""Legs: at every crossing, at rail ends that would stand over too far, and between where a span would be too long."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from packgen.layout.ground import (
    SAME_MM,
    TOUCH_MM,
    Ground,
    Interval,
    Run,
    Stop,
    foot_places,
    gaps_between,
    nearest_in,
    pipe_intervals,
    those_within,
)
from packgen.layout.lines import Sizes, Track, runs_of, those_over


@dataclass(frozen=True, slots=True)
class Leg:
    """A leg on a rail: where along it, and why. cross: the place of the crossing line, for a crossing."""

    at: float
    why: Stop
    cross: float | None = None


@dataclass(frozen=True, slots=True)
class Carried:
    """A stretch of rail that is carried, with its legs in order. short: an end was left out beyond its last leg."""

    run: Run
    legs: tuple[Leg, ...]
    short: tuple[float, ...] = ()


CROSSING = Stop("node")
BETWEEN = Stop("no foot")


def cut_at_blind_crossings(ground: Ground, cross: Sequence[Track], through: Sequence[Track]) -> list[Track]:
    """Interrupts `cross` where it meets `through` at a place on which no foot can stand: two rails cannot meet there
    without a leg, so one of them has to end on either side of the other."""
    out = []
    gap = ground.rail / 2
    others = runs_of(through)
    for track in cross:
        runs: list[Run] = []
        met = those_over(others, track.at)
        for run in track.runs:
            free = foot_places(ground, track.kind, track.at, run.lo, run.hi)
            near = [at for at in met if run.lo - gap <= at <= run.hi + gap]
            blind = set(near) - set(those_within(free, near))
            for lo, hi in gaps_between([(b - gap, b + gap) for b in blind], run.lo, run.hi):
                lo_stop = run.lo_stop if lo == run.lo else BETWEEN
                hi_stop = run.hi_stop if hi == run.hi else BETWEEN
                runs.append(Run(lo, hi, lo_stop, hi_stop))
        out.append(replace(track, runs=tuple(runs)))
    return out


@dataclass(frozen=True, slots=True)
class Room:
    """Where a rail can have legs of its own: on the floor and clear of other legs; wet: near a service."""

    own: list[Interval]
    wet: Sequence[Interval]


def room_for_legs(ground: Ground, track: Track, free: Sequence[Interval], sizes: Sizes, taken: np.ndarray) -> Room:
    """taken: places (x, y) of legs that stand already, in an array of two columns."""
    spots = taken if track.kind == "lettered" else taken[:, ::-1]
    off = spots[:, 0] - track.at
    near = np.abs(off) < ground.foot
    reach = np.sqrt(ground.foot**2 - off[near] ** 2)
    feet = [(float(t - r), float(t + r)) for t, r in zip(spots[near, 1], reach, strict=True)]
    wet = pipe_intervals(ground, track.kind, track.at, sizes.near_service)
    return Room([gap for a, b in free for gap in gaps_between(feet, a, b)], wet)


def carry(
    ground: Ground, track: Track, run: Run, crossings: Sequence[float], sizes: Sizes, taken: np.ndarray
) -> list[Carried]:
    """Puts legs on one rail so that no end stands over and no span is longer than allowed.

    Crossings at which a foot can stand have a leg. Where the floor leaves no place for a leg that is needed, the rail
    is ended at what can be carried; in the worst case the run is split or left out.
    """
    free = foot_places(ground, track.kind, track.at, run.lo, run.hi)
    legs = [Leg(t, CROSSING, t) for t in those_within(free, crossings)]
    places = cache(lambda: room_for_legs(ground, track, free, sizes, taken))
    short: list[float] = []
    for out in (-1, 1):
        run, legs, left = _end(run, legs, places, out, sizes)
        short += left
        if not legs:
            return []
    return [
        replace(part, short=tuple(s for s in short if any(leg.at == s for leg in part.legs)))
        for part in _spans(run, legs, places, sizes.module)
        if part.run.length >= sizes.smallest - SAME_MM
    ]


def _end(
    run: Run, legs: list[Leg], places: Callable[[], Room], out: int, sizes: Sizes
) -> tuple[Run, list[Leg], list[float]]:
    """One end: enough if a leg stands near it, else a leg of its own, else the rail ends sooner."""
    end, stop = (run.lo, run.lo_stop) if out < 0 else (run.hi, run.hi_stop)
    last = None if not legs else legs[0 if out < 0 else -1].at
    limit = sizes.joint_leg if stop.in_floor else sizes.overhang
    over = math.inf if last is None else (end - last) * out
    if over <= limit + SAME_MM:
        return run, legs, []
    if last is not None and over < sizes.smallest - 2 * TOUCH_MM:
        return _ended(run, last, out), legs, [last]
    back = sizes.first if stop.in_floor else sizes.first - sizes.strip
    at = _spot(_clip(places().own, end - out * limit, end), places().wet, end - out * back)
    if at is None:
        inside = _clip(places().own, end, (run.lo if out > 0 else run.hi) if last is None else last)
        at = None if not inside else max(b for _, b in inside) if out > 0 else min(a for a, _ in inside)
        if last is not None and (at is None or (at - last) * out < sizes.smallest):
            return _ended(run, last + out * limit, out), legs, []
        if at is None:
            return run, [], []
        run = _ended(run, at + out * limit, out)
    leg = Leg(at, stop)
    return run, [leg, *legs] if out < 0 else [*legs, leg], []


def _ended(run: Run, at: float, out: int) -> Run:
    return replace(run, lo=at, lo_stop=BETWEEN) if out < 0 else replace(run, hi=at, hi_stop=BETWEEN)


def _clip(free: Sequence[Interval], one: float, other: float) -> list[Interval]:
    lo, hi = min(one, other), max(one, other)
    return [(max(a, lo), min(b, hi)) for a, b in free if min(b, hi) >= max(a, lo)]


def _spot(free: Sequence[Interval], wet: Sequence[Interval], wanted: float) -> float | None:
    """The place nearest to the wanted one, clear of services where there is such a place."""
    dry = [gap for a, b in free for gap in gaps_between(wet, a, b)]
    return nearest_in(dry or free, wanted)


def _spans(run: Run, legs: list[Leg], places: Callable[[], Room], module: float) -> list[Carried]:
    """Legs between where two stand farther apart than a module; the rail is split where there is no place for one."""
    done: list[Carried] = []
    here = [legs[0]]
    start = run
    for leg in legs[1:]:
        between = _fill(here[-1].at, leg.at, places, module)
        if between is None:
            done.append(Carried(_ended(start, here[-1].at, 1), tuple(here)))
            start, here = _ended(run, leg.at, -1), [leg]
            continue
        here += [Leg(t, BETWEEN) for t in between]
        here.append(leg)
    done.append(Carried(start, tuple(here)))
    return done


def _fill(a: float, b: float, places: Callable[[], Room], module: float) -> list[float] | None:
    """Legs between a and b so that no span is over a module; evenly where the floor allows; None where it cannot be."""
    count = math.ceil((b - a) / module - SAME_MM) - 1
    if count <= 0:
        return []
    room = _clip(places().own, a, b)
    even = [_spot(room, places().wet, a + (b - a) * k / (count + 1)) for k in range(1, count + 1)]
    found = [t for t in even if t is not None]
    if len(found) == count and _spans_fit([a, *found, b], module):
        return found
    at, found = a, []
    while b - at > module + SAME_MM:
        reach = _clip(room, at + SAME_MM, at + module)
        if not reach:
            return None
        at = max(hi for _, hi in reach)
        found.append(at)
    return found


def _spans_fit(places: Sequence[float], module: float) -> bool:
    return all(SAME_MM < q - p <= module + SAME_MM for p, q in itertools.pairwise(places))


def crossings_of(track: Track, others: np.ndarray) -> list[list[float]]:
    """For each run of a track where rails of the other direction (rows of `runs_of`) meet it, in order along it."""
    met = those_over(others, track.at)
    return [[at for at in met if run.lo - SAME_MM <= at <= run.hi + SAME_MM] for run in track.runs]
