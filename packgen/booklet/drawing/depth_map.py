"""Where the fill is thin and thick: hatch bands and contours, exact on the flat facets of base and rail top.

Depth is linear over each facet, so a band is the facet between two parallel lines and a contour a straight piece of
it: nothing is sampled.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from packgen.booklet.drawing.canvas import CUT, RAIL, THIN, Canvas, Pen, box_ring
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.hatch import Stroke, chords, hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, centred, width
from packgen.core.plane import Point, Polygon, Ring, bounds, common, pairs
from packgen.core.surface import Facet, Surface

STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
BANDS = 5
# angle and spacing of the hatch of each band, thin to thick; lines 0.25 every 2 mm and more survive copying
HATCHES: tuple[tuple[tuple[float, float], ...], ...] = (
    (),
    ((45.0, 6.0),),
    ((45.0, 3.0),),
    ((45.0, 3.0), (135.0, 6.0)),
    ((45.0, 2.4), (135.0, 2.4)),
)


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the floor over which depth is one plane: depth(x, y) = a + bx x + by y, mm."""

    rings: tuple[Ring, ...]
    a: float
    bx: float
    by: float

    def depth(self, p: Point) -> float:
        return self.a + self.bx * p[0] + self.by * p[1]


def depth_pieces(top: Surface, base: Surface, floor: Sequence[Polygon]) -> tuple[Piece, ...]:
    """The floor cut by the facets of both surfaces."""
    out = []
    for part in floor:
        for upper, area in _cut(part, top.facets):
            for lower, piece in _cut(area, base.facets):
                rings = (piece.shell, *piece.holes)
                a, bx = upper.at_origin_mm - lower.at_origin_mm, upper.slope_x - lower.slope_x
                out.append(Piece(rings, a, bx, upper.slope_y - lower.slope_y))
    return tuple(out)


def _cut(part: Polygon, facets: Sequence[Facet]) -> list[tuple[Facet, Polygon]]:
    if len(facets) == 1:
        return [(facets[0], part)]
    x0, y0, x1, y1 = bounds(part)
    out = []
    for facet in facets:
        xs, ys = [p[0] for p in facet.ring], [p[1] for p in facet.ring]
        if max(xs) > x0 and min(xs) < x1 and max(ys) > y0 and min(ys) < y1:
            out += [(facet, q) for q in common(part, Polygon(facet.ring))]
    return out


def band_limits(least: float, most: float) -> tuple[float, ...]:
    """Limits of at most five equal bands, whole multiples of 1, 2, 5, 10 ... mm, that hold all depths.

    >>> band_limits(65.7, 74.2), band_limits(70.0, 70.0)
    ((65.0, 70.0, 75.0), (70.0, 71.0))
    """
    for step in STEPS:
        low, high = math.floor(least / step + 1e-9), math.ceil(most / step - 1e-9)
        if high - low <= BANDS or step == STEPS[-1]:
            return tuple(step * k for k in range(low, max(high, low + 1) + 1))
    raise AssertionError("the steps end with the last")


def kept(ring: Sequence[Point], piece: Piece, limit: float, above: bool) -> list[Point]:
    """The part of a ring where the depth is above or below a limit. Overlapping edges cancel in an even-odd fill."""
    sign = 1.0 if above else -1.0
    out: list[Point] = []
    for p, q in pairs(ring):
        s, t = sign * (piece.depth(p) - limit), sign * (piece.depth(q) - limit)
        if s >= 0:
            out.append(p)
        if (s >= 0) != (t >= 0):
            f = s / (s - t)
            out.append((p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f))
    return out


def band_rings(pieces: Sequence[Piece], low: float, high: float, lowest: bool = False) -> list[list[Ring]]:
    """The floor between two depths, as rings by facet; what lies at the lower one throughout only in the lowest."""
    out = []
    for piece in pieces:
        depths = [piece.depth(p) for p in piece.rings[0]]
        if max(depths) < low or (max(depths) == low and not lowest) or min(depths) > high:
            continue
        rings = []
        for ring in piece.rings:
            cut = kept(ring, piece, low, True)
            cut = kept(cut, piece, high, False) if cut else cut
            if len(cut) > 2:
                rings.append(tuple(cut))
        if rings:
            out.append(rings)
    return out


def contours(pieces: Sequence[Piece], limits: Sequence[float]) -> list[tuple[float, list[Point]]]:
    """Contour lines as (depth, places in order), the straight pieces of neighbouring facets joined."""
    out = []
    for limit in limits:
        strokes: list[Stroke] = []
        for piece in pieces:
            steep = math.hypot(piece.bx, piece.by)
            depths = [piece.depth(p) for p in piece.rings[0]]
            if steep < 1e-9 or not min(depths) < limit < max(depths):
                continue
            k = (limit - piece.a) / steep**2
            at = (piece.bx * k, piece.by * k)
            angle = math.degrees(math.atan2(piece.bx, -piece.by))
            ux, uy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            strokes += [
                ((at[0] + ux * s, at[1] + uy * s), (at[0] + ux * t, at[1] + uy * t))
                for s, t in chords(piece.rings, at, angle)
            ]
        out += [(limit, run) for run in chained(strokes)]
    return out


