"""Layers of a plan: grid lines with their marks, rails, legs by sign, joints, services, readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from packgen.booklet.drawing.canvas import CUT, HEAVY, HIDDEN, JOINT, RAIL, SERVICE, THIN, Canvas, Pen, box_ring
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, around, centred, width
from packgen.core.plane import Point, Segment
from packgen.heights.model import LegSetting
from packgen.layout.model import Line, Node
from packgen.plan import Plan

MARK_MM = 3.1  # radius of the circle with a line's letter or number
SIGN_MM = 1.1  # half the width of a leg's sign
FIGURES_FROM_MM = 5.5  # places closer than this cannot all have a figure


# --------------------------------------------------------------------------------- lines


def line_runs(plan: Plan, line: Line) -> tuple[Segment, ...]:
    """Where a line's rails run, from wall to wall, room mm."""
    return tuple(Segment(r.start, r.end) for r in plan.layout.rails if r.line == line.name)


def line_ends(plan: Plan, line: Line) -> tuple[Point, Point] | None:
    """First and last end of all rails of a line; None for a line that carries no rail."""
    ends = [p for s in line_runs(plan, line) for p in (s.a, s.b)]
    if not ends:
        return None
    axis = 1 if line.kind == "lettered" else 0
    low, high = min(ends, key=lambda p: p[axis]), max(ends, key=lambda p: p[axis])
    return ((line.at_mm, low[1]), (line.at_mm, high[1])) if axis else ((low[0], line.at_mm), (high[0], line.at_mm))


def rails(view: PlanView, plan: Plan, pen: Pen = RAIL, only: Callable[[str], bool] | None = None) -> None:
    """The rails as single lines; `only` says which lines."""
    for rail in plan.layout.rails:
        if only is None or only(rail.line):
            view.line(rail.start, rail.end, pen)


def mark_radius(view: PlanView, plan: Plan) -> float:
    """Radius of the lines' circles: smaller where lines at the module would crowd them."""
    return max(2.7, min(MARK_MM, plan.project.kit.module / view.scale / 2 - 0.1))


def mark_rows(view: PlanView, plan: Plan) -> int:
    """In how many rows the circles have to stand so that none hides another, two at most."""
    need = 2 * mark_radius(view, plan) + 0.2
    for kind in ("lettered", "numbered"):
        at = sorted(ln.at_mm / view.scale for ln in plan.layout.lines if ln.kind == kind)
        if any(b - a < need for a, b in pairwise(at)):
            return 2
    return 1


def line_marks(view: PlanView, plan: Plan, off_mm: float, both: bool = True) -> None:
    """Letters and numbers in circles at both ends of each line, `off_mm` of paper outside the floor.

    Lines closer than a circle on paper keep their circles apart by standing in two rows; what finds no place in
    either is left out: such plans show where things are, the set-out plan has every mark.
    """
    radius = mark_radius(view, plan)
    for kind, axis in (("lettered", 0), ("numbered", 1)):
        lines = sorted((ln for ln in plan.layout.lines if ln.kind == kind), key=lambda ln: (not ln.own, ln.at_mm))
        for end in (0, 1) if both else (0,):
            taken: tuple[list[float], list[float]] = ([], [])
            for line in lines:
                ends = line_ends(plan, line)
                if ends is None or not view.shows(ends[end], 1.0):
                    continue
                x, y = view.at(ends[end])
                out = -1 if end == 0 else 1
                along = (x, y)[axis]
                row = next((r for r in (0, 1) if all(abs(along - t) >= 2 * radius + 0.2 for t in taken[r])), None)
                if row is None:
                    continue
                taken[row].append(along)
                away = out * (off_mm + radius + row * (2 * radius + 0.4))
                at = (x, y + away) if axis == 0 else (x + away, y)
                foot = (x, y + out * 0.5) if axis == 0 else (x + out * 0.5, y)
                stop = (at[0], at[1] - out * radius) if axis == 0 else (at[0] - out * radius, at[1])
                view.canvas.line(foot, stop, THIN)
                mark(view.canvas, at, line.name, radius)


def mark(canvas: Canvas, at: Point, name: str, radius: float = MARK_MM) -> None:
    """A letter or number in a circle."""
    canvas.discs([at], radius, "#fff", RAIL)
    canvas.room.take((at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius))
    size = 3.9 if width(name, 3.9, True) <= 1.7 * radius else LEAST_MM
    canvas.label(centred(at[0], at[1], name, size, True))


# --------------------------------------------------------------------------------- legs


def sign(leg: LegSetting) -> str:
    """Which sign a leg bears: "plain", "extension", "packing" or "does not fit"."""
    return "does not fit" if not leg.fits else leg.parts


