"""Running dimensions: from one corner only, a tick at each line, the figure upright above its tick, then its mark.

A tape hooked once in a corner reads every line on that wall. Nothing is chained.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packgen.booklet.drawing.canvas import CUT, THIN, arrow_head
from packgen.booklet.drawing.frame import BAND_MM, PlanView
from packgen.booklet.drawing.labels import FIGURE_MM, LEAST_MM, centred, width
from packgen.booklet.drawing.leaders import spread
from packgen.booklet.drawing.plan_marks import MARK_MM, mark
from packgen.core.figures import whole
from packgen.core.plane import Point
from packgen.layout.model import Line
from packgen.plan import Plan
from packgen.survey.model import RoomOutline

SIZES = (FIGURE_MM, 3.9, LEAST_MM)
DIM_OFF = BAND_MM + 1.5  # of the dimension line from the wall
AIR_MM = 1.2  # between figures that stand beside each other
SLANT_MM = 3.0  # height of the slanted lines to figures that moved
MOST_SHIFT_MM = 7.0  # farthest a figure moves from its tick
CLASH_MM2 = 6.0  # figures and marks that would lie on others by more than this are left out
STRAIGHT_MM = 8.0  # a wall that leans less than this on paper has its figures in one row


@dataclass(frozen=True, slots=True)
class Hit:
    """Where a line to set out meets a wall: the place, and the distance from the wall's corner nearer to corner 1."""

    line: Line
    end: int  # 0 the near end (wall 1, last wall), 1 the far one
    wall: str
    at: Point
    along_mm: float
    corner: Point


def line_hits(plan: Plan, room: RoomOutline) -> tuple[Hit, ...]:
    """Both ends of every line of the room on the walls on which it is measured."""
    walls = {w.name: w for w in room.walls}
    out = []
    for line in (ln for ln in plan.layout.lines if ln.room == room.name):
        i = 0 if line.kind == "lettered" else 1
        for end, name, along in ((0, line.first_wall, line.first_mm), (1, line.second_wall, line.second_mm)):
            if name not in walls:
                continue
            a, b = sorted((walls[name].line.a, walls[name].line.b), key=lambda p: (p[i], p[1 - i]))
            f = along / math.dist(a, b)
            at = (a[0] + (b[0] - a[0]) * f, a[1] + (b[1] - a[1]) * f)
            out.append(Hit(line, end, name, at, along, a))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class Rank:
    """The figures and marks of one side: their size, the place of each along the wall, and in which row each stands.

    Figure and mark of one line stand together; where lines are close they move apart and a short slanted line joins
    figure and tick. Where that would move them too far they stand in several rows instead, in their own places.
    """

    size: float
    places: tuple[float, ...]
    figures: tuple[int, ...]
    marks: tuple[int, ...]
    slanted: bool

    def first(self) -> float:
        """From the dimension line to the first row of figures."""
        return 1.0 + (SLANT_MM if self.slanted else 0.0)

    def depth(self, widest: float, level: bool) -> float:
        """Paper mm from the wall to the outside of the marks."""
        rows, marks = max(self.figures, default=0) + 1, max(self.marks, default=0) + 1
        return DIM_OFF + self.first() + rows * row_step(self.size, widest, level) + 0.6 + marks * (2 * MARK_MM + 0.4)


def row_step(size: float, widest: float, level: bool) -> float:
    """From one row of figures to the next: their height along a level wall, their width along an upright one."""
    return size + 0.6 if level else widest + 1.0


def _rows(places: Sequence[float], halves: Sequence[float], air: float) -> tuple[int, ...]:
    """For things in a row, the first row in which each stands clear of the one before."""
    last: list[float] = []
    out = []
    for place, half in zip(places, halves, strict=True):
        for k, edge in enumerate(last):
            if place - half >= edge + air:
                last[k] = place + half
                out.append(k)
                break
        else:
            last.append(place + half)
            out.append(len(last) - 1)
    return tuple(out)


def rank(places: Sequence[float], figures: Sequence[str], level: bool, size: float) -> Rank:
    """Where figures of one size and their marks stand along a level wall (beside each other) or an upright one."""
    halves = [width(f, size, True) / 2 if level else 0.42 * size for f in figures]
    air = AIR_MM if level else 0.5
    needs = [2 * max(half + air / 2, MARK_MM + 0.1) for half in halves]
    tops = spread([p - n / 2 for p, n in zip(places, needs, strict=True)], needs, -math.inf, 0.0)
    moved = tuple(t + n / 2 for t, n in zip(tops, needs, strict=True))
    shift = max((abs(m - p) for m, p in zip(moved, places, strict=True)), default=0.0)
    if shift <= MOST_SHIFT_MM:
        none = (0,) * len(places)
        return Rank(size, moved, none, none, shift > 0.3)
    rows = _rows(places, halves, air)
    return Rank(size, tuple(places), rows, _rows(places, [MARK_MM] * len(places), 0.2), False)


