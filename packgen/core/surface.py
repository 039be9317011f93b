"""Surfaces over the plan as flat facets; depth between two of them, integrated exactly.

A surface covers the whole neighbourhood of the job. Levels are mm against TBM, up is plus.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from packgen.core.overlay import parts_over
from packgen.core.plane import CRUMB_MM2, Point, Polygon, Ring, shapes


@dataclass(frozen=True, slots=True)
class Facet:
    """A flat piece: level at (x, y) = at_origin_mm + slope_x * x + slope_y * y.

    known   corners of the piece it was cut from, where it was cut: its level follows from the known points among them
    """

    ring: Ring
    at_origin_mm: float
    slope_x: float = 0.0
    slope_y: float = 0.0
    known: Ring = ()

    def level(self, x: float, y: float) -> float:
        return self.at_origin_mm + self.slope_x * x + self.slope_y * y


@dataclass(frozen=True, eq=False)
class Surface:
    """Facets that tile the neighbourhood. Built by `plane_surface`, `zoned_surface` or `through_points`.

    hull: ring round the known points, for a surface through points; None for designed ones.
    hulls: the same for each side, where there are steps; a side known along a line or at one point has such a ring.
    """

    facets: tuple[Facet, ...]
    hull: Ring | None = None
    hulls: tuple[Polygon, ...] = ()
    shapes: np.ndarray = field(init=False, repr=False)
    tree: STRtree = field(init=False, repr=False)
    planes: np.ndarray = field(init=False, repr=False)  # a row a facet: level at the origin, slope along x, along y

    def __post_init__(self) -> None:
        made = shapes([Polygon(f.ring) for f in self.facets])
        object.__setattr__(self, "shapes", made)
        object.__setattr__(self, "tree", STRtree(made))
        planes = np.array([(f.at_origin_mm, f.slope_x, f.slope_y) for f in self.facets]).reshape(-1, 3)
        object.__setattr__(self, "planes", planes)


@dataclass(frozen=True, slots=True)
class Depths:
    """Depth between a top and a base surface over one region; `at` are places in plan, mm."""

    area_mm2: float
    volume_l: float
    mean_mm: float
    least_mm: float
    least_at: Point
    most_mm: float
    most_at: Point


FAR_MM = 1e7


def plane_surface(at_origin_mm: float, slope_x: float = 0.0, slope_y: float = 0.0) -> Surface:
    """One plane everywhere. Slopes in mm per mm, plus is rising."""
    ring = ((-FAR_MM, -FAR_MM), (FAR_MM, -FAR_MM), (FAR_MM, FAR_MM), (-FAR_MM, FAR_MM))
    return Surface((Facet(ring, at_origin_mm, slope_x, slope_y),))


def level_at(surface: Surface, at: Point) -> float:
    """Level of the surface at a place; where facets meet at a step, the first facet of the list counts."""
    spot = shapely.Point(at)
    hits = surface.tree.query(spot, predicate="intersects")
    if len(hits) == 0:
        hits = np.array([surface.tree.nearest(spot)])
    return surface.facets[int(min(hits))].level(*at)


def within_known(surface: Surface, at: Point, slack_mm: float = 1.0) -> bool:
    """Whether a place lies between the known points (never beyond the outermost ones)."""
    if surface.hull is None and not surface.hulls:
        return True
    return bool(known_area(surface).distance(shapely.Point(at)) <= slack_mm)


def known_area(surface: Surface) -> BaseGeometry:
    """Where a surface is known: between its known points. For core only; needs a surface through points."""
    rings = surface.hulls or (Polygon(surface.hull or ()),)
    forms = [Shape(h.shell, h.holes) if len(h.shell) > 2 else shapely.LineString(h.shell * 2) for h in rings]
    return forms[0] if len(forms) == 1 else shapely.GeometryCollection(forms)


# --------------------------------------------------------------------------------- through known points


def through_points(points: Sequence[tuple[float, float, float]]) -> Surface:
    """The surface through known points (x, y, level): linear in the triangles between the nearest of them.

    Delaunay triangles; where four points lie on one circle (grids do) the diagonal runs through the corner with the
    least (x + y, x), so that neither the order of the points nor the library decides. Beyond the outermost points
    the level of the nearest place on their hull is held. Needs one point at least, no two in one place.
    """
    known = sorted((float(x), float(y), float(z)) for x, y, z in points)
    at = {(x, y): z for x, y, z in known}
    spots = list(at)
    if len(at) != len(known):
        raise ValueError("two levels at one place")
    reach = 4 * (max(abs(c) for p in spots for c in p) + 10_000)
    triangles = _triangles(spots)
    if not triangles:
        return _along_a_line(spots, at, reach)
    hull = _hull_ring(triangles)
    inner = [_plane([(*spots[i], at[spots[i]]) for i in t]) for t in triangles]
    corners = [spots[i] for i in hull]
    return Surface((*inner, *_skirt(corners, at, reach)), tuple(corners))


def _plane(three: Sequence[tuple[float, float, float]]) -> Facet:
    (x0, y0, z0), (x1, y1, z1), (x2, y2, z2) = three
    det = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    gx = ((z1 - z0) * (y2 - y0) - (z2 - z0) * (y1 - y0)) / det
    gy = ((x1 - x0) * (z2 - z0) - (x2 - x0) * (z1 - z0)) / det
    return Facet(((x0, y0), (x1, y1), (x2, y2)), z0 - gx * x0 - gy * y0, gx, gy)


def _triangles(spots: Sequence[Point]) -> list[tuple[int, int, int]]:
    if len(spots) < 3:
        return []
    index = {p: i for i, p in enumerate(spots)}
    made = shapely.delaunay_triangles(shapely.MultiPoint(list(spots)))
    found = {frozenset(index[(c[0], c[1])] for c in g.exterior.coords[:-1]) for g in made.geoms}
    return [_turned(t, spots) for t in sorted(tuple(sorted(t)) for t in _fixed_diagonals(found, spots))]


def _turned(t: tuple[int, ...], spots: Sequence[Point]) -> tuple[int, int, int]:
    i, j, k = t
    (ax, ay), (bx, by), (cx, cy) = spots[i], spots[j], spots[k]
    return (i, j, k) if (bx - ax) * (cy - ay) - (cx - ax) * (by - ay) > 0 else (i, k, j)


def _fixed_diagonals(found: set[frozenset[int]], spots: Sequence[Point]) -> set[frozenset[int]]:
    """Turns each diagonal whose four corners lie on one circle into the one that the rule names."""
    owners: dict[frozenset[int], set[frozenset[int]]] = {}
    for t in found:
        for edge in _edges(t):
            owners.setdefault(edge, set()).add(t)
    queue = sorted(owners, key=sorted)
    while queue:
        edge = queue.pop(0)
        pair = owners.get(edge, set())
        if len(pair) != 2:
            continue
        t, u = pair
        p, q = sorted(edge)
        r, s = next(iter(t - edge)), next(iter(u - edge))
        first = min((p, q, r, s), key=lambda i: (spots[i][0] + spots[i][1], spots[i][0]))
        if first in edge or not _on_one_circle(spots[p], spots[q], spots[r], spots[s]):
            continue
        new = [frozenset((r, s, p)), frozenset((r, s, q))]
        for old in (t, u):
            found.discard(old)
            for e in _edges(old):
                owners[e].discard(old)
        owners.pop(edge, None)
        for n in new:
            found.add(n)
            for e in _edges(n):
                owners.setdefault(e, set()).add(n)
                if e != frozenset((r, s)):
                    queue.append(e)
    return found


def _edges(t: frozenset[int]) -> list[frozenset[int]]:
    i, j, k = sorted(t)
    return [frozenset((i, j)), frozenset((j, k)), frozenset((i, k))]


def _on_one_circle(a: Point, b: Point, c: Point, d: Point) -> bool:
    rows = [(p[0] - d[0], p[1] - d[1]) for p in (a, b, c)]
    lifted = [(x, y, x * x + y * y) for x, y in rows]
    size = max(max(abs(x), abs(y)) for x, y in rows) ** 4
    return abs(float(np.linalg.det(np.array(lifted)))) <= 1e-9 * size


def _hull_ring(triangles: Sequence[tuple[int, int, int]]) -> list[int]:
    """Corners round the triangles in the triangles' own turning direction."""
    directed = {(t[k], t[(k + 1) % 3]) for t in triangles for k in range(3)}
    after = {a: b for a, b in directed if (b, a) not in directed}
    start = min(after)
    ring = [start]
    while (here := after[ring[-1]]) != start:
        ring.append(here)
    return ring


