"""Levels at many places, depth along straight pieces, and the prisms between two surfaces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from packgen.core.plane import CRUMB_MM2, Point, Polygon, Segment, shape
from packgen.core.surface import Facet, Surface, known_area

CRUMB_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Least:
    """The least depth along straight pieces, mm, and where."""

    depth_mm: float
    at: Point


@dataclass(frozen=True, slots=True)
class Prism:
    """A flat-topped piece between two surfaces: plan area and mean depth, whose product is its volume."""

    area_mm2: float
    mean_mm: float
    shape: Polygon


def facets_at(surface: Surface, at: Sequence[Point]) -> tuple[int, ...]:
    """Which facet counts at each place: the first of the list that touches it, else the nearest."""
    if not at:
        return ()
    if len(surface.facets) == 1:
        return (0,) * len(at)
    spots = shapely.points(np.asarray(at, dtype=float))
    found = np.full(len(at), len(surface.facets))
    spot, hit = surface.tree.query(spots, predicate="intersects")
    np.minimum.at(found, spot, hit)
    for i in np.flatnonzero(found == len(surface.facets)):
        found[i] = surface.tree.nearest(spots[i])
    return tuple(found.tolist())


def levels_at(surface: Surface, at: Sequence[Point]) -> tuple[float, ...]:
    """Level of the surface at each place, mm; the same as `level_at` one by one."""
    if not at:
        return ()
    plane, spots = surface.planes[list(facets_at(surface, at))], np.asarray(at, dtype=float)
    return tuple((plane[:, 0] + plane[:, 1] * spots[:, 0] + plane[:, 2] * spots[:, 1]).tolist())


def all_within_known(surface: Surface, at: Sequence[Point], slack_mm: float = 1.0) -> tuple[bool, ...]:
    """For each place whether it lies between the known points; the same as `within_known` one by one."""
    if surface.hull is None and not surface.hulls:
        return (True,) * len(at)
    if not at:
        return ()
    far = shapely.distance(known_area(surface), shapely.points(np.asarray(at, dtype=float)))
    return tuple(bool(d <= slack_mm) for d in far)


def beyond_known(surface: Surface, at: Sequence[Point]) -> tuple[float, ...]:
    """How far each place lies outside the known points of a surface, mm; 0 between them."""
    if not at or (surface.hull is None and not surface.hulls):
        return (0.0,) * len(at)
    return tuple(shapely.distance(known_area(surface), shapely.points(np.asarray(at, dtype=float))).tolist())


def profile(surface: Surface, along: Segment) -> tuple[tuple[float, float], ...]:
    """(distance from a, level), mm, at both ends of a straight piece and wherever it meets another facet.

    Between two of these the surface is straight; a step shows as two levels at one distance.
    """
    _, which, ends = _cut(surface, [along])
    steps = []
    for facet, (p, q) in zip(which, ends, strict=True):
        plane = surface.facets[facet]
        (da, a), (db, b) = sorted((_distance(along, at), at) for at in (p, q))
        steps.append((da, db, plane.level(*a), plane.level(*b)))
    out: list[tuple[float, float]] = []
    for da, db, za, zb in sorted(steps):
        for d, z in ((da, za), (db, zb)):
            if not out or abs(out[-1][0] - d) > CRUMB_MM or abs(out[-1][1] - z) > CRUMB_MM:
                out.append((d, z))
    return tuple(out)


def _distance(along: Segment, at: Point) -> float:
    return float(np.hypot(at[0] - along.a[0], at[1] - along.a[1]))


def _cut(surface: Surface, pieces: Sequence[Segment]) -> tuple[list[int], list[int], list[tuple[Point, Point]]]:
    """The parts of straight pieces over each facet: whose part, which facet, both ends; in the pieces' order."""
    lines = shapely.linestrings([(s.a, s.b) for s in pieces])
    which, on = surface.tree.query(lines, predicate="intersects")
    order = np.lexsort((on, which))
    which, on = which[order], on[order]
    parts, place = shapely.get_parts(shapely.intersection(lines[which], surface.shapes[on]), return_index=True)
    keep = shapely.length(parts) > CRUMB_MM
    place = place[keep]
    first = shapely.get_coordinates(shapely.get_point(parts[keep], 0))
    last = shapely.get_coordinates(shapely.get_point(parts[keep], -1))
    ends = [((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))) for a, b in zip(first, last, strict=True)]
    return which[place].tolist(), on[place].tolist(), ends


def least_along(top: Surface, base: Surface, pieces: Sequence[Segment]) -> Least | None:
    """The least depth between two surfaces over straight pieces; None where there are none.

    Over one facet of each surface depth runs straight, so that the least lies at an end of a part cut by both.
    """
    long = [s for s in pieces if s.length_mm > CRUMB_MM]
    if not long:
        return None
    _, on_base, parts = _cut(base, long)
    owner, on_top, ends = _cut(top, [Segment(a, b) for a, b in parts])
    spots = [at for pair in ends for at in pair]
    depths = [
        top.facets[above].level(*at) - base.facets[on_base[part]].level(*at)
        for part, above, pair in zip(owner, on_top, ends, strict=True)
        for at in pair
    ]
    least = min(range(len(spots)), key=lambda i: (round(depths[i], 6), spots[i]))
    return Least(depths[least], spots[least])


def prisms(top: Surface, base: Surface, region: Polygon) -> tuple[Prism, ...]:
    """The pieces of a region over each pair of facets; their volumes add up to the region's, exactly.

    Mean depth of a prism under a plane is the depth at the middle of its plan.
    """
    out = []
    whole = shape(region)
    for i in sorted(int(k) for k in base.tree.query(whole)):
        part = shapely.intersection(whole, base.shapes[i])
        if shapely.area(part) <= CRUMB_MM2:
            continue
        for j in sorted(int(k) for k in top.tree.query(part)):
            for piece in shapely.get_parts(shapely.intersection(part, top.shapes[j])):
                if shapely.area(piece) > CRUMB_MM2:
                    out.append(_prism(top.facets[j], base.facets[i], piece))
    return tuple(out)


def _prism(top: Facet, base: Facet, piece: shapely.Polygon) -> Prism:
    middle = shapely.centroid(piece)
    ring = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(piece)[:-1])
    depth = top.level(middle.x, middle.y) - base.level(middle.x, middle.y)
    return Prism(float(shapely.area(piece)), depth, Polygon(ring))


def pieces_within(regions: Sequence[Polygon], pieces: Sequence[Segment]) -> tuple[tuple[int, int, Segment], ...]:
    """The parts of straight pieces that lie in each region: (piece, region, part), in the pieces' order."""
    long = [i for i, s in enumerate(pieces) if s.length_mm > CRUMB_MM]
    if not long or not regions:
        return ()
    lines = shapely.linestrings([(pieces[i].a, pieces[i].b) for i in long])
    shapes = np.array([shape(r) for r in regions], dtype=object)
    which, on = shapely.STRtree(shapes).query(lines, predicate="intersects")
    order = np.lexsort((on, which))
    which, on = which[order], on[order]
    parts, place = shapely.get_parts(shapely.intersection(lines[which], shapes[on]), return_index=True)
    out = []
    for part, k in zip(parts, place, strict=True):
        if shapely.length(part) > CRUMB_MM:
            (ax, ay), (bx, by) = shapely.get_coordinates(part)[[0, -1]].tolist()
            out.append((long[which[k]], int(on[k]), Segment((ax, ay), (bx, by))))
    return tuple(out)
