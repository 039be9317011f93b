"""Plane geometry on tuples; the only door to shapely's shapes.

x runs along wall 1 from corner 1, y into the room, both in mm. Drawn with y down the page the walls run
clockwise, so a ring that keeps its inside on the right-hand side of the walker has a positive shoelace area here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

Point = tuple[float, float]
Ring = tuple[Point, ...]

GRID_MM = 1e-6  # geometry is snapped to a millionth of a mm, so that equal corners are equal
CRUMB_MM2 = 1e-3  # pieces smaller than this are crumbs of the overlay, not floor


@dataclass(frozen=True, slots=True)
class Polygon:
    """An outline with the holes cut out of it. Rings are open (first corner not repeated), mm."""

    shell: Ring
    holes: tuple[Ring, ...] = ()


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight piece from a to b, mm."""

    a: Point
    b: Point

    @property
    def length_mm(self) -> float:
        return math.dist(self.a, self.b)


# --------------------------------------------------------------------------------- to shapely and back


def shape(p: Polygon) -> Shape:
    """The polygon as a shapely shape. For core only: no shapely type leaves this room."""
    return Shape(p.shell, p.holes)


def shapes(parts: Sequence[Polygon]) -> np.ndarray:
    """Many polygons as an array of shapely shapes, made all at once. For core only."""
    whole = [i for i, p in enumerate(parts) if not p.holes]
    out = np.empty(len(parts), dtype=object)
    if whole:
        rings = [parts[i].shell for i in whole]
        corners = np.array([c for ring in rings for c in ring], dtype=float)
        owner = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
        out[whole] = shapely.polygons(shapely.linearrings(corners, indices=owner))
    for i, p in enumerate(parts):
        if p.holes:
            out[i] = shape(p)
    return out


def polygons(g: BaseGeometry) -> tuple[Polygon, ...]:
    """All polygons in a shape, crumbs left out, in a fixed order (by lowest y, then x)."""
    if isinstance(g, Shape):
        parts: list[Shape] = [g]
    elif isinstance(g, MultiPolygon) or hasattr(g, "geoms"):
        parts = [p for p in g.geoms if isinstance(p, Shape)]
    else:
        parts = []
    found = [_open(shapely.orient_polygons(p)) for p in parts if p.area > CRUMB_MM2]
    return tuple(sorted(found, key=lambda p: (min(y for _, y in p.shell), min(x for x, _ in p.shell), p.shell)))


def _ring(coords: Iterable[Sequence[float]]) -> Ring:
    ring = [(float(c[0]) + 0.0, float(c[1]) + 0.0) for c in coords][:-1]
    start = min(range(len(ring)), key=lambda i: (ring[i][1] + ring[i][0], ring[i][1]))
    return tuple(ring[start:] + ring[:start])


def _open(s: Shape) -> Polygon:
    return Polygon(_ring(s.exterior.coords), tuple(sorted(_ring(h.coords) for h in s.interiors)))


# --------------------------------------------------------------------------------- measures


def ring_area(ring: Sequence[Point]) -> float:
    """Area of a ring by coordinates, mm²; positive for rings that run clockwise on paper (y down).

    Source: area by coordinates (shoelace), any surveying handbook.

    >>> ring_area([(0, 0), (200, 0), (200, 300), (0, 300)])
    60000.0
    """
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs(ring)) / 2


def pairs(ring: Sequence[Point]) -> list[tuple[Point, Point]]:
    """The sides of a ring, the closing one included."""
    return [(ring[i], ring[(i + 1) % len(ring)]) for i in range(len(ring))]


def area(p: Polygon) -> float:
    """Area less holes, mm²."""
    return abs(ring_area(p.shell)) - sum(abs(ring_area(h)) for h in p.holes)


def perimeter(ring: Sequence[Point]) -> float:
    """Length round a ring, mm."""
    return sum(math.dist(a, b) for a, b in pairs(ring))


