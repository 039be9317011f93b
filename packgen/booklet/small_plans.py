"""Small plans on sheets that are filled in: where to read, to lay the straightedge, to test; what lies below."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import THIN, Pen
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import centred
from packgen.booklet.drawing.plan_marks import joints, legs, rails, services
from packgen.booklet.drawing.plan_view import base_plan, plan_view, scale_bar
from packgen.booklet.moisture_points import MoisturePoint
from packgen.core.plane import Point
from packgen.plan import Plan

LEAST_HEIGHT_MM = 60.0
DISC_MM = 2.8
ACROSS_MM = 178.0
NAMED_MODULE_MM = 5.5  # paper between lines below which names of legs no longer stand free


def reading_plan(plan: Plan, chosen: Collection[str], height_mm: float) -> Markup | None:
    """Where each leg to be read stands, by name, without any figure; None where a plan of this height says nothing."""
    if height_mm < LEAST_HEIGHT_MM:
        return None
    view = plan_view(plan, ACROSS_MM, height_mm)
    if plan.project.kit.module / view.scale < NAMED_MODULE_MM:
        return None
    rails(view, plan, THIN)
    base_plan(view, plan)
    legs(view, plan, lambda n, _leg: n.id if n.id in chosen else "", masters=False, only=lambda n: n.id in chosen)
    return _finished(view, "Plan of the legs to be read, by name")


def straightedge_plan(plan: Plan, lays: Sequence[tuple[int, Point, Point]], height_mm: float) -> Markup | None:
    """Where the straightedge lies: numbered heavy strokes of two metres."""
    if height_mm < LEAST_HEIGHT_MM:
        return None
    view = plan_view(plan, ACROSS_MM, height_mm)
    rails(view, plan, THIN)
    for _, a, b in lays:
        view.line(a, b, Pen(0.7))
    base_plan(view, plan)
    for number, a, b in lays:
        _numbered(view, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), number)
    return _finished(view, "Plan of the places where the straightedge lies")


def test_plan(plan: Plan, points: Sequence[MoisturePoint], height_mm: float) -> Markup | None:
    """Test points with the pipes and joints round them."""
    if height_mm < LEAST_HEIGHT_MM:
        return None
    view = plan_view(plan, ACROSS_MM, height_mm)
    base_plan(view, plan)
    services(view, plan)
    joints(view, plan)
    for p in points:
        _numbered(view, p.at, p.number)
    return _finished(view, "Plan of the moisture test points and the pipes")


def below_plan(plan: Plan, points: Sequence[MoisturePoint], height_mm: float) -> Markup:
    """What lies under the covering: pipes, joints, rails, test points."""
    view = plan_view(plan, ACROSS_MM, height_mm)
    rails(view, plan, THIN)
    base_plan(view, plan)
    services(view, plan)
    joints(view, plan)
    for p in points:
        _numbered(view, p.at, p.number)
    return _finished(view, "Plan of what lies below the covering")


def hazard_plan(plan: Plan, places: Sequence[tuple[int, Point]], height_mm: float) -> Markup | None:
    """Numbered places of hazards and cautions."""
    if height_mm < LEAST_HEIGHT_MM or not places:
        return None
    view = plan_view(plan, ACROSS_MM, height_mm)
    base_plan(view, plan)
    services(view, plan)
    for number, at in places:
        _numbered(view, _free(view, at), number)
    return _finished(view, "Plan of the hazards and cautions by their numbers")


def _free(view: PlanView, at: Point) -> Point:
    """A place beside `at` whose disc covers no word, for numbers that stand for a neighbourhood; room mm."""
    r = DISC_MM * 1.1
    best, least = at, float("inf")
    for far in (0.0, 1.2, 2.4, 3.6):
        for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1), (1, 1), (-1, 1), (-1, -1), (1, -1)):
            spot = (at[0] + dx * far * r * view.scale, at[1] + dy * far * r * view.scale)
            x, y = view.at(spot)
            cost = view.canvas.room.cost((x - r, y - r, x + r, y + r))
            if cost < least - 1e-6:
                best, least = spot, cost
    return best


def _numbered(view: PlanView, at: Point, number: int) -> None:
    """A white disc with the number in it, which no line crosses."""
    x, y = view.at(at)
    view.canvas.discs([(x, y)], DISC_MM, "#fff", Pen(0.5))
    view.canvas.room.take((x - DISC_MM, y - DISC_MM, x + DISC_MM, y + DISC_MM), 5.0)
    view.canvas.label(centred(x, y, str(number), 3.4, True))


def _finished(view: PlanView, title: str) -> Markup:
    scale_bar(view, check=False)
    return view.canvas.svg(f"{title}, wall 1 on top, scale 1 to {view.scale}")