def chained(strokes: Sequence[Stroke], near: float = 0.5) -> list[list[Point]]:
    """Strokes joined end to end to runs, longest first."""

    def key(p: Point) -> tuple[int, int]:
        return (round(p[0] / near), round(p[1] / near))

    ends: dict[tuple[int, int], list[int]] = {}
    for i, (a, b) in enumerate(strokes):
        ends.setdefault(key(a), []).append(i)
        ends.setdefault(key(b), []).append(i)
    used: set[int] = set()
    runs: list[list[Point]] = []
    for i, (a, b) in enumerate(strokes):
        if i in used:
            continue
        used.add(i)
        run = [a, b]
        for _ in range(2):
            while True:
                nexts = [j for j in ends[key(run[-1])] if j not in used]
                if not nexts:
                    break
                used.add(nexts[0])
                p, q = strokes[nexts[0]]
                run.append(q if key(p) == key(run[-1]) else p)
            run.reverse()
        runs.append(run)
    return sorted(runs, key=lambda r: -sum(math.dist(p, q) for p, q in pairwise(r)))


# --------------------------------------------------------------------------------- on paper


def draw_bands(view: PlanView, pieces: Sequence[Piece], limits: Sequence[float]) -> None:
    """The hatch of each band, the thinnest without."""
    for k, (low, high) in enumerate(pairwise(limits)):
        shapes = [
            [tuple(view.at(p) for p in ring) for ring in rings] for rings in band_rings(pieces, low, high, k == 0)
        ]
        for angle, spacing in HATCHES[min(k, BANDS - 1)]:
            view.canvas.strokes(hatched(shapes, angle, spacing), THIN)


def draw_contours(
    view: PlanView,
    pieces: Sequence[Piece],
    limits: Sequence[float],
    pen: Pen = CUT,
    words: Callable[[float], str] = lambda mm: f"{mm:.0f}",
) -> None:
    """Contours, each longer one with its figure on the line."""
    found = contours(pieces, limits[1:-1])
    for _, run in found:
        paper = [view.at(p) for p in run]
        view.canvas.path(paper, pen)
        for a, b in pairwise(paper):
            view.canvas.room.take_line(a, b, 0.4)
    for limit, run in found:
        paper = [view.at(p) for p in run]
        if sum(math.dist(p, q) for p, q in pairwise(paper)) < 14:
            continue
        spots = [_part_way(paper, f) for f in (0.5, 0.35, 0.65, 0.2, 0.8)]
        view.canvas.place([centred(x, y, words(limit), LEAST_MM, True) for x, y in spots], 8.0, clear=True)


def _part_way(run: Sequence[Point], part: float) -> Point:
    lengths = [math.dist(p, q) for p, q in pairwise(run)]
    left = part * sum(lengths)
    for (p, q), length in zip(pairwise(run), lengths, strict=True):
        if left <= length and length > 0:
            f = left / length
            return (p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f)
        left -= length
    return run[-1]


def band_key(canvas: Canvas, y: float, limits: Sequence[float]) -> None:
    """The key of the bands in one row: a box of each hatch and "66 to 68" beside it; y is its middle."""
    items = list(pairwise(limits))
    words = [f"{low:.0f} to {high:.0f}" for low, high in items]
    wide = sum(14.0 + width(w, LEAST_MM) for w in words)
    x = (canvas.width_mm - wide) / 2
    for k, word in enumerate(words):
        ring = box_ring((x, y - 2.5, x + 9, y + 2.5))
        for angle, spacing in HATCHES[min(k, BANDS - 1)]:
            canvas.strokes(hatched([[ring]], angle, spacing), THIN)
        canvas.path(ring, RAIL, close=True)
        canvas.label(Label(x + 10 + width(word, LEAST_MM) / 2, y + 0.36 * LEAST_MM, word))
        x += 14.0 + width(word, LEAST_MM)


def extreme(view: PlanView, at: Point, words: str, kind: str) -> None:
    """A solid triangle at the thinnest (point up: the base stands high) or thickest place, with its words."""
    if not view.shows(at, 1.0):
        return
    x, y = view.at(at)
    d = 1.8 if kind == "least" else -1.8
    view.canvas.area([[(x, y - d), (x + 1.8, y + d * 0.8), (x - 1.8, y + d * 0.8)]], "#000", THIN)
    view.canvas.room.take((x - 2, y - 2, x + 2, y + 2), 3.0)
    half = width(words, 3.9, True) / 2
    base = y + 0.36 * 3.9
    spots = [
        Label(x + 2.6 + half, base, words, 3.9, True),
        Label(x - 2.6 - half, base, words, 3.9, True),
        Label(x, y - 3.2, words, 3.9, True),
        Label(x, y + 6.0, words, 3.9, True),
        Label(x + half, y - 3.2, words, 3.9, True),
        Label(x - half, y - 3.2, words, 3.9, True),
        Label(x + half, y + 6.0, words, 3.9, True),
        Label(x - half, y + 6.0, words, 3.9, True),
    ]
    view.canvas.place(spots, clear=True)
