"""Which bays lie beside each other, and which lie along a wall, a door or a channel."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from packgen.core.plane import Polygon, Segment

TOUCH_MM = 0.01
PARALLEL = 2e-3  # edges turned by less than this, radians, run alongside


@dataclass(frozen=True, slots=True)
class Beside:
    """Two bays (by index, first < second) that share an edge: its length in all, and its longest straight part."""

    first: int
    second: int
    shared_mm: float
    edge: Segment


@dataclass(frozen=True, eq=False)
class _Edges:
    """Edges of bays as arrays: whose, from, to."""

    bay: np.ndarray
    a: np.ndarray
    b: np.ndarray


class _Edge(NamedTuple):
    """One edge of a bay on its line: position across the line, from and to along it, which way it is walked."""

    bay: int
    across: float
    start: float
    end: float
    forward: bool


def beside(shapes: Sequence[Polygon], open_mm: float) -> tuple[Beside, ...]:
    """Pairs of bays that share an edge, a gap of up to `open_mm` (a joint) between them.

    A shared edge is walked one way by one bay and the other way by the other. O(edges x log edges).
    """
    found: dict[tuple[int, int], list[tuple[float, float, float, float]]] = {}
    for angle, edges in _by_direction(shapes):
        for line in _by_line(edges, open_mm):
            for a, b, start, end in _facing(line):
                key = (min(a.bay, b.bay), max(a.bay, b.bay))
                found.setdefault(key, []).append((angle, (a.across + b.across) / 2, start, end))
    out = []
    for (first, second), parts in sorted(found.items()):
        longest = max(_followed(parts), key=lambda p: p[3] - p[2])
        out.append(Beside(first, second, sum(p[3] - p[2] for p in parts), _segment(*longest)))
    return tuple(out)


def _followed(parts: list[tuple[float, float, float, float]]) -> list[tuple[float, float, float, float]]:
    """Parts (angle, across, from, to) that go on from one another, put together."""
    out: list[tuple[float, float, float, float]] = []
    for angle, across, start, end in sorted(parts):
        last = out[-1] if out else None
        if last and last[0] == angle and abs(last[1] - across) < TOUCH_MM and abs(last[3] - start) < TOUCH_MM:
            out[-1] = (angle, last[1], last[2], end)
        else:
            out.append((angle, across, start, end))
    return out


def _by_direction(shapes: Sequence[Polygon]) -> Iterator[tuple[float, list[_Edge]]]:
    """All edges in groups of one direction, the direction as an angle in [0, pi), each ranked across the direction."""
    edges = _edges(shapes)
    dx, dy = (edges.b - edges.a).T
    slots = np.rint(np.arctan2(dy, dx) % math.pi / PARALLEL).astype(int) % round(math.pi / PARALLEL)
    ranked = np.argsort(slots, kind="stable")
    for group in np.split(ranked, np.flatnonzero(np.diff(slots[ranked])) + 1):
        angle = float(slots[group[0]] * PARALLEL) if len(group) else 0.0
        if abs(angle - math.pi / 2) < PARALLEL:
            angle = math.pi / 2
        ux, uy = math.cos(angle), math.sin(angle)
        (ax, ay), (bx, by), bay = edges.a[group].T, edges.b[group].T, edges.bay[group]
        s, t = ax * ux + ay * uy, bx * ux + by * uy
        across = ((ay + by) * ux - (ax + bx) * uy) / 2
        start = np.minimum(s, t)
        columns = (bay, across, start, np.maximum(s, t), t > s)
        order = np.lexsort((bay, start, across))
        yield angle, list(map(_Edge, *(c[order].tolist() for c in columns)))


def _by_line(ranked: list[_Edge], open_mm: float) -> Iterator[list[_Edge]]:
    """Edges of one direction in groups that lie on one line or no farther apart than `open_mm` from the next."""
    group = ranked[:1]
    for edge in ranked[1:]:
        if edge.across - group[-1].across > open_mm:
            yield group
            group = []
        group.append(edge)
    if group:
        yield group


def _facing(line: list[_Edge]) -> Iterator[tuple[_Edge, _Edge, float, float]]:
    """Pairs of edges of different bays that overlap and are walked opposite ways, with the overlap."""
    active: list[_Edge] = []
    for edge in sorted(line, key=lambda e: (e.start, e.end, e.bay)):
        active = [a for a in active if a.end > edge.start]
        for a in active:
            if a.bay != edge.bay and a.forward != edge.forward and a.end - edge.start > 0:
                yield a, edge, edge.start, min(a.end, edge.end)
        active.append(edge)


def _segment(angle: float, across: float, start: float, end: float) -> Segment:
    ux, uy = round(math.cos(angle), 12), round(math.sin(angle), 12)
    return Segment(
        (start * ux - across * uy + 0.0, start * uy + across * ux + 0.0),
        (end * ux - across * uy + 0.0, end * uy + across * ux + 0.0),
    )


def along(shapes: Sequence[Polygon], lines: Iterable[Segment], within_mm: float, least_mm: float) -> tuple[int, ...]:
    """Bays with an edge along one of some straight lines, within `within_mm` of it and over `least_mm` or more."""
    edges = _edges(shapes)
    found = {i for line in lines if line.length_mm for i in _along(edges, line, within_mm, least_mm)}
    return tuple(sorted(found))


def _along(edges: _Edges, line: Segment, within_mm: float, least_mm: float) -> list[int]:
    ux, uy = (line.b[0] - line.a[0]) / line.length_mm, (line.b[1] - line.a[1]) / line.length_mm
    s, t = (p - np.array(line.a) for p in (edges.a, edges.b))
    from_a, to_b = s @ np.array((ux, uy)), t @ np.array((ux, uy))
    off_a, off_b = s @ np.array((-uy, ux)), t @ np.array((-uy, ux))
    overlap = np.minimum(np.maximum(from_a, to_b), line.length_mm) - np.maximum(np.minimum(from_a, to_b), 0.0)
    near = np.maximum(abs(off_a), abs(off_b)) <= within_mm
    bays: list[int] = edges.bay[near & (overlap >= least_mm)].tolist()
    return bays


def _edges(shapes: Sequence[Polygon]) -> _Edges:
    rings = [(i, ring) for i, polygon in enumerate(shapes) for ring in (polygon.shell, *polygon.holes)]
    counts = np.array([len(ring) for _, ring in rings], dtype=int)
    at = np.array([c for _, ring in rings for c in ring], dtype=float).reshape(-1, 2)
    after = np.arange(1, len(at) + 1)
    after[np.cumsum(counts) - 1] = np.cumsum(counts) - counts
    return _Edges(np.repeat(np.array([i for i, _ in rings], dtype=int), counts), at, at[after])
