"""The plan of one day's fill: today's bays with their turn, done bays hatched, the way out, the stop lines."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, HEAVY, THIN
from packgen.booklet.drawing.frame import BAND_MM, NAME_MM, Margins, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.booklet.drawing.plan_marks import joints
from packgen.booklet.drawing.plan_view import plan_view
from packgen.booklet.drawing.plan_work import (
    TURN_MM,
    done_bays,
    earlier_stop,
    other_bays,
    spot,
    stop_line,
    way_out,
)
from packgen.booklet.drawing.pour_views import day_views, extent
from packgen.booklet.drawing.walls import cut_outs, names, walls
from packgen.booklet.pour_words import fill_of
from packgen.core.plane import Point, Segment, bounds, label_point
from packgen.layout.model import Bay
from packgen.plan import Plan
from packgen.sequence.model import Pour
from packgen.survey.model import Door

AIR_MM, LITTLE_AIR_MM = 0.8, 0.4  # between a turn and its bay's edges, both together; on small scales
MOSTLY = 0.5  # so many of the turns must fit at the large size, else all are small
NEAR_MM = 6.0  # paper within which a stop line's end counts as at the wall


def pour_plans(plan: Plan, pour: Pour, width_mm: float, height_mm: float) -> tuple[tuple[Markup, ...], bool]:
    """The day's plan in one drawing or in strips, and whether it shows the whole floor."""
    views, whole = day_views(plan, pour, width_mm, height_mm)
    out = []
    for n, view in enumerate(views, 1):
        _layers(view, plan, pour, whole)
        if n == len(views):
            _corner_bar(view)
        part = "" if whole else f", round today's bays, strip {n} of {len(views)}"
        out.append(view.canvas.svg(f"Plan of pour {pour.number}{part}, scale 1 to {view.scale}"))
    return tuple(out), whole


def scale_of(plan: Plan, pour: Pour, width_mm: float, height_mm: float) -> int:
    """The scale at which the day's plan is drawn in so much room, as the figure after the colon."""
    return day_views(plan, pour, width_mm, height_mm)[0][0].scale


def day_key(plan: Plan, pour: Pour, width_mm: float, height_mm: float) -> Markup:
    """The whole floor small, done bays hatched and today's white inside a heavy line: where on the floor we are."""
    view = plan_view(plan, width_mm, height_mm, Margins(4, 4, 4, 4), 0.0)
    done_bays(view, plan, _earlier(plan, pour))
    x0, y0, x1, y1 = extent(plan, pour)
    view.ring(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), HEAVY)
    for room in plan.survey.rooms:
        view.ring(room.ring)
    return view.canvas.svg(f"The whole floor with the part filled on day {pour.number}")


def leave_door(plan: Plan, pour: Pour) -> Door | None:
    """The door by which the floor is left on this day."""
    return next((d for r in plan.survey.rooms for d in r.doors if d.name == pour.leave_by), None)


def _layers(view: PlanView, plan: Plan, pour: Pour, whole: bool) -> None:
    today, done = set(pour.bays), _earlier(plan, pour)
    seen = [b for b in plan.layout.bays if _reaches(view, b)]
    for bay in seen:
        view.ring(bay.shape.shell, THIN, taken=False)
    done_bays(view, plan, done)
    other_bays(view, plan, {b.name for b in seen} - today - done)
    joints(view, plan, words=False)
    _way_out(view, pour.arrow)
    for n, stop in enumerate(pour.earlier_stops, 1):
        earlier_stop(view, stop.edges)
        _name_stop(view, stop.edges, f"stop {n}")
    if pour.stop_line is not None:
        stop_line(view, pour.stop_line.edges)
    _turns(view, plan, pour)
    cut_outs(view, plan)
    walls(view, plan)
    if pour.stop_line is not None:
        _name_stop(view, pour.stop_line.edges, "tonight")
    if whole:
        names(view, plan)
    else:
        _strip_ends(view, plan)
    door = leave_door(plan, pour)
    if door and fill_of(plan, pour).mixed and view.shows(door.line.a, 1.0):
        _mixer(view, door)


def _reaches(view: PlanView, bay: Bay) -> bool:
    x0, y0, x1, y1 = bounds(bay.shape)
    rx0, ry0, rx1, ry1 = view.reach
    return x1 >= rx0 and x0 <= rx1 and y1 >= ry0 and y0 <= ry1


def _way_out(view: PlanView, points: Sequence[Point]) -> None:
    """The part of the way out that this view shows; the whole arrow by its own layer."""
    if all(view.shows(p, 8.0) for p in points):
        way_out(view, points)
        return
    for a, b in pairwise(points):
        view.line(a, b, HEAVY)


