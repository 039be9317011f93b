"""The base of a version: the project's own, tilted and scattered within bounds, with the legs that are to be kept.

A leg is lengthened where its spot is let down. Spots that keep a condition ("one leg below the shortest") are made a
hump or a hollow whose neighbours go part of the way with them, as a real floor does.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.plane import Polygon, contains
from packgen.core.plane import bounds as bounds_of
from packgen.exercise.model import NotPossible
from packgen.exercise.settings import Kept
from packgen.heights.kit_range import KitRange, choose_parts
from packgen.heights.model import LegSetting
from packgen.plan import Plan
from packgen.trade.grid_rules import value

REDRAWS = 8  # tilts and scatters drawn before a seed is given up
BATCHES, BATCH = 4, 150  # tries of each, in batches: the first that fits is taken
NEIGHBOURS = 4  # further spots of a hollow are drawn from so many nearest to its first
NEAR, FAR = (1.25, 0.6), (2.3, 0.3)  # so many modules away a neighbour goes so much of the way
APART = 2.5  # modules between a hump and a hollow
SIDES = ("below", "above", "extended", "packed")


@dataclass(frozen=True)
class Ground:
    """What stays of the project: corrected levels and places of its spots; where a leg stands on a spot, that leg."""

    levels_mm: Mapping[str, int]
    at: Mapping[str, tuple[float, float]]
    legs: Mapping[str, LegSetting]
    once: frozenset[str]
    pours: tuple[frozenset[str], ...]  # spots that lie in the bays of each pour of the project
    module_mm: float
    kit: KitRange


def ground_of(plan: Plan, levels_mm: Mapping[str, int], kit: KitRange, same_spot_mm: float) -> Ground:
    points = {p.id: (p.x_mm, p.y_mm) for p in plan.survey.levels.points}
    nodes = {n.id: n.at for n in plan.layout.nodes}
    legs: dict[str, LegSetting] = {}
    for leg in plan.heights.legs:
        near = min(points, key=lambda p: math.dist(points[p], nodes[leg.node]), default=None)
        if near is not None and math.dist(points[near], nodes[leg.node]) <= same_spot_mm:
            legs.setdefault(near, leg)
    once = frozenset(p.id for p in plan.survey.levels.points if len(p.seen) == 1)
    return Ground(levels_mm, points, legs, once, _pours(plan, points), plan.project.kit.module, kit)


def _pours(plan: Plan, points: Mapping[str, tuple[float, float]]) -> tuple[frozenset[str], ...]:
    """Spots in or at the edge of the bays of each pour."""
    bays = {b.name: (bounds_of(b.shape), b.shape) for b in plan.layout.bays}
    out = []
    for pour in plan.sequence.pours:
        mine = [bays[name] for name in pour.bays if name in bays]
        out.append(frozenset(spot for spot, at in points.items() if any(_in(box, shape, at) for box, shape in mine)))
    return tuple(out)


def _in(box: tuple[float, float, float, float], shape: Polygon, at: tuple[float, float]) -> bool:
    x0, y0, x1, y1 = box
    return x0 - 1 <= at[0] <= x1 + 1 and y0 - 1 <= at[1] <= y1 + 1 and contains(shape, at, 1.0)


def side_of(kit: KitRange, leg_mm: float) -> str:
    """What a leg of this length is: "plain", "extended", "packed", or out of range "below" or "above"."""
    choice = choose_parts(leg_mm, kit)
    if choice.parts == "does not fit":
        return "below" if leg_mm < kit.shortest else "above"
    return {"plain": "plain", "extension": "extended", "packing": "packed"}[choice.parts]


def shaped(
    ground: Ground, up_mm: float, kept: Kept, bounds: Mapping[str, float], chance: random.Random
) -> dict[str, int]:
    """New corrected levels. `up_mm`: how much the rail tops have risen against the project; the base goes with them.

    ValueError where this chance finds no base within the bounds; NotPossible where none can be.
    """
    tops = {spot: leg.rail_top_mm + up_mm for spot, leg in ground.legs.items()}
    wanted = {side: n for side in SIDES if (n := getattr(kept, side)) is not None}
    if not any(wanted.values()):
        return _rounded(
            _lowered(ground, _bumped(ground, up_mm, bounds, chance), tops, bounds["base_level"] / 2, chance)
        )
    lengths = _lengths(ground.kit, wanted, bounds)
    clear = max(bounds["clear_of_ends"], value("in_hand"))
    plain_mm = (ground.kit.shortest + clear, ground.kit.ranges[0][2] - clear)
    for _ in range(REDRAWS):
        loose = _bumped(ground, up_mm, bounds, chance)
        found = _kept(_grid(ground, loose, tops), lengths, plain_mm, bounds, chance)
        if found is not None:
            step, legs = found
            out = {spot: mm - step for spot, mm in loose.items()}
            return _rounded(out | {s: tops[s] - float(n) for s, n in legs.items()})
    told = " and ".join(f"{n} {side}" for side, n in wanted.items() if n)
    raise ValueError(
        f"no base within the bounds gives {told} legs with all others from {plain_mm[0]:g} to {plain_mm[1]:g}, "
        f"no spot moved by more than {bounds['planted']:g}"
    )


def _bumped(ground: Ground, up_mm: float, bounds: Mapping[str, float], chance: random.Random) -> dict[str, float]:
    """The project's levels, gone up with the rail tops, tilted and scattered."""
    return {spot: ground.levels_mm[spot] + up_mm + bump for spot, bump in _bumps(ground, bounds, chance).items()}


