"""Where the depth between two surfaces lies beyond a limit: area, greatest excess, volume; integrated exactly."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from packgen.core.plane import CRUMB_MM2, Point, Polygon
from packgen.core.surface import FAR_MM, Surface, cut_by_both

LEVEL = 1e-9  # slopes below this, mm per mm, are none


@dataclass(frozen=True, slots=True)
class Beyond:
    """What lies beyond a limit: plan area, volume between depth and limit, the most at one place, and where."""

    area_mm2: float
    volume_l: float
    most_mm: float
    at: Point


def beyond(
    top: Surface, base: Surface, regions: Sequence[Polygon], limit_mm: float, side: Literal["under", "over"]
) -> Beyond | None:
    """Where the depth of top over base is less ("under") or more ("over") than the limit; None where nowhere.

    Regions are cut by both surfaces' facets; over each piece depth is one plane, so that the part beyond the limit
    lies on one side of a straight line and holds area x its excess at the part's middle. Litres: 1 L = 10^6 mm3.
    """
    _, part, between = cut_by_both(top, base, regions)
    sign = -1.0 if side == "under" else 1.0
    plane = sign * between
    plane[:, 0] -= sign * limit_mm
    corners, owner = shapely.get_coordinates(part, return_index=True)
    excess = plane[owner, 0] + plane[owner, 1] * corners[:, 0] + plane[owner, 2] * corners[:, 1]
    area = volume = 0.0
    most, at = 0.0, (0.0, 0.0)
    for i in sorted(set(owner[excess > LEVEL].tolist())):
        piece = part[i]
        if np.any(excess[owner == i] < -LEVEL):
            piece = shapely.intersection(piece, _half_plane(*plane[i].tolist()))
        size = float(shapely.area(piece))
        if size <= CRUMB_MM2:
            continue
        middle = shapely.centroid(piece)
        area += size
        volume += size * float(plane[i, 0] + plane[i, 1] * middle.x + plane[i, 2] * middle.y) / 1e6
        highest = max(np.flatnonzero(owner == i).tolist(), key=lambda k: (round(float(excess[k]), 6), *corners[k]))
        if excess[highest] > most + 1e-6:
            most, at = float(excess[highest]), (float(corners[highest, 0]), float(corners[highest, 1]))
    return Beyond(area, volume, most, at) if area > 0 else None


def _half_plane(a: float, bx: float, by: float) -> shapely.Polygon:
    """The side of the line a + bx x + by y = 0 on which that is more than nothing, as far as any job reaches."""
    steep = math.hypot(bx, by)
    ux, uy = bx / steep, by / steep
    x, y = -a / steep * ux, -a / steep * uy
    far = FAR_MM
    left, right = (x - uy * far, y + ux * far), (x + uy * far, y - ux * far)
    return shapely.Polygon(
        (left, right, (right[0] + ux * far, right[1] + uy * far), (left[0] + ux * far, left[1] + uy * far))
    )