def sign_shape(canvas: Canvas, at: Point, kind: str, half: float = SIGN_MM, ring: bool = False) -> None:
    """One leg: plain circle, extension square, packing oblong, does not fit circled cross; a master is ringed."""
    x, y = at
    if ring:
        canvas.discs([at], half * 1.9, "#fff", RAIL)
    if kind == "extension":
        canvas.area([box_ring((x - half, y - half, x + half, y + half))], "#fff", RAIL)
    elif kind == "packing":
        canvas.area([box_ring((x - 1.5 * half, y - 0.7 * half, x + 1.5 * half, y + 0.7 * half))], "#fff", RAIL)
    else:
        canvas.discs([at], half, "#fff", RAIL)
    if kind == "does not fit":
        d = half * 0.7
        canvas.discs([at], half * 1.5, "#fff", Pen(0.5))
        canvas.strokes([((x - d, y - d), (x + d, y + d)), ((x - d, y + d), (x + d, y - d))], Pen(0.5))


def legs(
    view: PlanView,
    plan: Plan,
    text: Callable[[Node, LegSetting], str] | None = None,
    masters: bool = True,
    half: float = SIGN_MM,
    only: Callable[[Node], bool] | None = None,
    size: float = LEAST_MM,
    bold: bool = False,
) -> None:
    """Every leg by its sign, with a word beside it where `text` gives one and there is room."""
    settings = {leg.node: leg for leg in plan.heights.legs}
    shown = [n for n in plan.layout.nodes if n.id in settings and view.shows(n.at, 0.5) and (only is None or only(n))]
    plain_spots, rings = [], []
    for node in shown:
        leg, at = settings[node.id], view.at(node.at)
        ring = masters and leg.master
        reach = half * (1.9 if ring else 1.5 if not leg.fits else 1.0)
        view.canvas.room.take((at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach), 3.0)
        if sign(leg) == "plain":
            plain_spots.append(at)
            if ring:
                rings.append(at)
        else:
            sign_shape(view.canvas, at, sign(leg), half, ring)
    view.canvas.discs(rings, half * 1.9, "#fff", RAIL)
    view.canvas.discs(plain_spots, half, "#fff", RAIL)
    for node in shown:
        leg = settings[node.id]
        words = text(node, leg) if text else ""
        if words:
            x, y = view.at(node.at)
            reach = half * (1.9 if masters and leg.master else 1.3)
            view.canvas.place(around(x, y, words, reach + 0.3, size, bold), most_cost=1.2 * size, clear=bold)


@dataclass(frozen=True, slots=True)
class Sign:
    """An entry of a legend: a kind of leg sign, or "ring", "reading" or a line; and its words."""

    kind: str
    words: str


def leg_signs(plan: Plan) -> tuple[Sign, ...]:
    """Legend of the leg signs that this plan uses."""
    used = {sign(leg) for leg in plan.heights.legs}
    wanted = (
        ("plain", "leg"),
        ("extension", "with extension"),
        ("packing", "on packing"),
        ("does not fit", "does not fit"),
    )
    out = [Sign(kind, words) for kind, words in wanted if kind in used]
    if any(leg.master for leg in plan.heights.legs):
        out.insert(1, Sign("ring", "master, set by laser"))
    return tuple(out)


STEP = Pen(0.7, "3 1")  # a step in the base
LINES = {"rail": RAIL, "joint": JOINT, "service": SERVICE, "hidden": HIDDEN, "heavy": HEAVY, "step": STEP, "cut": CUT}


def legend(canvas: Canvas, y: float, entries: Iterable[Sign], left: float = 0.0) -> None:
    """Signs and their words in one row, centred on the canvas but not before `left`; y is the middle of the row."""
    items = list(entries)
    samples = [13.0 if e.kind in LINES else 6.0 for e in items]
    wide = sum(s + 4.0 + width(e.words, LEAST_MM) for s, e in zip(samples, items, strict=True))
    x = max(left, (canvas.width_mm - wide) / 2)
    for entry, sample in zip(items, samples, strict=True):
        at = (x + 2.5, y)
        if entry.kind == "ring":
            sign_shape(canvas, at, "plain", ring=True)
        elif entry.kind == "reading":
            cross(canvas, at)
        elif entry.kind == "test":
            diamond(canvas, at)
        elif entry.kind == "crossing":
            canvas.circle(at, 1.6, Pen(0.5))
        elif entry.kind == "foot":
            canvas.discs([at], 0.9, "#000", RAIL)
        elif entry.kind in ("high", "low"):
            triangle(canvas, at, entry.kind == "high")
        elif entry.kind in LINES:
            canvas.line((x, y), (x + 11.5, y), LINES[entry.kind])
        else:
            sign_shape(canvas, at, entry.kind)
        canvas.words(x + sample, y + 0.36 * LEAST_MM, entry.words, anchor="start")
        x += sample + 4.0 + width(entry.words, LEAST_MM)