def _skirt(corners: Sequence[Point], at: dict[Point, float], reach: float) -> list[Facet]:
    """Facets beyond the hull: square out from each edge, constant round each corner."""
    count = len(corners)
    normals = []
    for i in range(count):
        (ax, ay), (bx, by) = corners[i], corners[(i + 1) % count]
        d = math.hypot(bx - ax, by - ay)
        normals.append(((by - ay) / d, -(bx - ax) / d))
    out = []
    for i in range(count):
        a, b = corners[i], corners[(i + 1) % count]
        (nx, ny), (mx, my) = normals[i], normals[(i + 1) % count]
        far_a, far_b = (a[0] + nx * reach, a[1] + ny * reach), (b[0] + nx * reach, b[1] + ny * reach)
        slope = (at[b] - at[a]) / math.dist(a, b)
        ux, uy = (b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b)
        gx, gy = slope * ux, slope * uy
        out.append(Facet((a, far_a, far_b, b), at[a] - gx * a[0] - gy * a[1], gx, gy))
        if nx * my - ny * mx > 1e-9:
            far_c = (b[0] + mx * reach, b[1] + my * reach)
            middle = (b[0] + (nx + mx) * reach, b[1] + (ny + my) * reach)
            out.append(Facet((b, far_b, middle, far_c), at[b]))
    return out


