"""Layers of a plan for the pour days: bays with their turn, hatch of done bays, the way out, the stop line."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from packgen.booklet.drawing.canvas import CUT, HIDDEN, RAIL, STOP, Pen, arrow_head
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, width
from packgen.core.plane import Point, Segment
from packgen.plan import Plan

TURN_MM = 4.94  # 14 pt: the turn of a bay


def done_bays(view: PlanView, plan: Plan, names: Iterable[str]) -> None:
    """Hatch over bays that are already filled."""
    done = set(names)
    view.hatch([b.shape for b in plan.layout.bays if b.name in done], 45, 3.0, RAIL)


def other_bays(view: PlanView, plan: Plan, names: Iterable[str]) -> None:
    """A wider hatch the other way over bays whose day has not come."""
    later = set(names)
    view.hatch([b.shape for b in plan.layout.bays if b.name in later], 135, 6.0, HIDDEN)


def way_out(view: PlanView, points: Sequence[Point]) -> None:
    """One arrow along the way out, room mm."""
    spots = [view.at(p) for p in points]
    if len(spots) < 2:
        return
    view.canvas.path(spots, Pen(0.7))
    view.canvas.area([arrow_head(spots[-1], spots[-2], 4.0)], "#000")
    for a, b in itertools.pairwise(spots):
        view.canvas.room.take_line(a, b, 0.8)


def stop_line(view: PlanView, edges: Iterable[Segment]) -> None:
    """Tonight's stop line: the heaviest line on the sheet."""
    for s in edges:
        view.line(s.a, s.b, STOP)


def earlier_stop(view: PlanView, edges: Iterable[Segment]) -> None:
    """Where work may stop earlier, in trouble."""
    for s in edges:
        view.line(s.a, s.b, Pen(0.7, "3 1.5"))


def spot(view: PlanView, at: Point, text: str) -> None:
    """A named spot, for example the mixer's place: a solid square with its word."""
    x, y = view.at(at)
    view.canvas.area([[(x - 1.5, y - 1.5), (x + 1.5, y - 1.5), (x + 1.5, y + 1.5), (x - 1.5, y + 1.5)]], "#000", CUT)
    view.canvas.room.take((x - 1.8, y - 1.8, x + 1.8, y + 1.8))
    half = width(text, LEAST_MM) / 2
    base = y + 0.36 * LEAST_MM
    sides = [(x + 2.4 + half, base), (x - 2.4 - half, base), (x, y - 3.0), (x, y + 5.0)]
    view.canvas.place([Label(a, b, text) for a, b in sides], clear=True)
