"""Regions cut by the facets of a surface: only those that a facet's edge runs through are handed to the overlay."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import STRtree

from packgen.core.plane import Ring

MOST_EDGES = 8  # facets with more corners are few, and are left to the overlay


def parts_over(
    regions: np.ndarray, facets: np.ndarray, tree: STRtree, rings: Sequence[Ring]
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pieces of shapes over the facets of a surface: whose piece, over which facet, the piece; none without area.

    A region that lies within a convex facet is its own piece, one beyond an edge of it has none; both are told by
    the region's box alone, for all pairs at once.
    """
    which, on = tree.query(regions)
    least, most = _box_to_edges(shapely.bounds(regions)[which], _inner_sides(rings)[on])
    apart: np.ndarray = np.any(most <= 0, axis=1)
    within: np.ndarray = np.all(least[~apart] >= 0, axis=1)
    which, on = which[~apart], on[~apart]
    part = regions[which]
    part[~within] = shapely.intersection(part[~within], facets[on[~within]])
    keep = shapely.area(part) > 0
    return which[keep], on[keep], part[keep]


def _inner_sides(rings: Sequence[Ring]) -> np.ndarray:
    """For each ring its edges as (a, b, c): a x + b y + c is the distance from the edge's line, plus on the inner side.

    Shape (rings, edges, 3). Rings that are not convex, or have many corners, get sides of no number: nothing is
    known to lie within or beyond them. Missing edges hold everything inside.
    """
    count = np.array([len(r) for r in rings])
    size = int(min(count.max(initial=0), MOST_EDGES))
    small = count <= size
    at = np.zeros((len(rings), size, 2))
    used = np.arange(size)[None, :] < np.where(small, count, 0)[:, None]
    at[used] = np.array([c for r in rings if len(r) <= size for c in r], dtype=float).reshape(-1, 2)
    place = np.arange(size)[None, :]
    after = np.take_along_axis(at, np.where(place + 1 < count[:, None], place + 1, 0)[:, :, None], axis=1)
    step = after - at
    turn = np.sign((at[..., 0] * after[..., 1] - after[..., 0] * at[..., 1]).sum(axis=1, where=used))
    length = np.hypot(step[..., 0], step[..., 1])
    used &= length > 0
    normal = turn[:, None, None] * np.stack((-step[..., 1], step[..., 0]), axis=-1)
    normal = np.divide(normal, length[..., None], out=np.zeros_like(normal), where=used[..., None])
    offset = np.where(used, -(normal * at).sum(axis=-1), np.inf)
    sides = np.concatenate((normal, offset[..., None]), axis=-1)
    corners = np.where(used[..., None], at, at[:, :1])
    away = np.einsum("fek,fck->fec", normal, corners) + offset[..., None]
    slack = 1e-9 * (1 + np.abs(at).max(axis=(1, 2), initial=0.0))
    convex = small & (away >= -slack[:, None, None]).all(axis=(1, 2))
    sides[~convex] = np.nan
    return sides


def _box_to_edges(boxes: np.ndarray, sides: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest distance of each box (x0, y0, x1, y1) from each edge of its facet."""
    a, b, c = sides[..., 0], sides[..., 1], sides[..., 2]
    x0, y0, x1, y1 = (boxes[:, i, None] for i in range(4))
    least = c + np.minimum(a * x0, a * x1) + np.minimum(b * y0, b * y1)
    most = c + np.maximum(a * x0, a * x1) + np.maximum(b * y0, b * y1)
    return least, most
