"""A room with the points to read and the tapes to take, before there is a plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from markupsafe import Markup

from packgen.booklet.drawing.canvas import DASHED, HEAVY, JOINT, RAIL, THIN, box_ring
from packgen.booklet.drawing.frame import BAND_MM, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, around, centred, width
from packgen.booklet.drawing.plan_view import name_margins, plan_view, scale_bar
from packgen.booklet.drawing.walls import cut_outs, names, outward, walls
from packgen.core.plane import Point, Polygon, contains
from packgen.survey.fieldwork_model import BareSurvey, Fieldwork, Named, TapeToTake
from packgen.survey.staff_points import BESIDE

CROSS_MM = 1.5  # half of a cross
CORNER_MM = 2.5  # radius of a corner's circle
ROW_MM = 4.6  # a row of column letters outside the wall
ROWS = 3
NEAR_NAME_MM = 14.0  # points that stand closer than this have no names beside them: letters at the edge say it


@dataclass(frozen=True, slots=True)
class _Bare:
    survey: BareSurvey


@dataclass(frozen=True, slots=True)
class PointsPlan:
    """A drawing, its height and its scale (1 to so many)."""

    svg: Markup
    high_mm: float
    scale: int


def points_plan(work: Fieldwork, width_mm: float, height_mm: float) -> PointsPlan:
    """Crosses named by column and row, letters and figures outside the walls, tapes."""
    plan = _Bare(BareSurvey((work.outline,)))
    zone = ROWS * ROW_MM + 1.0
    off = {"top": zone, "left": zone + 3.0}
    view = plan_view(plan, width_mm, height_mm, name_margins(plan, off))
    cut_outs(view, plan)
    walls(view, plan)
    for tape in work.tapes:
        view.line(*_ends(work, tape), DASHED)
    for line, _ in work.edges:
        view.line(line.a, line.b, JOINT)
    _edge_names(view, work.columns, 0)
    _edge_names(view, work.rows, 1)
    _corners(view, work)
    _crosses(view, work)
    for tape in work.tapes:
        _tape_name(view, work, tape)
    for line, why in work.edges:
        view.canvas.place(_along(view.at(line.a), view.at(line.b), why.removeprefix(BESIDE)), clear=True)
    names(view, plan, off=off)
    scale_bar(view)
    title = f"{work.outline.name} from above with the points to read and the tapes to take, scale 1 to {view.scale}"
    return PointsPlan(view.canvas.svg(title), view.canvas.height_mm, view.scale)


def _ends(work: Fieldwork, tape: TapeToTake) -> tuple[Point, Point]:
    corners = work.outline.corners
    return corners[tape.start - 1], corners[tape.end - 1]


def _crosses(view: PlanView, work: Fieldwork) -> None:
    """A cross a point; its name beside it where points stand far enough apart."""
    canvas = view.canvas
    spots = [view.at((p.x_mm, p.y_mm)) for p in work.points]
    for x, y in spots:
        canvas.strokes([((x - CROSS_MM, y), (x + CROSS_MM, y)), ((x, y - CROSS_MM), (x, y + CROSS_MM))], HEAVY)
        canvas.room.take((x - CROSS_MM, y - CROSS_MM, x + CROSS_MM, y + CROSS_MM), 2.0)
    if _apart_mm(work) / view.scale < NEAR_NAME_MM:
        return
    inside = Polygon(tuple(view.at(c) for c in work.outline.ring))
    for point, (x, y) in zip(work.points, spots, strict=True):
        free = around(x, y, point.name, CROSS_MM + 0.9, 3.6, True)
        canvas.place([one for one in free if _within(inside, one)] or free, clear=True)


def _apart_mm(work: Fieldwork) -> float:
    """How far apart columns, or rows, mostly stand."""
    gaps = [
        median([b - a for (_, a), (_, b) in pairwise(sorted(named, key=lambda pair: pair[1]))])
        for named in (work.columns, work.rows)
        if len(named) > 1
    ]
    return min(gaps, default=math.inf)


def _within(room: Polygon, label: Label) -> bool:
    """Whether a word stands in the room, not on or behind a wall."""
    return all(contains(room, corner, 0.0) for corner in box_ring(label.box))


def _edge_names(view: PlanView, named: Named, axis: int) -> None:
    """Letters of columns above wall 1, figures of rows at the left, in so many rows that none hides another."""
    x0, y0 = view.at((view.window.x0, view.window.y0))
    ends = [-math.inf] * ROWS
    for name, mm in named:
        x, y = view.at((mm, mm))
        at = x if axis == 0 else y
        half = (width(name, 3.9, True) if axis == 0 else 3.4) / 2 + 0.4
        row = next((k for k in range(ROWS) if ends[k] <= at - half), None)
        if row is None:
            continue
        ends[row] = at + half
        far = BAND_MM + 0.8 + (row + 0.5) * (ROW_MM if axis == 0 else ROW_MM + 1.0)
        tick = BAND_MM + 0.6
        if axis == 0:
            view.canvas.line((x, y0 - tick), (x, y0 - tick - row * ROW_MM - 0.4), THIN)
            view.canvas.label(centred(x, y0 - far, name, 3.9, True), clear=True)
        else:
            view.canvas.line((x0 - tick, y), (x0 - tick - row * (ROW_MM + 1.0) - 0.4, y), THIN)
            view.canvas.label(centred(x0 - far, y, name, 3.9, True), clear=True)


def _corners(view: PlanView, work: Fieldwork) -> None:
    """Each corner's number in a circle, outside the wall."""
    walls = work.outline.walls
    for n, wall in enumerate(walls, 1):
        (px, py), (nx, ny) = outward(walls[n - 2]), outward(wall)
        k = (BAND_MM + CORNER_MM + 0.3) / max(0.5, 1 + px * nx + py * ny)
        x, y = view.at(wall.line.a)
        x, y = x + (px + nx) * k, y + (py + ny) * k
        view.canvas.discs([(x, y)], CORNER_MM, "#fff", RAIL)
        view.canvas.room.take((x - CORNER_MM, y - CORNER_MM, x + CORNER_MM, y + CORNER_MM), 3.0)
        view.canvas.label(centred(x, y, str(n), LEAST_MM, True))


def _tape_name(view: PlanView, work: Fieldwork, tape: TapeToTake) -> None:
    a, b = (view.at(p) for p in _ends(work, tape))
    text = f"tape {tape.start} to {tape.end}"
    view.canvas.place(_along(a, b, text), clear=True)


def _along(a: Point, b: Point, text: str) -> Iterator[Label]:
    for t in (0.5, 0.4, 0.6, 0.3, 0.7, 0.35, 0.65, 0.45, 0.55, 0.25, 0.75, 0.2, 0.8):
        yield centred(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, text)