def _kept(
    grid: _Grid,
    lengths: Sequence[tuple[str, list[int]]],
    plain_mm: tuple[float, float],
    bounds: Mapping[str, float],
    chance: random.Random,
) -> tuple[float, dict[str, float]] | None:
    """How much the base is let down, and every leg then by its spot; None where no try fits."""
    low, high = plain_mm
    steps = [
        step
        for step in _whole_steps(bounds["base_level"])
        if np.count_nonzero((grid.legs_mm + step < low) | (grid.legs_mm + step > high)) <= len(lengths)
    ]
    for _ in range(BATCHES if steps else 0):
        drawn = _drawn(grid, lengths, steps, chance)
        found = _first_fitting(grid, drawn, plain_mm, bounds["planted"], bounds["extremes_apart"])
        if found is not None:
            return found[0], {s: float(n) for s, n in zip(grid.spots, found[1], strict=True)}
    return None


def _whole_steps(most_mm: float) -> range:
    return range(-int(most_mm), int(most_mm) + 1)


def _rounded(levels: Mapping[str, float]) -> dict[str, int]:
    return {spot: round(mm) for spot, mm in levels.items()}


def _bumps(ground: Ground, bounds: Mapping[str, float], chance: random.Random) -> dict[str, float]:
    """A tilt and a scatter for every spot, together within the bound; change points move by the scatter alone."""
    tilt = min(bounds["spread_step"], bounds["bumps"] / 2)
    scatter = int(min(bounds["scatter"], bounds["bumps"] - 2 * tilt))
    along, across = chance.uniform(-tilt, tilt), chance.uniform(-tilt, tilt)
    xs = [p[0] for p in ground.at.values()] or [0.0]
    ys = [p[1] for p in ground.at.values()] or [0.0]
    wide, deep = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
    out = {}
    for spot in ground.levels_mm:
        x, y = ground.at.get(spot, (min(xs), min(ys)))
        slope = along * (2 * (x - min(xs)) / wide - 1) + across * (2 * (y - min(ys)) / deep - 1)
        out[spot] = round(slope) + float(chance.randint(-scatter, scatter))
    return out


def _lowered(
    ground: Ground, loose: Mapping[str, float], tops: Mapping[str, float], most_mm: float, chance: random.Random
) -> dict[str, float]:
    """The whole base let down or lifted by chance, by `most_mm` at most, as far as every leg stays on the side it is
    on in the project, and where it can be no leg becomes shorter than the project's shortest: depth and cover are
    judged by that one."""
    if not tops:
        return dict(loose)
    before = [leg.leg_mm for leg in ground.legs.values()]
    counts = Counter(side_of(ground.kit, n) for n in before)
    steps = list(_whole_steps(most_mm))
    chance.shuffle(steps)
    fitting = []
    for step in steps:
        now = [tops[s] - (loose[s] - step) for s in tops]
        if Counter(side_of(ground.kit, n) for n in now) == counts:
            fitting.append((min(now) < min(before), step))
    best = next((s for shorter, s in fitting if not shorter), fitting[0][1] if fitting else 0)
    return {spot: mm - best for spot, mm in loose.items()}


# ------------------------------------------------------------------------------------ what is kept


def _lengths(kit: KitRange, wanted: Mapping[str, int], bounds: Mapping[str, float]) -> list[tuple[str, list[int]]]:
    """For every leg to be kept its side and the lengths that are on that side and not far from the plain range."""
    short, far = int(bounds["short_most"]), int(bounds["bumps"])
    near = {
        "below": (kit.shortest - short, kit.shortest),
        "above": (kit.longest, kit.longest + far),
        "extended": (kit.ranges[0][2], kit.ranges[0][2] + int(bounds["planted"])),
        "packed": (kit.ranges[0][2], kit.longest),
    }
    out = []
    for side, count in wanted.items():
        low, high = near[side]
        clear = kit.ranges[0][2] if side == "extended" else -1.0  # a leg that no plain one could be
        fitting = [n for n in range(int(low), int(high) + 1) if side_of(kit, n) == side and n > clear]
        if count and not fitting:
            raise NotPossible(f"exercise: with this kit no leg is ever {side}: keep something else", "keep")
        out += [(side, fitting)] * count
    return out


