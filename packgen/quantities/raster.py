"""A floor on a raster of small squares: which lie in a room, and the level of a surface in the middle of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.plane import Polygon, Ring, bounds, pairs
from packgen.core.profile import levels_at
from packgen.core.surface import Surface


@dataclass(frozen=True, eq=False)
class Raster:
    """Squares of `step_mm` from the corner (x0, y0) on; `inside` has a row a y and a column an x."""

    x0: float
    y0: float
    step_mm: float
    inside: np.ndarray

    @property
    def xs(self) -> np.ndarray:
        """Middles of the columns."""
        middles: np.ndarray = self.x0 + (np.arange(self.inside.shape[1]) + 0.5) * self.step_mm
        return middles

    @property
    def ys(self) -> np.ndarray:
        """Middles of the rows."""
        middles: np.ndarray = self.y0 + (np.arange(self.inside.shape[0]) + 0.5) * self.step_mm
        return middles


def raster_of(floor: Sequence[Polygon], step_mm: float) -> Raster:
    """The squares of a floor: those with their middle in one of its polygons."""
    boxes = [bounds(p) for p in floor]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    nx = int(np.ceil((max(b[2] for b in boxes) - x0) / step_mm - 1e-9))
    ny = int(np.ceil((max(b[3] for b in boxes) - y0) / step_mm - 1e-9))
    empty = Raster(x0, y0, step_mm, np.zeros((ny, nx), dtype=bool))
    inside = empty.inside
    for p in floor:
        inside = inside | within(empty, p)
    return Raster(x0, y0, step_mm, inside)


def within(raster: Raster, polygon: Polygon) -> np.ndarray:
    """Squares of a raster whose middle lies in a polygon, by counting the edges to the left of it in its row."""
    crossings = np.zeros((len(raster.ys), len(raster.xs) + 1), dtype=int)
    for ring in (polygon.shell, *polygon.holes):
        for (ax, ay), (bx, by) in pairs(ring):
            rows = np.flatnonzero((raster.ys >= min(ay, by)) & (raster.ys < max(ay, by)))
            if len(rows):
                at = ax + (raster.ys[rows] - ay) / (by - ay) * (bx - ax)
                np.add.at(crossings, (rows, np.searchsorted(raster.xs, at)), 1)
    odd: np.ndarray = np.cumsum(crossings, axis=1)[:, :-1] % 2 == 1
    return odd


def levels(raster: Raster, surface: Surface) -> np.ndarray:
    """Level of a surface in the middle of each square inside, mm; not a number outside.

    Small facets are drawn square by square; what they leave is asked of the surface place by place.
    """
    out = np.full(raster.inside.shape, np.nan)
    reach = (raster.x0, raster.y0, float(raster.xs[-1]), float(raster.ys[-1]))
    slack = max(reach[2] - reach[0], reach[3] - reach[1])
    for facet in surface.facets:
        if _near(facet.ring, reach, slack):
            _draw(out, raster, facet.ring, facet.at_origin_mm, facet.slope_x, facet.slope_y)
    rows, columns = np.nonzero(raster.inside & np.isnan(out))
    if len(rows):
        xs, ys = raster.xs[columns], raster.ys[rows]
        if len(surface.facets) == 1:
            only = surface.facets[0]
            out[rows, columns] = only.at_origin_mm + only.slope_x * xs + only.slope_y * ys
        else:
            out[rows, columns] = levels_at(surface, [(float(x), float(y)) for x, y in zip(xs, ys, strict=True)])
    return np.where(raster.inside, out, np.nan)


def _near(ring: Ring, reach: tuple[float, float, float, float], slack: float) -> bool:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return (
        min(xs) >= reach[0] - slack
        and max(xs) <= reach[2] + slack
        and min(ys) >= reach[1] - slack
        and max(ys) <= reach[3] + slack
    )


def _draw(out: np.ndarray, raster: Raster, ring: Ring, at_origin: float, slope_x: float, slope_y: float) -> None:
    """Writes a facet's level into the squares that it holds and nobody has written yet."""
    x0, y0, x1, y1 = bounds(Polygon(ring))
    i0, i1 = np.searchsorted(raster.xs, (x0, x1))
    j0, j1 = np.searchsorted(raster.ys, (y0, y1))
    if i0 == i1 or j0 == j1:
        return
    part = Raster(raster.x0 + i0 * raster.step_mm, raster.y0 + j0 * raster.step_mm, raster.step_mm, out[j0:j1, i0:i1])
    mine = within(part, Polygon(ring)) & np.isnan(part.inside)
    plane = at_origin + slope_x * part.xs[None, :] + slope_y * part.ys[:, None]
    part.inside[mine] = plane[mine]


def windows(values: np.ndarray, size: int) -> np.ndarray:
    """Sum over each square block of `size` x `size` entries, by the entry at its low corner."""
    rows, columns = values.shape
    total = np.zeros((rows + 1, columns + 1))
    total[1:, 1:] = np.cumsum(np.cumsum(values, axis=0), axis=1)
    block: np.ndarray = total[size:, size:] - total[:-size, size:] - total[size:, :-size] + total[:-size, :-size]
    return block