def bounds(p: Polygon) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y."""
    xs, ys = [x for x, _ in p.shell], [y for _, y in p.shell]
    return min(xs), min(ys), max(xs), max(ys)


def centroid(p: Polygon) -> Point:
    c = shape(p).centroid
    return (c.x, c.y)


def centroids(parts: Sequence[Polygon]) -> tuple[Point, ...]:
    """The centroid of each of many polygons."""
    found = shapely.get_coordinates(shapely.centroid(shapes(parts)))
    return tuple((float(x), float(y)) for x, y in found.tolist())


def label_point(p: Polygon) -> Point:
    """A point well inside, for a name: the middle of the largest circle that fits."""
    x0, y0, x1, y1 = bounds(p)
    c = polylabel(shape(p), max(1.0, min(x1 - x0, y1 - y0) / 50))
    return (c.x, c.y)


def contains(p: Polygon, at: Point, within_mm: float = 1e-6) -> bool:
    """Whether the point lies inside or not farther than `within_mm` outside."""
    return bool(shape(p).distance(shapely.Point(at)) <= within_mm)


def edge_distance(p: Polygon, at: Point) -> float:
    """Distance from a point to the nearest edge of the polygon, holes included, mm."""
    return float(shape(p).boundary.distance(shapely.Point(at)))


def segment_distance(at: Point, s: Segment) -> float:
    """Distance from a point to a straight piece, mm."""
    (ax, ay), (bx, by) = s.a, s.b
    span = (bx - ax) ** 2 + (by - ay) ** 2
    t = 0.0 if span == 0 else max(0.0, min(1.0, ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / span))
    return math.hypot(at[0] - ax - t * (bx - ax), at[1] - ay - t * (by - ay))


def crossing(s: Segment, t: Segment) -> Point | None:
    """Where two straight pieces cross or touch in one point; None where they do not or run along each other."""
    for k in (0, 1):
        if max(s.a[k], s.b[k]) < min(t.a[k], t.b[k]) or max(t.a[k], t.b[k]) < min(s.a[k], s.b[k]):
            return None
    met = LineString([s.a, s.b]).intersection(LineString([t.a, t.b]))
    return (met.x, met.y) if isinstance(met, shapely.Point) and not met.is_empty else None


def is_simple(ring: Sequence[Point]) -> bool:
    """Whether a ring neither crosses nor touches itself."""
    return bool(Shape(ring).is_valid)


# --------------------------------------------------------------------------------- shapes from shapes


def box(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    """An upright rectangle, corners in any order."""
    xa, xb, ya, yb = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
    return Polygon(((xa, ya), (xb, ya), (xb, yb), (xa, yb)))


def circle(at: Point, radius: float, steps: int = 64) -> Polygon:
    """A circle as a polygon of `steps` sides with the circle's own area (not the inscribed polygon's)."""
    r = radius * math.sqrt(2 * math.pi / steps / math.sin(2 * math.pi / steps))
    return Polygon(
        tuple(
            (at[0] + r * math.cos(2 * math.pi * i / steps), at[1] + r * math.sin(2 * math.pi * i / steps))
            for i in range(steps)
        )
    )


def arc(a: Point, b: Point, rise_mm: float, within_mm: float) -> Ring:
    """A circular arc from a to b as corners of chords, a included and b not.

    rise_mm: from the middle of the chord to the arc, above 0 to the left of the way from a to b, below 0 to the right
    (y down: left is out of a room walked clockwise); within_mm: no chord is farther than this from the arc.
    """
    if rise_mm == 0:
        return (a,)
    (ax, ay), (bx, by) = a, b
    half, rise = math.dist(a, b) / 2, abs(rise_mm)
    radius, turn = arc_radius(2 * half, rise), 4 * math.atan2(rise, half)
    steps = max(2, math.ceil(turn / (2 * math.acos(max(0.0, 1 - within_mm / radius)))))
    ux, uy = (bx - ax) / (2 * half), (by - ay) / (2 * half)
    nx, ny = (uy, -ux) if rise_mm > 0 else (-uy, ux)
    mx, my = (ax + bx) / 2 + nx * (rise - radius), (ay + by) / 2 + ny * (rise - radius)
    out = [a]
    for k in range(1, steps):
        v = -turn / 2 + turn * k / steps
        along, away = radius * math.sin(v), radius * math.cos(v)
        out.append((mx + ux * along + nx * away, my + uy * along + ny * away))
    return tuple(out)


def arc_radius(chord_mm: float, rise_mm: float) -> float:
    """Radius of an arc from its chord and rise, mm.

    radius = (chord x chord / 4 + rise x rise) / (2 x rise)

    Source: intersecting chords, Euclid III.35.

    >>> arc_radius(8.0, 2.0)
    5.0
    """
    return (chord_mm * chord_mm / 4 + rise_mm * rise_mm) / (2 * rise_mm)


def arc_length(chord_mm: float, rise_mm: float) -> float:
    """Length along an arc from its chord and rise, mm; the chord itself where the rise is 0.

    >>> round(arc_length(2.0, 1.0), 6)
    3.141593
    """
    if rise_mm == 0:
        return chord_mm
    return 4 * math.atan2(rise_mm, chord_mm / 2) * arc_radius(chord_mm, rise_mm)


def common(p: Polygon, q: Polygon) -> tuple[Polygon, ...]:
    """What both cover."""
    return polygons(shapely.intersection(shape(p), shape(q), grid_size=GRID_MM))


def without(p: Polygon, holes: Iterable[Polygon]) -> tuple[Polygon, ...]:
    """`p` less all of `holes`."""
    cut = shapely.union_all([shape(h) for h in holes])
    return polygons(shapely.difference(shape(p), cut, grid_size=GRID_MM))


def together(parts: Iterable[Polygon]) -> tuple[Polygon, ...]:
    """The union of all parts."""
    return polygons(shapely.union_all([shape(p) for p in parts], grid_size=GRID_MM))


def inset(p: Polygon, by_mm: float) -> tuple[Polygon, ...]:
    """The polygon with every edge moved inward by `by_mm`, corners kept sharp.

    Edges are moved along their normals (mitre); a spike of an acute corner is cut off by the polygon itself.
    """
    if by_mm == 0:
        return (p,)
    moved = shape(p).buffer(-by_mm, join_style="mitre", mitre_limit=20)
    return polygons(shapely.set_precision(moved.intersection(shape(p)), GRID_MM))


def pieces_inside(p: Polygon, s: Segment) -> tuple[Segment, ...]:
    """The parts of a straight piece that lie in the polygon, in the direction of the piece."""
    met = shape(p).intersection(LineString([s.a, s.b]))
    parts = [g for g in getattr(met, "geoms", [met]) if isinstance(g, LineString) and g.length > GRID_MM]
    if len(parts) > 1:
        merged = shapely.line_merge(shapely.MultiLineString(parts))
        parts = list(getattr(merged, "geoms", [merged]))
    out = []
    for g in parts:
        a, b = (float(g.coords[0][0]), float(g.coords[0][1])), (float(g.coords[-1][0]), float(g.coords[-1][1]))
        out.append(Segment(a, b) if math.dist(s.a, a) <= math.dist(s.a, b) else Segment(b, a))
    return tuple(sorted(out, key=lambda q: math.dist(s.a, q.a)))


def band(s: Segment, width_mm: float) -> Polygon:
    """The rectangle of a straight piece with a width, half on either side."""
    (ax, ay), (bx, by) = s.a, s.b
    length = s.length_mm
    nx, ny = -(by - ay) / length * width_mm / 2, (bx - ax) / length * width_mm / 2
    return Polygon(((ax - nx, ay - ny), (bx - nx, by - ny), (bx + nx, by + ny), (ax + nx, ay + ny)))


def cells(p: Polygon, xs: Sequence[float], ys: Sequence[float]) -> list[tuple[int, int, Polygon]]:
    """Cuts a polygon by upright and level lines: (column, row, piece), columns and rows counted from 0.

    Column i lies between xs[i-1] and xs[i]; column 0 before the first line. The pieces tile the polygon.
    """
    x0, y0, x1, y1 = bounds(p)
    xe = [x0 - 1, *xs, x1 + 1]
    ye = [y0 - 1, *ys, y1 + 1]
    found = [
        (i, j, max(xe[i], x0 - 1), max(ye[j], y0 - 1), min(xe[i + 1], x1 + 1), min(ye[j + 1], y1 + 1))
        for i in range(len(xe) - 1)
        for j in range(len(ye) - 1)
    ]
    index = [(i, j) for i, j, a, b, c, d in found if c > a and d > b]
    boxes = np.array([(a, b, c, d) for _, _, a, b, c, d in found if c > a and d > b], dtype=float) + 0.0
    whole = shape(p)
    shapely.prepare(whole)
    made = shapely.box(*boxes.T)
    inside = shapely.contains_properly(whole, made)
    made[~inside] = shapely.intersection(made[~inside], whole)
    return [
        (i, j, q)
        for (i, j), corners, within, g in zip(index, boxes.tolist(), inside.tolist(), made, strict=True)
        for q in ((box(*corners),) if within else polygons(g))
    ]


def nearest_areas(parts: Sequence[Polygon], spots: Sequence[Point]) -> tuple[float, ...]:
    """How much of the parts lies nearer to each spot than to any other, mm²; together the whole area.

    The borders are half way between neighbours. No two spots may be in one place.
    """
    floor = shapely.union_all([shape(p) for p in parts])
    if len(spots) == 1:
        return (float(floor.area),)
    points = shapely.points(np.array(spots, dtype=float))
    together = shapely.multipoints(points)
    reach = shapely.envelope(shapely.union(shapely.envelope(together), floor.envelope)).buffer(1.0)
    made = shapely.get_parts(shapely.voronoi_polygons(together, extend_to=reach))
    which, cell = shapely.STRtree(made).query(points, predicate="intersects")
    own = made[cell[np.unique(which, return_index=True)[1]]]
    shapely.prepare(floor)
    areas = shapely.area(own)
    edge = ~shapely.contains_properly(floor, own)
    near = shapely.make_valid(own[edge])  # cells of spots nearly on one circle may touch themselves
    areas[edge] = shapely.area(shapely.intersection(near, floor))
    return tuple(float(a) for a in areas)