@dataclass(frozen=True)
class _Grid:
    """The spots under legs as arrays: leg lengths before anything is planted, who pulls whom and how far, who is far
    enough from whom, and which spots may be planted."""

    spots: tuple[str, ...]
    legs_mm: np.ndarray
    pull: np.ndarray  # pull[i, j]: how much of what is planted at j spot i goes with
    far: np.ndarray
    free: np.ndarray
    pours: tuple[np.ndarray, ...]  # places of the spots of each pour


def _grid(ground: Ground, loose: Mapping[str, float], tops: Mapping[str, float]) -> _Grid:
    spots = tuple(sorted(tops))
    at = np.array([ground.at[s] for s in spots], dtype=float).reshape(-1, 2)
    away = np.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1)) / ground.module_mm
    pull = np.where(away <= NEAR[0], NEAR[1], np.where(away <= FAR[0], FAR[1], 0.0))
    np.fill_diagonal(pull, 1.0)
    legs = np.array([tops[s] - loose[s] for s in spots])
    pours = tuple(np.array([i for i, s in enumerate(spots) if s in pour], dtype=int) for pour in ground.pours)
    return _Grid(spots, legs, pull, away >= APART, np.array([s in ground.once for s in spots]), pours)


@dataclass(frozen=True)
class _Drawn:
    """Tries drawn by chance: how much the base is let down, which spots are planted and to which lengths of leg."""

    steps: np.ndarray  # (tries,)
    spots: np.ndarray  # (tries, planted)
    lengths: np.ndarray  # (tries, planted)
    lows: int  # how many of the planted are humps; they stand first


def _drawn(
    grid: _Grid, lengths: Sequence[tuple[str, list[int]]], steps: Sequence[int], chance: random.Random
) -> _Drawn:
    """A batch of tries. Further spots of a hump or a hollow are drawn from the nearest to its first."""
    free = [int(i) for i in np.flatnonzero(grid.free)]
    near = {i: sorted((j for j in free if j != i), key=lambda j: (-grid.pull[j, i], j))[:NEIGHBOURS] for i in free}
    ordered = [f for side, f in lengths if side == "below"] + [f for side, f in lengths if side != "below"]
    lows = sum(side == "below" for side, _ in lengths)
    spots, wanted, downs = [], [], []
    for _ in range(BATCH if len(free) > len(ordered) else 0):
        downs.append(chance.choice(steps))
        row: list[int] = []
        for k in range(len(ordered)):
            first = k in (0, lows)
            row.append(chance.choice(free) if first else chance.choice(near[row[0 if k < lows else lows]]))
        spots.append(row)
        wanted.append([chance.choice(fitting) for fitting in ordered])
    shape = (len(downs), len(ordered))
    return _Drawn(
        np.array(downs, dtype=float),
        np.array(spots, dtype=int).reshape(shape),
        np.array(wanted, dtype=float).reshape(shape),
        lows,
    )


def _first_fitting(
    grid: _Grid, drawn: _Drawn, plain_mm: tuple[float, float], most_mm: float, apart_mm: float
) -> tuple[float, np.ndarray] | None:
    """The first try in which every other leg stays plain: how much the base is let down, and all legs then.

    No spot goes further than `most_mm`, a hump and a hollow stand apart, and the middle of the extremes keeps
    `apart_mm` from the mean of every pour, so that one cannot be taken for the other.
    """
    tries, planted = drawn.spots.shape
    if tries == 0:
        return None
    rows = np.arange(tries)[:, None]
    legs = grid.legs_mm[None, :] + drawn.steps[:, None]
    moves = drawn.lengths - legs[rows, drawn.spots]
    good = np.all(np.abs(moves) <= most_mm, axis=1) & np.all((moves > 0) == (drawn.lengths > plain_mm[1]), axis=1)
    for k in range(planted):
        for other in range(k):
            same = drawn.spots[:, k] == drawn.spots[:, other]
            apart = grid.far[drawn.spots[:, k], drawn.spots[:, other]]
            good &= ~same & (apart | ((k < drawn.lows) == (other < drawn.lows)))
    pulls = np.round(grid.pull[:, drawn.spots].transpose(1, 0, 2) * moves[:, None, :])
    now = legs + np.maximum(pulls.max(axis=2), 0.0) + np.minimum(pulls.min(axis=2), 0.0)
    now[rows, drawn.spots] = drawn.lengths
    plain = (now >= plain_mm[0]) & (now <= plain_mm[1])
    plain[rows, drawn.spots] = True
    middle = (now.max(axis=1) + now.min(axis=1)) / 2
    good &= plain.all(axis=1)
    for pour in grid.pours:
        if len(pour):
            good &= np.abs(middle - now[:, pour].mean(axis=1)) >= apart_mm
    hits = np.flatnonzero(good)
    return (float(drawn.steps[hits[0]]), now[hits[0]]) if len(hits) else None
