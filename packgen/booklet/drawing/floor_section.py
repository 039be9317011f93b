"""A section through the whole floor: base, rail top and the depth between them along one straight line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, HEAVY, THIN, Canvas
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.core.figures import level, whole
from packgen.core.plane import Point, Segment, bounds, pieces_inside
from packgen.core.profile import profile
from packgen.plan import Plan

SCALES = (10, 20, 25, 50, 100, 200, 500, 1000)
STRETCHED = (20, 10, 5, 2, 1)  # heights so many times as large as lengths
LEFT_MM, RIGHT_MM = 40.0, 6.0
TOP_MM, GROUND_MM = 6.0, 3.0
MOST_HIGH_MM = 15.0
APART_MM = 9.0  # between two figures on paper

Profile = tuple[tuple[float, float], ...]
Put = Callable[[float, float], Point]  # place along the line and level to paper


@dataclass(frozen=True, slots=True)
class FloorSection:
    """The drawing with its height on paper and the line that says what it shows."""

    drawing: Markup
    high_mm: float
    caption: str


@dataclass(frozen=True, slots=True)
class _Part:
    """One stretch of floor on the line: where it starts along the line, and both profiles from there."""

    start: float
    length: float
    base: Profile
    top: Profile


def floor_section(
    plan: Plan, at: Point, way: Literal["along", "across"], through: str, paper_mm: float
) -> FloorSection:
    """A section along wall 1 or across it through a place. through: what lies there, for example "smallest depth"."""
    k = 0 if way == "along" else 1
    parts = _parts(plan, at, k)
    low = min(z for p in parts for _, z in p.base)
    high = max(z for p in parts for _, z in p.top)
    first, last = parts[0].start, parts[-1].start + parts[-1].length
    scale = next((s for s in SCALES if (last - first) / s <= paper_mm - LEFT_MM - RIGHT_MM), SCALES[-1])
    stretch = next((s for s in STRETCHED if (high - low) * s / scale <= MOST_HIGH_MM), 1)
    tall = (high - low) * stretch / scale
    canvas = Canvas(paper_mm, TOP_MM + tall + GROUND_MM + 1.0)

    def put(d: float, z: float) -> Point:
        return (LEFT_MM + (d - first) / scale, TOP_MM + (high - z) * stretch / scale)

    for p in parts:
        _draw(canvas, p, put)
    _figures(canvas, parts, put, at[k])
    name = plan.project.datum.name
    start = parts[0]
    for what, line, down in (("rail top", start.top, 1.1), ("base", start.base, 1.1)):
        x, y = put(first, line[0][1])
        canvas.words(x - 3.5, y + down, f"{what} {level(line[0][1], name)}", anchor="end")
    other = f"{whole(at[1 - k])} {'from wall 1' if k == 0 else 'along wall 1'}"
    where = f"{'Along wall 1' if k == 0 else 'From wall 1 into the room'}, {other}, through the {through}."
    caption = f"{where} Scale 1:{scale}" + (f", heights x {stretch}." if stretch > 1 else ".")
    return FloorSection(canvas.svg(f"Section of the floor. {caption}"), canvas.height_mm, caption)


def _parts(plan: Plan, at: Point, k: int) -> list[_Part]:
    """The stretches of the floor's outline on the line, in order."""
    out = []
    for floor in plan.layout.floor:
        x0, y0, x1, y1 = bounds(floor)
        line = Segment((x0 - 1, at[1]), (x1 + 1, at[1])) if k == 0 else Segment((at[0], y0 - 1), (at[0], y1 + 1))
        for piece in pieces_inside(floor, line):
            if piece.length_mm > 1:
                base, top = profile(plan.survey.base, piece), profile(plan.heights.rail_top, piece)
                out.append(_Part(piece.a[k], piece.length_mm, base, top))
    return sorted(out, key=lambda p: p.start)


def _draw(canvas: Canvas, part: _Part, put: Put) -> None:
    """Base with hatch below, rail top, and the ends of the floor."""
    base, top = ([put(part.start + d, z) for d, z in line] for line in (part.base, part.top))
    below = [*base, *((x, y + GROUND_MM) for x, y in reversed(base))]
    canvas.strokes(hatched([[below]], 45, 2.0), THIN)
    canvas.path(base, CUT)
    canvas.path(top, HEAVY)
    for b, t in ((base[0], top[0]), (base[-1], top[-1])):
        canvas.line(b, t, CUT)


def _figures(canvas: Canvas, parts: Sequence[_Part], put: Put, through: float) -> None:
    """Depths with their ordinates: the place the line goes through, then ends, folds, and what lies between."""
    spots: list[tuple[int, float, _Part]] = []
    for p in parts:
        folds = {d for d, _ in (*p.base, *p.top)}
        folds |= {round(p.length * n / 8) for n in range(1, 8)}
        for d in sorted({0.0, p.length, *folds}):
            rank = 1 if d in (0.0, p.length) else 2 if any(abs(d - x) < 1e-6 for x, _ in p.base) else 3
            spots.append((rank, d, p))
        if p.start - 1 <= through <= p.start + p.length + 1:
            spots.append((0, min(max(through - p.start, 0.0), p.length), p))
    taken: list[tuple[float, float]] = []
    for rank, d, p in sorted(spots, key=lambda s: (s[0], s[1] + s[2].start)):
        top, base = _at(p.top, d), _at(p.base, d)
        words = str(whole(top - base))
        x, y = put(p.start + d, top)
        half = width(words, LEAST_MM, rank == 0) / 2
        if any(abs(x - t) < max(APART_MM, half + h + 2.0) for t, h in taken):
            continue
        taken.append((x, half))
        canvas.line((x, y), put(p.start + d, base), THIN)
        canvas.label(Label(x, y - 1.8, words, LEAST_MM, rank == 0))


def _at(line: Profile, d: float) -> float:
    """Level of a profile at a distance."""
    for (a, za), (b, zb) in pairwise(line):
        if a - 1e-6 <= d <= b + 1e-6:
            return za if b - a < 1e-9 else za + (zb - za) * (d - a) / (b - a)
    return line[-1][1]
