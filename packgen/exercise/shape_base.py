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

from packgen.exercise.model import NotPossible
from packgen.exercise.settings import Kept
from packgen.heights.kit_range import KitRange, choose_parts
from packgen.heights.model import LegSetting
from packgen.plan import Plan
from packgen.trade.grid_rules import value

TRIES = 800
NEAR, FAR = (1.25, 0.6), (2.3, 0.3)  # so many modules away a neighbour goes so much of the way
APART = 2.5  # modules between a hump and a hollow
REACH = 40  # mm by which the whole base may lie lower or higher against the rails than in the project
SIDES = ("below", "above", "extended", "packed")


@dataclass(frozen=True)
class Ground:
    """What stays of the project: corrected levels and places of its spots; where a leg stands on a spot, that leg."""

    levels_mm: Mapping[str, int]
    at: Mapping[str, tuple[float, float]]
    legs: Mapping[str, LegSetting]
    once: frozenset[str]
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
    return Ground(levels_mm, points, legs, once, plan.project.kit.module, kit)


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
    loose = {spot: ground.levels_mm[spot] + up_mm + bump for spot, bump in _bumps(ground, bounds, chance).items()}
    tops = {spot: leg.rail_top_mm + up_mm for spot, leg in ground.legs.items()}
    wanted = {side: n for side in SIDES if (n := getattr(kept, side)) is not None}
    if not any(wanted.values()):
        return _rounded(_lowered(ground, loose, tops, chance))
    lengths = _lengths(ground.kit, wanted, bounds)
    grid = _grid(ground, loose, tops)
    clear = max(bounds["clear_of_ends"], value("in_hand"))
    low, high = ground.kit.shortest + clear, ground.kit.ranges[0][2] - clear
    steps = [
        step
        for step in range(-REACH, REACH + 1)
        if np.count_nonzero((grid.legs_mm + step < low) | (grid.legs_mm + step > high)) <= len(lengths)
    ]
    for _ in range(TRIES if steps else 0):
        found = _planted(
            grid, chance.choice(steps), lengths, (low, high), bounds["planted"], bounds["extremes_apart"], chance
        )
        if found is not None:
            step, now = found
            out = {spot: mm - step for spot, mm in loose.items()}
            return _rounded(out | {s: tops[s] - float(n) for s, n in zip(grid.spots, now, strict=True)})
    told = " and ".join(f"{n} {side}" for side, n in wanted.items() if n)
    raise ValueError(
        f"no base within the bounds gives {told} legs with all others from {low:g} to {high:g}, "
        f"no spot moved by more than {bounds['planted']:g}"
    )


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
    ground: Ground, loose: Mapping[str, float], tops: Mapping[str, float], chance: random.Random
) -> dict[str, float]:
    """The whole base let down or lifted by chance, as far as every leg stays on the side it is on in the project, and
    where it can be no leg becomes shorter than the project's shortest: depth and cover are judged by that one."""
    if not tops:
        return dict(loose)
    before = [leg.leg_mm for leg in ground.legs.values()]
    counts = Counter(side_of(ground.kit, n) for n in before)
    steps = list(range(-REACH // 2, REACH // 2 + 1))
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
        fitting = [n for n in range(int(low), int(high) + 1) if side_of(kit, n) == side]
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


def _grid(ground: Ground, loose: Mapping[str, float], tops: Mapping[str, float]) -> _Grid:
    spots = tuple(sorted(tops))
    at = np.array([ground.at[s] for s in spots], dtype=float).reshape(-1, 2)
    away = np.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1)) / ground.module_mm
    pull = np.where(away <= NEAR[0], NEAR[1], np.where(away <= FAR[0], FAR[1], 0.0))
    np.fill_diagonal(pull, 1.0)
    legs = np.array([tops[s] - loose[s] for s in spots])
    return _Grid(spots, legs, pull, away >= APART, np.array([s in ground.once for s in spots]))


def _planted(
    grid: _Grid,
    step: int,
    lengths: Sequence[tuple[str, list[int]]],
    plain_mm: tuple[float, float],
    most_mm: float,
    apart_mm: float,
    chance: random.Random,
) -> tuple[int, np.ndarray] | None:
    """One try with the base let down by `step`: that, and the lengths of all legs then.

    None where another leg would leave the plain range, a spot would go further than `most_mm`, or the middle of the
    extremes would come within `apart_mm` of the mean, so that one could be taken for the other.
    """
    legs = grid.legs_mm + step
    picked: dict[int, int] = {}
    for below in (True, False):
        group = [fitting for side, fitting in lengths if (side == "below") == below]
        mine: list[int] = []
        for fitting in group:
            others = [p for p in picked if p not in mine]
            free = grid.free & np.all(grid.far[:, others], axis=1) if others else grid.free.copy()
            free[list(picked)] = False
            spots = np.flatnonzero(free)
            if mine:
                spots = spots[np.argsort(-grid.pull[spots, mine[0]], kind="stable")][:4]
            if len(spots) == 0:
                return None
            spot = int(chance.choice(list(spots)))
            picked[spot] = chance.choice(fitting)
            mine.append(spot)
    moves = {spot: length - legs[spot] for spot, length in picked.items()}
    if any(abs(m) > most_mm or (m > 0) != (picked[spot] > plain_mm[1]) for spot, m in moves.items()):
        return None
    now = _pulled(grid, legs, moves)
    rest = np.delete(now, list(picked))
    if not np.all((rest >= plain_mm[0]) & (rest <= plain_mm[1])):
        return None
    return (step, now) if abs((now.max() + now.min()) / 2 - now.mean()) >= apart_mm else None


def _pulled(grid: _Grid, legs: np.ndarray, moves: Mapping[int, float]) -> np.ndarray:
    """Legs with what is planted: each spot goes with the strongest pull up and the strongest pull down."""
    at = list(moves)
    pulls = np.round(grid.pull[:, at] * np.array([moves[i] for i in at]))
    now: np.ndarray = legs + np.maximum(pulls.max(axis=1), 0.0) + np.minimum(pulls.min(axis=1), 0.0)
    for i in at:
        now[i] = legs[i] + moves[i]
    return now
