"""Feet and rails against services: feet too near, how far to move them, rails that pass over."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from packgen.core.plane import Point, Segment
from packgen.layout.ground import (
    SAME_MM,
    Ground,
    Interval,
    Kind,
    foot_places,
    gaps_between,
    nearest_in,
    pipe_intervals,
)
from packgen.layout.model import Crossing, FootClash, Node, PipeRun, Rail


def axes(pipes: Iterable[PipeRun]) -> list[tuple[Segment, float]]:
    """Every straight stretch with half its outside diameter; a spot counts as a stretch without length."""
    return [(s, pipe.outside_mm / 2) for pipe in pipes for s in _stretches(pipe)]


def _stretches(pipe: PipeRun) -> list[Segment]:
    return [*pipe.stretches] if pipe.at is None else [*pipe.stretches, Segment(pipe.at, pipe.at)]


def foot_clashes(
    nodes: Sequence[Node],
    pipes: Sequence[PipeRun],
    rails: Sequence[Rail],
    grounds: dict[str, Ground],
    kinds: dict[str, Kind],
    near: float,
    most: float,
) -> tuple[FootClash, ...]:
    """Feet on a service or nearer to it than `near`, each with the least move along a rail (up to `most`) that frees
    it from all services."""
    if not nodes:
        return ()
    rail_at: dict[str, list[Rail]] = {}
    for rail in rails:
        for name in rail.nodes:
            rail_at.setdefault(name, []).append(rail)
    spots = np.array([n.at for n in nodes])
    half = np.array([grounds[n.room].foot / 2 for n in nodes])
    free: dict[str, list[Interval]] = {}
    out = []
    for pipe in pipes:
        apart = _distances(spots, _stretches(pipe), float(half.max()) + pipe.outside_mm / 2 + near)
        for i in np.nonzero(apart < half + pipe.outside_mm / 2 + near - SAME_MM)[0]:
            node, distance, reach = nodes[int(i)], float(apart[i]), float(half[i]) + pipe.outside_mm / 2
            moves = []
            for rail in rail_at.get(node.id, []):
                if rail.id not in free:
                    free[rail.id] = _free_places(rail, grounds[node.room], kinds[rail.line], near)
                side = 1 if kinds[rail.line] == "lettered" else 0
                moves += _move(free[rail.id], node.at[side], most)
            out.append(FootClash(node.id, pipe.name, distance, reach, distance - reach, min(moves, default=None)))
    return tuple(out)


def _distances(spots: np.ndarray, stretches: Sequence[Segment], within: float) -> np.ndarray:
    """From each spot to the nearest stretch, where one is within so much; else infinite."""
    least = np.full(len(spots), np.inf)
    for s in stretches:
        x0, x1 = min(s.a[0], s.b[0]) - within, max(s.a[0], s.b[0]) + within
        y0, y1 = min(s.a[1], s.b[1]) - within, max(s.a[1], s.b[1]) + within
        inside = (spots[:, 0] > x0) & (spots[:, 0] < x1) & (spots[:, 1] > y0) & (spots[:, 1] < y1)
        i = np.nonzero(inside)[0]
        if len(i):
            least[i] = np.minimum(least[i], to_stretch(spots[i, 0], spots[i, 1], *s.a, *s.b))
    return least


def to_stretch(x: np.ndarray, y: np.ndarray, ax: float, ay: float, bx: float, by: float) -> np.ndarray:
    """Distances from places to a straight stretch; x and y may be a column and a row, for a table of distances."""
    span = (bx - ax) ** 2 + (by - ay) ** 2
    t = np.zeros(np.broadcast(x, y).shape) if span == 0 else ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / span
    t = np.clip(t, 0.0, 1.0)
    return np.asarray(np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)))


def _free_places(rail: Rail, ground: Ground, kind: Kind, near: float) -> list[Interval]:
    """Where along a rail a foot stands on the floor and clear of all services."""
    side = 1 if kind == "lettered" else 0
    taken = pipe_intervals(ground, kind, rail.start[1 - side], near)
    places = foot_places(ground, kind, rail.start[1 - side], rail.start[side], rail.end[side])
    return [gap for a, b in places for gap in gaps_between(taken, a, b)]


def _move(free: Sequence[Interval], here: float, most: float) -> list[float]:
    to = nearest_in([(a, b) for a, b in free if b >= here - most and a <= here + most], here)
    return [] if to is None or abs(to - here) > most else [abs(to - here)]


def feet_on(spots: Sequence[Point], pipes: Sequence[PipeRun], foot_mm: float) -> int:
    """How many feet at these spots would stand on a service."""
    if not spots:
        return 0
    at = np.array(spots)
    on = np.zeros(len(at), dtype=bool)
    for pipe in pipes:
        reach = (foot_mm + pipe.outside_mm) / 2
        on |= _distances(at, _stretches(pipe), reach) < reach - SAME_MM
    return int(on.sum())


def rails_over(rails: Sequence[Rail], pipes: Sequence[PipeRun]) -> tuple[Crossing, ...]:
    """Where the middle of a rail passes over a service, in the order of the rails and along each.

    Rails stand upright or level on the plan, so a crossing is found along one coordinate.
    """
    names = [pipe.name for pipe in pipes for _ in pipe.stretches]
    rows = np.array([(*s.a, *s.b) for pipe in pipes for s in pipe.stretches], dtype=float).reshape(-1, 4)
    out = []
    for rail in rails:
        k = 0 if rail.start[0] == rail.end[0] else 1
        at, lo, hi = rail.start[k], rail.start[1 - k] - SAME_MM, rail.end[1 - k] + SAME_MM
        p, q = rows[:, k], rows[:, 2 + k]
        hit = np.nonzero((np.minimum(p, q) <= at) & (np.maximum(p, q) >= at) & (p != q))[0]
        along = rows[hit, 1 - k] + (at - p[hit]) / (q[hit] - p[hit]) * (rows[hit, 3 - k] - rows[hit, 1 - k])
        found = {(float(t), names[i]) for i, t in zip(hit, along, strict=True) if lo <= t <= hi}
        out += [Crossing(rail.id, name, (at, t) if k == 0 else (t, at)) for t, name in sorted(found)]
    return tuple(out)
