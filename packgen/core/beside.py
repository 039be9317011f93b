"""Which bays lie beside each other, and which lie along a wall, a door or a channel."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.plane import Polygon, Segment, pairs

TOUCH_MM = 0.01
PARALLEL = 2e-3  # edges turned by less than this, radians, run alongside


@dataclass(frozen=True, slots=True)
class Beside:
    """Two bays (by index, first < second) that share an edge: its length in all, and its longest straight part."""

    first: int
    second: int
    shared_mm: float
    edge: Segment


@dataclass(frozen=True, slots=True)
class _Edge:
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
    """All edges in groups of one direction, the direction as an angle in [0, pi)."""
    groups: dict[int, list[tuple[int, float, float, float, float]]] = {}
    for bay, polygon in enumerate(shapes):
        for ring in (polygon.shell, *polygon.holes):
            for (ax, ay), (bx, by) in pairs(ring):
                angle = math.atan2(by - ay, bx - ax) % math.pi
                slot = round(angle / PARALLEL) % round(math.pi / PARALLEL)
                groups.setdefault(slot, []).append((bay, ax, ay, bx, by))
    for slot in sorted(groups):
        angle = slot * PARALLEL
        if abs(angle - math.pi / 2) < PARALLEL:
            angle = math.pi / 2
        ux, uy = math.cos(angle), math.sin(angle)
        edges = []
        for bay, ax, ay, bx, by in groups[slot]:
            s, t = ax * ux + ay * uy, bx * ux + by * uy
            across = ((ay + by) * ux - (ax + bx) * uy) / 2
            edges.append(_Edge(bay, across, min(s, t), max(s, t), t > s))
        yield angle, edges


def _by_line(edges: list[_Edge], open_mm: float) -> Iterator[list[_Edge]]:
    """Edges of one direction in groups that lie on one line or no farther apart than `open_mm` from the next."""
    ranked = sorted(edges, key=lambda e: (e.across, e.start, e.bay))
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
    edges = _edge_arrays(shapes) if shapes else None
    found = {i for line in lines if edges and line.length_mm for i in _along(edges, line, within_mm, least_mm)}
    return tuple(sorted(found))


def _along(
    edges: tuple[np.ndarray, np.ndarray, np.ndarray], line: Segment, within_mm: float, least_mm: float
) -> list[int]:
    owner, a, b = edges
    ux, uy = (line.b[0] - line.a[0]) / line.length_mm, (line.b[1] - line.a[1]) / line.length_mm
    s, t = (p - np.array(line.a) for p in (a, b))
    from_a, to_b = s @ np.array((ux, uy)), t @ np.array((ux, uy))
    off_a, off_b = s @ np.array((-uy, ux)), t @ np.array((-uy, ux))
    overlap = np.minimum(np.maximum(from_a, to_b), line.length_mm) - np.maximum(np.minimum(from_a, to_b), 0.0)
    near = np.maximum(abs(off_a), abs(off_b)) <= within_mm
    bays: list[int] = owner[near & (overlap >= least_mm)].tolist()
    return bays


def _edge_arrays(shapes: Sequence[Polygon]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    rows = [
        (i, *p, *q) for i, polygon in enumerate(shapes) for r in (polygon.shell, *polygon.holes) for p, q in pairs(r)
    ]
    table = np.array(rows)
    return table[:, 0].astype(int), table[:, 1:3], table[:, 3:5]
