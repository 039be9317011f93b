"""The edge between filled and open floor while the order goes on: what has to be closed where a day ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.beside import Beside
from packgen.core.nearest import box_pairs
from packgen.core.plane import Segment
from packgen.layout.model import Layout
from packgen.trade.amounts import amount

ON_LINE_MM = 30.0  # an edge this close to a line or a joint runs along it


@dataclass(frozen=True, eq=False)
class Fronts:
    """Shared edges by place in the order (from 0).

    later     weight of a bay's edges to bays filled after it
    back      for each bay the places filled before it that it lies beside, with the weights
    """

    later: np.ndarray
    back: tuple[tuple[tuple[int, float], ...], ...]

    def of_day(self, first: int, end: int) -> np.ndarray:
        """Weight of the edges to be closed after each bay of a day that fills places first ... end - 1."""
        out, now = np.zeros(end - first), 0.0
        for k in range(first, end):
            now += float(self.later[k]) - sum(w for place, w in self.back[k] if place >= first)
            out[k - first] = now
        return out


def fronts_of(order: Sequence[int], links: Sequence[Beside], weights: Sequence[float]) -> Fronts:
    """The edges of an order of bays."""
    place = {bay: k for k, bay in enumerate(order)}
    later = np.zeros(len(order))
    back: list[list[tuple[int, float]]] = [[] for _ in order]
    for link, weight in zip(links, weights, strict=True):
        before, after = sorted((place[link.first], place[link.second]))
        later[before] += weight
        back[after].append((before, weight))
    return Fronts(later, tuple(tuple(sorted(b)) for b in back))


def stop_weights(links: Sequence[Beside], layout: Layout) -> list[float]:
    """What a stop line over each shared edge costs: its length, longer over heating pipes unless it is their joint."""
    if not links:
        return []
    lengths = np.array([link.shared_mm for link in links])
    stretches = [s for run in layout.services if run.heating for s in run.stretches]
    if not stretches:
        return [float(v) for v in lengths]
    edges = np.array([(*link.edge.a, *link.edge.b) for link in links])
    at_joint = np.zeros(len(links), dtype=bool)
    for joint in layout.joints:
        at_joint |= _all_along(edges, joint.line)
    pipes = np.array([(*s.a, *s.b) for s in stretches])
    edge, pipe = box_pairs(edges, pipes)
    over = np.bincount(edge, weights=_crosses(edges[edge], pipes[pipe]), minlength=len(links))
    return [float(v) for v in lengths + np.where(at_joint, 0.0, over * amount("stop_over_pipe"))]


def runs_along(s: Segment, line: Segment) -> bool:
    """Whether both ends of a piece lie on a straight line, however long."""
    d = line.length_mm
    if d == 0:
        return False
    ux, uy = (line.b[0] - line.a[0]) / d, (line.b[1] - line.a[1]) / d
    return all(abs((p[1] - line.a[1]) * ux - (p[0] - line.a[0]) * uy) <= ON_LINE_MM for p in (s.a, s.b))


def _all_along(edges: np.ndarray, line: Segment) -> np.ndarray:
    """`runs_along` for edges in rows (ax, ay, bx, by)."""
    d = line.length_mm
    if d == 0:
        return np.zeros(len(edges), dtype=bool)
    ux, uy = (line.b[0] - line.a[0]) / d, (line.b[1] - line.a[1]) / d
    away = [abs((edges[:, k + 1] - line.a[1]) * ux - (edges[:, k] - line.a[0]) * uy) <= ON_LINE_MM for k in (0, 2)]
    both: np.ndarray = away[0] & away[1]
    return both


def _crosses(edges: np.ndarray, pieces: np.ndarray) -> np.ndarray:
    """Whether the edge and the piece of each row (ax, ay, bx, by) cross."""
    px, py, qx, qy = pieces.T
    ax, ay, bx, by = edges.T
    p_side = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
    q_side = (bx - ax) * (qy - ay) - (by - ay) * (qx - ax)
    a_side = (qx - px) * (ay - py) - (qy - py) * (ax - px)
    b_side = (qx - px) * (by - py) - (qy - py) * (bx - px)
    crossed: np.ndarray = (p_side * q_side < 0) & (a_side * b_side < 0)
    return crossed
