"""Section 4: plan, sections and depth map, from the same drawings as the work pack."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from markupsafe import Markup

from packgen.booklet.client.blocks import Block, Drawing, Either, Section, Text, drawn_mm
from packgen.booklet.client.plans import depth_map, floor_plan, shows_rails
from packgen.booklet.client.refs import see
from packgen.booklet.drawing.plan_view import plan_view
from packgen.booklet.drawing.section import Section as Detail
from packgen.booklet.drawing.section import all_sections
from packgen.booklet.facts import first_upper
from packgen.booklet.moisture_points import test_points
from packgen.booklet.rows import SHEET_MM
from packgen.core.figures import number, plain, whole
from packgen.plan import Plan

SMALL_MM = (84.0, 112.0)  # least and most height of a plan where the statement would be too long
MOST_MM, STEP_MM = 140.0, 4.0
DEPTH_KEY_MM = 8.0  # what the depth map takes besides its plan
DETAILS = 1
T = TypeVar("T")
WANTED = ("pipe", "wall-edge", "door-", "free-edge", "border", "joint-", "extremes")


def section(plan: Plan) -> Section:
    """Plan, detail, depth map."""
    details, points = _chosen(plan), test_points(plan)
    titles = ("plan of the floor", *(_short(d.title) for d in details), "depth of the fill")
    told = "; ".join(f"{n} {title}" for n, title in enumerate(titles, 1))
    blocks: list[Block] = [Text(f"Drawings: {told}. Wall 1 on top, true scale, from the plan of the work pack.")]
    tests = "; numbers in circles: moisture test points" if points else ""
    shown = tests if shows_rails(plan, SMALL_MM[0]) else ", too near to each other to be drawn at this scale"
    module = plain(plan.project.kit.module)
    caption = f"Drawing 1. {number(len(plan.layout.rails))} rails on lines {module} apart{shown}. Wall 1 on top."
    blocks.append(_sized(plan, partial(floor_plan, plan, points), caption))
    for n, detail in enumerate(details, 2):
        high = drawn_mm(detail.drawing)
        caption = f"Drawing {n}. {detail.title}. Scale 1:{detail.scale}. {first_upper(detail.sums)}."
        blocks.append(Drawing(_fixed(detail.drawing), _fixed(high), caption, high, high))
    caption = f"Drawing {len(details) + 2}. {_depth_caption(plan)}"
    blocks.append(_sized(plan, partial(depth_map, plan), caption, DEPTH_KEY_MM))
    return Section("drawings", "Drawings", tuple(blocks))


def _sized(plan: Plan, draw: Callable[[float], Markup], caption: str, more_mm: float = 0.0) -> Either:
    """A plan at the largest scale that a page allows, or smaller. more_mm: what it takes besides the plan."""

    def high(mm: float) -> float:
        return plan_view(plan, SHEET_MM, mm - more_mm).canvas.height_mm + more_mm

    best = plan_view(plan, SHEET_MM, MOST_MM).scale
    least = MOST_MM
    while least - STEP_MM >= SMALL_MM[0] and plan_view(plan, SHEET_MM, least - STEP_MM).scale == best:
        least -= STEP_MM
    large = Drawing(draw, high, caption, least + more_mm, MOST_MM + more_mm)
    small = Drawing(draw, high, caption, SMALL_MM[0] + more_mm, SMALL_MM[1] + more_mm)
    return Either(1, (large,), (small,))


def _fixed(value: T) -> Callable[[float], T]:
    return lambda _mm: value


def _short(title: str) -> str:
    return title[:1].lower() + title[1:].split(":")[0]


def _chosen(plan: Plan) -> tuple[Detail, ...]:
    """The detail that says most: the tightest pipe, else the edge at a wall, a door, a free edge, a joint."""
    found = all_sections(plan)
    wanted = [d for key in WANTED for d in found if d.key.startswith(key)]
    return tuple(wanted[:DETAILS])


def _depth_caption(plan: Plan) -> str:
    depth, rule = plan.heights.depth, plan.heights.rule
    return (
        f"Depth of the fill in mm, base to rail top: mean {plain(depth.mean_mm, 1)} for quantities, smallest "
        f"{whole(depth.least_mm)} for strength, greatest {whole(depth.most_mm)} for drying. Allowed "
        f"{plain(rule.least_mm)} to {plain(rule.most_mm)}, see {see('materials')}."
    )
