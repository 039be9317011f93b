"""Which of many places is nearest to each of many others."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from packgen.core.plane import Point


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