@dataclass(frozen=True, slots=True)
class Side:
    """All hits of one kind and end on one wall, sorted along it."""

    hits: tuple[Hit, ...]

    @property
    def level(self) -> bool:
        """Whether the figures stand beside each other, at lettered lines."""
        return self.hits[0].line.kind == "lettered"

    @property
    def name(self) -> str:
        """Which side of the paper: left, top, right, bottom."""
        return (("left", "right"), ("top", "bottom"))[self.level][self.hits[0].end]

    def places(self, scale: float) -> list[float]:
        i = 0 if self.level else 1
        return [h.at[i] / scale for h in self.hits]

    def figures(self) -> list[str]:
        return [str(whole(h.along_mm)) for h in self.hits]


def sides(hits: Iterable[Hit]) -> tuple[Side, ...]:
    """Hits gathered by kind, end and wall."""
    groups: dict[tuple[str, int, str], list[Hit]] = {}
    for h in hits:
        groups.setdefault((h.line.kind, h.end, h.wall), []).append(h)
    return tuple(Side(tuple(sorted(g, key=lambda h: h.line.at_mm))) for g in groups.values())


def figure_size(all_sides: Sequence[Side], scale: float) -> float:
    """One size for a whole plan: the largest at which all figures stand in one row, else the smallest."""
    for size in SIZES[:-1]:
        ranks = [rank(side.places(scale), side.figures(), side.level, size) for side in all_sides]
        if not any(any(r.figures) for r in ranks):
            return size
    return SIZES[-1]


def depths(all_sides: Sequence[Side], scale: float) -> dict[str, float]:
    """Paper needed outside the walls on each side of the sheet for dimensions and marks."""
    need = dict.fromkeys(("left", "top", "right", "bottom"), DIM_OFF)
    size = figure_size(all_sides, scale)
    for side in all_sides:
        r = rank(side.places(scale), side.figures(), side.level, size)
        widest = max(width(f, r.size, True) for f in side.figures())
        need[side.name] = max(need[side.name], r.depth(widest, side.level))
    return need


def in_order(all_sides: Iterable[Side]) -> list[Side]:
    """Sides in the order of drawing: those at wall 1 and the last wall first, then by the number of lines."""
    return sorted(all_sides, key=lambda s: (s.hits[0].end, -len(s.hits), s.hits[0].wall))


def running(view: PlanView, side: Side, size: float) -> None:
    """Draws one side's running dimension, its figures of a size, with the marks beyond.

    Where two sides meet in an inner corner their zones overlap: there the side drawn later leaves out what would lie
    on the other; the line keeps the mark at its other end and its row in the table.
    """
    canvas = view.canvas
    shown = [h for h in side.hits if view.shows(h.at, 0.5)]
    if not shown:
        return
    i = 0 if side.level else 1
    out = -1 if side.hits[0].end == 0 else 1
    spots = [view.at(h.at) for h in shown]
    across = [p[1 - i] for p in spots]
    one_row = max(across) - min(across) <= STRAIGHT_MM
    extreme = min(across) if out < 0 else max(across)
    base = [extreme if one_row else c for c in across]
    places = [p[i] for p in spots]
    figures = [str(whole(h.along_mm)) for h in shown]
    r = rank(places, figures, side.level, size)
    step = row_step(r.size, max(width(f, r.size, True) for f in figures), side.level)
    figure_rows = max(r.figures) + 1

    def at(place: float, across: float) -> Point:
        return (place, across) if side.level else (across, place)

    lines = [b + out * DIM_OFF for b in base]
    corner = view.at(shown[0].corner)[i]
    start = corner if view.shows(shown[0].corner, 0.5) else min(places) - 3.0
    if one_row:
        canvas.line(at(start, lines[0]), at(max(places), lines[0]), THIN, taken=True)
        if view.shows(shown[0].corner, 0.5):
            canvas.circle(at(start, lines[0]), 0.8, CUT)
        else:
            canvas.area([arrow_head(at(start, lines[0]), at(start + 5, lines[0]), 2.0)], "#000")
    for k, (place, line, figure, h) in enumerate(zip(places, lines, figures, shown, strict=True)):
        there, fr, mr = r.places[k], r.figures[k], r.marks[k]
        near = r.first() + fr * step
        ring = r.first() + 0.6 + figure_rows * step + MARK_MM + mr * (2 * MARK_MM + 0.4)
        half = step / 2 if side.level else width(figure, r.size, True) / 2 + 0.3
        label = centred(*at(there, line + out * (near + half)), figure, r.size, True)
        (mx, my), m = at(there, line + out * ring), MARK_MM
        if canvas.room.cost(label.box) + canvas.room.cost((mx - m, my - m, mx + m, my + m)) > CLASH_MM2:
            continue
        canvas.line(at(place, line - 1.2), at(place, line + 1.2), CUT)
        if r.slanted or fr:
            canvas.line(at(place, line + out * 1.2), at(there, line + out * near), THIN)
        if fr < figure_rows - 1 or mr:
            canvas.line(at(there, line + out * (near + 0.4 + step)), at(there, line + out * (ring - MARK_MM)), THIN)
        canvas.label(label, clear=True)
        mark(canvas, (mx, my), h.line.name)