def _turns(view: PlanView, plan: Plan, pour: Pour) -> None:
    """The turn of each bay in one size, its name small below where there is room; a bay too small bears none."""
    shapes = {b.name: b for b in plan.layout.bays}
    air = AIR_MM if view.scale <= 50 else LITTLE_AIR_MM
    shown = []
    for k, t in enumerate(pour.turns, 1):
        if not view.shows(label_point(shapes[t.bay].shape)):
            continue
        x0, y0, x1, y1 = bounds(shapes[t.bay].shape)
        text = f"{k}{'*' if t.close_edge else ''}"
        shown.append((t.bay, text, (x1 - x0) / view.scale - air, (y1 - y0) / view.scale - air))
    large = [width(text, TURN_MM, True) < wide and high > TURN_MM for _, text, wide, high in shown]
    size = TURN_MM if sum(large) >= MOSTLY * len(large) else LEAST_MM
    for bay, text, wide, high in shown:
        here = size if width(text, size, True) < wide and high > size else LEAST_MM
        if width(text, here, True) > wide or high < here:
            continue
        x, y = view.at(label_point(shapes[bay].shape))
        named = high > here + LEAST_MM + 1.2 and width(bay, LEAST_MM) < wide
        y += 0.36 * here - (0.45 * LEAST_MM if named else 0.0)
        view.canvas.label(Label(x, y, text, here, True), clear=True)
        if named:
            view.canvas.label(Label(x, y + 1.15 * LEAST_MM, bay, LEAST_MM))


def _strip_ends(view: PlanView, plan: Plan) -> None:
    """The names of the lines nearest to both ends of a strip, above it, so that strips are laid end to end."""
    lines = [ln for ln in plan.layout.lines if ln.kind == "lettered"]
    for end in (view.window.x0, view.window.x1):
        near = [ln for ln in lines if view.shows((ln.at_mm, view.window.y0))]
        if near:
            line = min((abs(ln.at_mm - end), ln.name, ln.at_mm) for ln in near)
            x, y = view.at((line[2], view.window.y0))
            view.canvas.words(x, y - BAND_MM - 0.6, line[1], LEAST_MM, True)


def _mixer(view: PlanView, door: Door) -> None:
    """The mixer's square with its word outside a door, where it covers least. The walker has the room on the right."""
    (ax, ay), (bx, by) = door.line.a, door.line.b
    d = door.line.length_mm or 1.0
    nx, ny = (by - ay) / d, -(bx - ax) / d
    wide = width("mixer", LEAST_MM) + 5
    best, least = None, math.inf
    for away in (6.0, 8.5, 11.0):
        for part in (0.1, 0.9, 0.3, 0.7, -0.25, 1.25):
            out = away * view.scale
            p = (ax + (bx - ax) * part + nx * out, ay + (by - ay) * part + ny * out)
            x, y = view.at(p)
            cost = view.canvas.room.cost((x - 2, y - 2.2, x + wide, y + 2.2))
            if cost < least:
                best, least = p, cost
    if best is not None:
        spot(view, best, "mixer")


def _corner_bar(view: PlanView) -> None:
    """The scale and a bar of one metre (five on small scales) in a lower corner, beside the names of the walls."""
    c, y = view.canvas, view.canvas.height_mm - 1.0
    metres = 1 if view.scale <= 200 else 5
    bar, note = metres * 1000 / view.scale, f"Scale 1:{view.scale}"
    wide = width(note, NAME_MM) + 3 + bar
    lefts = (0.5, c.width_mm - wide - 0.5)
    x = min(lefts, key=lambda left: c.room.cost((left, y - 7, left + wide, y + 1)))
    c.words(x, y, note, NAME_MM, anchor="start")
    x += wide - bar
    c.line((x, y), (x + bar, y), CUT)
    c.strokes([((x + bar * i / 5, y), (x + bar * i / 5, y - (2.2 if i in (0, 5) else 1.2))) for i in range(6)])
    c.words(x + bar / 2, y - 2.8, f"{metres} m", LEAST_MM)


def _name_stop(view: PlanView, edges: Iterable[Segment], text: str) -> None:
    """The stop line's name at one of its ends, outside the walls where the line reaches them."""
    ends = sorted({view.at(p) for s in edges for p in (s.a, s.b) if view.shows(p, 1.0)})
    if not ends:
        return
    half = width(text, LEAST_MM, True) / 2
    w = view.window
    (left, top), (right, low) = view.at((w.x0, w.y0)), view.at((w.x1, w.y1))
    out = BAND_MM + 1.5
    spots = []
    for x, y in (ends[0], ends[-1]):
        base = y + 0.36 * LEAST_MM
        if min(x - left, right - x) < NEAR_MM:
            at = left - out - half if x - left < right - x else right + out + half
            spots += [(at, base), (at, base - 4.0), (at, base + 4.0)]
        if min(y - top, low - y) < NEAR_MM:
            at = top - out if y - top < low - y else low + out + LEAST_MM
            spots += [(x, at), (x - half - 1.0, at), (x + half + 1.0, at)]
    for x, y in (ends[0], ends[-1]):
        spots += [(x - 5 - half, y + 1.2), (x + 5 + half, y + 1.2), (x, y - 4), (x, y + 6)]
    view.canvas.place([Label(x, y, text, LEAST_MM, True) for x, y in spots], clear=True)


def _earlier(plan: Plan, pour: Pour) -> set[str]:
    return {b for p in plan.sequence.pours if p.number < pour.number for b in p.bays}


def pour_legend(plan: Plan, pour: Pour) -> str:
    """What the signs of the day's plan mean, in one line; stop lines bear their names."""
    parts = ["Figures: today's order; a bay without: with its neighbour"]
    if any(t.close_edge for t in pour.turns):
        parts.append("* close its edge first")
    if _earlier(plan, pour):
        parts.append("close hatch: done")
    if any(p.number > pour.number for p in plan.sequence.pours):
        parts.append("dotted hatch: another day")
    if len(pour.arrow) > 1:
        parts.append(f"arrow: the way out by {pour.leave_by}" if pour.leave_by else "arrow: the way out")
    return " · ".join(parts)