# --------------------------------------------------------------------------------- joints, services, readings


def joints(view: PlanView, plan: Plan, words: bool = True) -> None:
    """Joints dash-dot with the word on the line."""
    for joint in plan.layout.joints:
        view.line(joint.line.a, joint.line.b, JOINT)
        if words:
            _on_line(view, joint.line, f"{joint.kind} joint")


def services(view: PlanView, plan: Plan, words: bool = True, only: Callable[[str], bool] | None = None) -> None:
    """Services as long dashes, with their names unless these are to be written last."""
    for run in plan.layout.services:
        if only is None or only(run.name):
            for s in run.stretches:
                view.line(s.a, s.b, SERVICE)
    if words:
        service_names(view, plan, only)


def service_names(view: PlanView, plan: Plan, only: Callable[[str], bool] | None = None) -> None:
    """The name of each service once, on one of its longest stretches that show."""
    for run in plan.layout.services:
        if only is not None and not only(run.name):
            continue
        seen = [s for s in run.stretches if view.shows(_middle(s))]
        seen.sort(key=lambda s: (-round(s.length_mm), s.a))
        if seen:
            longest = [s for s in seen if s.length_mm >= 0.9 * seen[0].length_mm]
            _on_line(view, longest[len(longest) // 2], run.name)


def _middle(s: Segment) -> Point:
    return ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)


def _on_line(view: PlanView, s: Segment, text: str) -> None:
    """A word on its line, the line hidden under it, at the first part of the line that is free."""
    spots = []
    for f in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
        p = (s.a[0] + (s.b[0] - s.a[0]) * f, s.a[1] + (s.b[1] - s.a[1]) * f)
        if view.shows(p, -2.0):
            spots.append(centred(*view.at(p), text))
    view.canvas.place(spots, clear=True)


def cross(canvas: Canvas, at: Point, half: float = 1.1, pen: Pen = THIN) -> None:
    """The small cross of a reading."""
    x, y = at
    canvas.strokes([((x - half, y), (x + half, y)), ((x, y - half), (x, y + half))], pen)


def triangle(canvas: Canvas, at: Point, up: bool, half: float = 1.6) -> None:
    """A solid triangle: point up for a high place, down for a low one."""
    x, y = at
    tip, foot = (y - 1.3, y + 1.1) if up else (y + 1.3, y - 1.1)
    canvas.area([[(x, tip), (x + half, foot), (x - half, foot)]], "#000")


def diamond(canvas: Canvas, at: Point, half: float = 2.0) -> None:
    """The sign of a moisture test point."""
    x, y = at
    canvas.area([[(x, y - half), (x + half, y), (x, y + half), (x - half, y)]], "#fff", Pen(0.5))


def readings(view: PlanView, plan: Plan, text: Callable[[str], str] | None = None) -> None:
    """Places where a level was read, as small crosses, with a word beside each where `text` gives one.

    Where readings are closer on paper than a figure is wide, only so many get one as can find room.
    """
    shown = [p for p in plan.survey.levels.points if view.shows((p.x_mm, p.y_mm), 0.5)]
    w = view.window
    pitch = math.sqrt((w.x1 - w.x0) * (w.y1 - w.y0) / max(1, len(shown))) / view.scale
    every = max(1, math.ceil(FIGURES_FROM_MM / pitch)) if pitch > 0 else 1
    worded = shown[:: every * every]
    for point in shown:
        x, y = view.at((point.x_mm, point.y_mm))
        cross(view.canvas, (x, y))
        view.canvas.room.take((x - 1.2, y - 1.2, x + 1.2, y + 1.2), 2.0)
    for point in worded:
        words = text(point.id) if text else ""
        if words:
            spots = around(*view.at((point.x_mm, point.y_mm)), words, 1.0)
            view.canvas.place(spots, most_cost=4.0)


def ringed(view: PlanView, at: Point, number: int) -> None:
    """A numbered ring round a place, the number beside it."""
    x, y = view.at(at)
    view.canvas.circle((x, y), 1.6, Pen(0.5))
    view.canvas.room.take((x - 1.8, y - 1.8, x + 1.8, y + 1.8), 3.0)
    view.canvas.place([Label(o.x, o.y, o.text, 3.6, True) for o in around(x, y, str(number), 1.6, 3.6, True)])
