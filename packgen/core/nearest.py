"""Which of many places is nearest to each of many others."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from packgen.core.plane import Point, Polygon, Segment, shapes


def nearest_of(known: Sequence[Point], at: Sequence[Point]) -> tuple[tuple[int, float], ...]:
    """For each place the nearest known one by its index, and how far it is, mm; of equal ones the first.

    Needs one known place at least.
    """
    if not at:
        return ()
    places, spots = np.asarray(known, dtype=float), np.asarray(at, dtype=float)
    spot, hit = shapely.STRtree(shapely.points(places)).query_nearest(shapely.points(spots), all_matches=True)
    found = np.full(len(at), len(known))
    np.minimum.at(found, spot, hit)
    step = places[found] - spots
    return tuple(zip(found.tolist(), np.hypot(step[:, 0], step[:, 1]).tolist(), strict=True))


def first_holding(
    groups: Sequence[Sequence[Polygon]], at: Sequence[Point], within_mm: float = 1e-6
) -> tuple[int | None, ...]:
    """For each place the first group of polygons in one of which it lies, or not farther than `within_mm` outside."""
    owner = np.array([k for k, group in enumerate(groups) for _ in group], dtype=int)
    if not at or not len(owner):
        return (None,) * len(at)
    tree = shapely.STRtree(shapes([p for group in groups for p in group]))
    spot, hit = tree.query(shapely.points(np.asarray(at, dtype=float)), predicate="dwithin", distance=within_mm)
    found = np.full(len(at), len(groups))
    np.minimum.at(found, spot, owner[hit])
    return tuple(None if k == len(groups) else k for k in found.tolist())


def pairs_within(at: Sequence[Point], pieces: Sequence[Segment], reach_mm: Sequence[float]) -> np.ndarray:
    """Which places lie nearer to which straight pieces than the piece's reach, with the distance, mm.

    Rows (place, piece, distance), sorted by piece and then by place.
    """
    if not at or not pieces:
        return np.empty((0, 3))
    spots = np.asarray(at, dtype=float)
    rows, reach = np.array([(*s.a, *s.b) for s in pieces], dtype=float), np.asarray(reach_mm, dtype=float)
    low, high = (
        np.minimum(rows[:, :2], rows[:, 2:]) - reach[:, None],
        np.maximum(rows[:, :2], rows[:, 2:]) + reach[:, None],
    )
    piece, spot = shapely.STRtree(shapely.points(spots)).query(shapely.box(*low.T, *high.T))
    far = to_pieces(spots[spot], rows[piece])
    keep = far < reach[piece]
    order = np.lexsort((spot[keep], piece[keep]))
    return np.column_stack((spot[keep], piece[keep], far[keep]))[order]


def box_pairs(pieces: np.ndarray, others: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Straight pieces (rows ax, ay, bx, by) whose boxes meet, as indices into both lists; sorted."""
    if not len(pieces) or not len(others):
        return np.empty(0, dtype=int), np.empty(0, dtype=int)
    lines, tree = (
        shapely.linestrings(pieces.reshape(-1, 2, 2)),
        shapely.STRtree(shapely.linestrings(others.reshape(-1, 2, 2))),
    )
    first, second = tree.query(lines)
    order = np.lexsort((second, first))
    return first[order], second[order]


def to_pieces(at: np.ndarray, pieces: np.ndarray) -> np.ndarray:
    """Distance from each place (x, y) to the straight piece (ax, ay, bx, by) of the same row, mm."""
    (x, y), (ax, ay, bx, by) = at.T, pieces.T
    span = (bx - ax) ** 2 + (by - ay) ** 2
    along = (x - ax) * (bx - ax) + (y - ay) * (by - ay)
    t = np.clip(np.divide(along, span, out=np.zeros_like(along), where=span > 0), 0.0, 1.0)
    return np.asarray(np.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)))