def _along_a_line(spots: Sequence[Point], at: dict[Point, float], reach: float) -> Surface:
    """All points on one line, or one point: linear along it, constant across and beyond."""
    if len(spots) == 1:
        only = plane_surface(at[spots[0]])
        return Surface(only.facets, (spots[0],))
    first, last = spots[0], spots[-1]
    d = math.dist(first, last)
    ux, uy = (last[0] - first[0]) / d, (last[1] - first[1]) / d

    def strip(p: Point, q: Point) -> Ring:
        return (
            (p[0] - uy * reach, p[1] + ux * reach),
            (p[0] + uy * reach, p[1] - ux * reach),
            (q[0] + uy * reach, q[1] - ux * reach),
            (q[0] - uy * reach, q[1] + ux * reach),
        )

    out = [Facet(strip((first[0] - ux * reach, first[1] - uy * reach), first), at[first])]
    for a, b in pairwise(spots):
        slope = (at[b] - at[a]) / math.dist(a, b)
        out.append(Facet(strip(a, b), at[a] - slope * (ux * a[0] + uy * a[1]), slope * ux, slope * uy))
    out.append(Facet(strip(last, (last[0] + ux * reach, last[1] + uy * reach)), at[last]))
    return Surface(tuple(out), (first, last))


# --------------------------------------------------------------------------------- between two surfaces


def cut_by_both(top: Surface, base: Surface, regions: Sequence[Polygon]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Regions cut by the facets of both surfaces: whose piece, its shape, and the plane of the depth over it.

    The planes are a row a piece: depth at the origin, slope along x, along y. For core only.
    """
    which, on_base, part = parts_over(shapes(regions), base.shapes, base.tree, [f.ring for f in base.facets])
    if len(top.facets) == 1:
        on_top = np.zeros(len(part), dtype=int)
    else:
        again, on_top, part = parts_over(part, top.shapes, top.tree, [f.ring for f in top.facets])
        which, on_base = which[again], on_base[again]
    return which, part, top.planes[on_top] - base.planes[on_base]


def depths(top: Surface, base: Surface, regions: Sequence[Polygon]) -> tuple[Depths, ...]:
    """Depth of fill between two surfaces over each region, by exact integration.

    A flat facet over a polygon holds area x its level at the polygon's middle (prism under a plane); regions are cut
    by both surfaces' facets first. Least and greatest depth lie at a corner of such a piece. Litres: 1 L = 10^6 mm3.
    """
    which, part, plane = cut_by_both(top, base, regions)
    areas, middles = shapely.area(part), shapely.centroid(part)
    heights = plane[:, 0] + plane[:, 1] * shapely.get_x(middles) + plane[:, 2] * shapely.get_y(middles)
    area_of = np.bincount(which, weights=areas, minlength=len(regions))
    volume_of = np.bincount(which, weights=areas * heights, minlength=len(regions))
    corners, owner = shapely.get_coordinates(part, return_index=True)
    at_corner = plane[owner, 0] + plane[owner, 1] * corners[:, 0] + plane[owner, 2] * corners[:, 1]
    region_of = which[owner]
    order = np.lexsort((corners[:, 1], corners[:, 0], np.round(at_corner, 6), region_of))
    out = []
    starts = np.searchsorted(region_of[order], np.arange(len(regions) + 1))
    for i in range(len(regions)):
        run = order[starts[i] : starts[i + 1]]
        if len(run) == 0 or area_of[i] < CRUMB_MM2:
            raise ValueError(f"region {i} has no area")
        lo, hi = run[0], run[-1]
        out.append(
            Depths(
                float(area_of[i]),
                float(volume_of[i] / 1e6),
                float(volume_of[i] / area_of[i]),
                float(at_corner[lo]),
                (float(corners[lo, 0]), float(corners[lo, 1])),
                float(at_corner[hi]),
                (float(corners[hi, 0]), float(corners[hi, 1])),
            )
        )
    return tuple(out)


def whole_depth(parts: Sequence[Depths]) -> Depths:
    """The depths of several regions taken together."""
    area, volume = sum(p.area_mm2 for p in parts), sum(p.volume_l for p in parts)
    lo = min(parts, key=lambda p: (round(p.least_mm, 6), p.least_at))
    hi = max(parts, key=lambda p: (round(p.most_mm, 6), p.most_at))
    return Depths(area, volume, volume * 1e6 / area, lo.least_mm, lo.least_at, hi.most_mm, hi.most_at)
