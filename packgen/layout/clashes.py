"""Feet and rails against services: feet too near, how far to move them, rails that pass over."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

import numpy as np

from packgen.core.nearest import pairs_within
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


def rails_by_node(rails: Sequence[Rail]) -> dict[str, list[Rail]]:
    """The rails that each leg carries, by its name."""
    found: dict[str, list[Rail]] = {}
    for rail in rails:
        for name in rail.nodes:
            found.setdefault(name, []).append(rail)
    return found


def foot_clashes(
    nodes: Sequence[Node],
    pipes: Sequence[PipeRun],
    rails: Sequence[Rail],
    grounds: Mapping[str, Ground],
    kinds: Mapping[str, Kind],
    near: float,
    most: float,
    saddled: Collection[str] = (),
) -> tuple[FootClash, ...]:
    """Feet on a service or nearer to it than `near`, each with the least move along a rail (up to `most`) that frees
    it from all services. saddled: services over which feet stand on a saddle."""
    if not nodes:
        return ()
    rail_at = rails_by_node(rails)
    half = max(ground.foot for ground in grounds.values()) / 2
    apart = _near([n.at for n in nodes], pipes, lambda pipe: half + pipe.outside_mm / 2 + near)
    free: dict[str, list[Interval]] = {}
    out = []
    for pipe, close in zip(pipes, apart, strict=True):
        for i, distance in close.items():
            node = nodes[i]
            reach = grounds[node.room].foot / 2 + pipe.outside_mm / 2
            if distance >= reach + near - SAME_MM:
                continue
            moves = []
            for rail in rail_at.get(node.id, []):
                if rail.id not in free:
                    free[rail.id] = free_places(rail, grounds[node.room], kinds[rail.line], near)
                side = 1 if kinds[rail.line] == "lettered" else 0
                moves += _move(free[rail.id], node.at[side], most)
            least = min(moves, default=None)
            gap, saddle = distance - reach, pipe.name in saddled
            out.append(FootClash(node.id, pipe.name, distance, reach, gap, least, saddle))
    return tuple(out)


def near_services(
    nodes: Sequence[Node], pipes: Sequence[PipeRun], grounds: Mapping[str, Ground], near: float
) -> list[Node]:
    """The nodes whose feet stand on a service or nearer to one than `near`, in order."""
    if not nodes:
        return []
    half = max(ground.foot for ground in grounds.values()) / 2
    apart = _near([n.at for n in nodes], pipes, lambda pipe: half + pipe.outside_mm / 2 + near)
    hit = {
        i
        for pipe, close in zip(pipes, apart, strict=True)
        for i, distance in close.items()
        if distance < grounds[nodes[i].room].foot / 2 + pipe.outside_mm / 2 + near - SAME_MM
    }
    return [nodes[i] for i in sorted(hit)]


def _near(
    spots: Sequence[Point], pipes: Sequence[PipeRun], extra: Callable[[PipeRun], float]
) -> list[dict[int, float]]:
    """For each service the spots (by index, in order) nearer to it than `extra`, with the least distance."""
    stretches = [(k, s) for k, pipe in enumerate(pipes) for s in _stretches(pipe)]
    reach = [extra(pipes[k]) for k, _ in stretches]
    found: list[dict[int, float]] = [{} for _ in pipes]
    for spot, piece, far in pairs_within(spots, [s for _, s in stretches], reach).tolist():
        mine = found[stretches[int(piece)][0]]
        mine[int(spot)] = min(far, mine.get(int(spot), far))
    return [dict(sorted(near.items())) for near in found]


def to_stretch(x: np.ndarray, y: np.ndarray, ax: float, ay: float, bx: float, by: float) -> np.ndarray:
    """Distances from places to a straight stretch; x and y may be a column and a row, for a table of distances."""
    span = (bx - ax) ** 2 + (by - ay) ** 2
    t = np.zeros(np.broadcast(x, y).shape) if span == 0 else ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / span
    t = np.clip(t, 0.0, 1.0)
    return np.asarray(np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)))


def free_places(rail: Rail, ground: Ground, kind: Kind, near: float) -> list[Interval]:
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
    close = _near(spots, pipes, lambda pipe: (foot_mm + pipe.outside_mm) / 2 - SAME_MM)
    return len({spot for near in close for spot in near})


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
