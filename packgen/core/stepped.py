"""A surface through known points that does not run on across a step: each side of it has a surface of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from packgen.core.plane import CRUMB_MM2, GRID_MM, Point, Polygon, Segment, polygons, shape
from packgen.core.surface import Facet, Surface, through_points

HAIR_MM = 1e-3
REACH_MM = 150.0  # a step that ends so near to a wall, or to another step, reaches it


def sides(outline: Polygon, steps: Sequence[Segment]) -> tuple[Polygon, ...]:
    """The parts into which steps divide a room, in a fixed order.

    A step that ends near a wall or another step is carried on to it. One that ends in mid-room divides nothing.
    """
    room = shape(Polygon(outline.shell))
    lines = [LineString([s.a, s.b]) for s in steps if s.length_mm]
    wall = room.exterior
    carried = [
        c for n, s in enumerate(steps) for end in (s.a, s.b) for c in _carried(end, wall, lines[:n] + lines[n + 1 :])
    ]
    inside = shapely.intersection(shapely.set_precision(shapely.unary_union([*lines, *carried]), GRID_MM), room)
    noded = shapely.unary_union([wall, inside])
    parts = [p for p in shapely.polygonize([noded]).geoms if room.contains(p.representative_point())]
    return tuple(found for part in parts for found in polygons(part))


def _carried(end: Point, wall: BaseGeometry, others: Sequence[LineString]) -> list[LineString]:
    """From an end of a step on to the wall, else to the nearest other step; nothing where both are far or met."""
    spot = shapely.Point(end)
    near = [g for g in (wall, *others) if spot.distance(g) <= REACH_MM]
    if not near:
        return []
    goal = near[0] if near[0] is wall else min(near, key=spot.distance)
    foot = goal.interpolate(goal.project(spot))
    return [LineString([spot, _just_past(spot, foot)])] if spot.distance(foot) > GRID_MM else []


def _just_past(spot: shapely.Point, foot: shapely.Point) -> shapely.Point:
    """The foot of the way to a wall, a hair farther on, so that binary noise leaves no gap."""
    d = spot.distance(foot)
    return shapely.Point(foot.x + (foot.x - spot.x) / d * HAIR_MM, foot.y + (foot.y - spot.y) / d * HAIR_MM)


def divides(step: Segment, parts: Sequence[Polygon]) -> bool:
    """Whether the two sides of a step, at its middle, are different parts."""
    (ax, ay), (bx, by) = step.a, step.b
    nx, ny = -(by - ay) / step.length_mm, (bx - ax) / step.length_mm
    middle = ((ax + bx) / 2, (ay + by) / 2)
    one, other = (side_of((middle[0] + k * nx, middle[1] + k * ny), parts) for k in (1.0, -1.0))
    return one != other


def sides_of(at: Sequence[Point], parts: Sequence[Polygon]) -> tuple[int, ...]:
    """For each place the part in which it lies, or the nearest one, by its index; 0 where there are no parts."""
    if not parts or not at:
        return (0,) * len(at)
    spots = shapely.points(np.asarray(at, dtype=float))
    far = np.array([shapely.distance(shape(p), spots) for p in parts])
    return tuple(np.argmin(far, axis=0).tolist())


def side_of(at: Point, parts: Sequence[Polygon]) -> int:
    """The same for one place."""
    return sides_of([at], parts)[0]


def through_points_on(
    parts: Sequence[Polygon], points: Sequence[tuple[float, float, float]], own: Sequence[Sequence[int]]
) -> Surface:
    """The surface of parts that do not overlap, each through its own points (indexes into `points`, one at least).

    The hulls of the parts' points, cut at the parts' edges, are where it is known.
    """
    facets: list[Facet] = []
    hulls: list[Polygon] = []
    for part, mine in zip(parts, own, strict=True):
        whole = through_points([points[i] for i in mine])
        room = shape(part)
        for facet, form in zip(whole.facets, whole.shapes, strict=True):
            for piece in _plain(shapely.intersection(form, room)):
                facets.append(replace(facet, ring=piece.shell, known=facet.ring))
        hull = whole.hull or ()
        if len(hull) > 2:
            hulls += polygons(shapely.intersection(Shape(hull), room))
        else:
            hulls.append(Polygon(hull))
    return Surface(tuple(facets), hulls=tuple(hulls))


def _plain(form: object) -> tuple[Polygon, ...]:
    """The polygons of a shape, those with holes cut into triangles, so that a ring tells all."""
    out: list[Polygon] = []
    assert isinstance(form, shapely.Geometry)
    for p in polygons(form):
        if p.holes:
            out += polygons(shapely.constrained_delaunay_triangles(shape(p)))
        else:
            out.append(p)
    return tuple(p for p in out if abs(shape(p).area) > CRUMB_MM2)


def step_distance(at: Point, steps: Sequence[Segment]) -> float:
    """How far a place lies from the nearest step, mm; infinite where there is none."""
    spot = shapely.Point(at)
    return min((float(spot.distance(LineString([s.a, s.b]))) for s in steps), default=math.inf)
