"""The arithmetic of services in the fill: cover over each, and the room that a rail over it needs."""

from __future__ import annotations

import math

from packgen.core.figures import half_up, plain
from packgen.core.place import Place
from packgen.core.plane import Point
from packgen.core.surface import level_at
from packgen.core.worked import FILE, Given, Worked
from packgen.heights.cover import under_rail
from packgen.heights.model import Heights, LegSetting, PipeCover
from packgen.heights.place_lines import Sum, base_key, depth_key, depth_line, spot, top_sum, zone_over
from packgen.heights.reckon import level_sum, term
from packgen.layout.model import PipeRun
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.project.room_model import Service
from packgen.survey.model import Survey
from packgen.trade.grid_rules import grid_rule


def fall_place(project: Project, zone: str) -> Place | None:
    """Where the file gives the fall of a zone."""
    return next((place_of(z, "fall") for z in project.finishes if z.zone == zone), None)


def depth_there(
    key: str, name: str, project: Project, survey: Survey, heights: Heights, at: Point, digits: int | None = None
) -> Worked:
    """The depth at a place, to the decimals it has or to so many."""
    exact = level_at(heights.rail_top, at) - level_at(survey.base, at)
    zone = zone_over(heights.zones, heights.rail_top, at)
    places = fewest_digits(exact) if digits is None else digits
    fall = fall_place(project, zone.name)
    return depth_line(key, name, zone, survey.base, survey.levels.points, at, exact, places, fall)


def node_depth(project: Project, survey: Survey, heights: Heights, leg: LegSetting, at: Point) -> Worked:
    """The depth at a leg, not rounded: from the reading at it where there is one, else from those round it."""
    key, name = f"node/{leg.node}/depth", f"depth of the fill at {leg.node}, not rounded"
    if leg.known != "read" or not survey.levels.points:
        return depth_there(key, name, project, survey, heights, at)
    read = min(survey.levels.points, key=lambda p: math.dist((p.x_mm, p.y_mm), at))
    zone = next(z for z in heights.zones if z.name == leg.zone)
    base = Sum((term(read.level_mm),), (f"level/{read.id}",), ())
    found = top_sum(zone, at, fall_place(project, zone.name)).and_then(base.turned())
    numbers, size, side = level_sum(found.terms, fewest_digits(leg.depth_mm))
    return Worked(
        key,
        name if side == "mm above" or size == 0 else f"{name}, base above rail top by",
        "rail top there less the reading there",
        numbers,
        size,
        fewest_digits(leg.depth_mm),
        "mm",
        FILE,
        found.needs,
        found.given,
    )


def fewest_digits(exact: float) -> int:
    return next((d for d in (0, 1, 2) if abs(half_up(exact, d) - exact) < 5e-7), 3)


def service_of(project: Project, run: PipeRun) -> Service | None:
    """The service of the file that a run belongs to."""
    return next((s for s in project.services if s.name == run.name), None)


def _thick(project: Project, run: PipeRun) -> tuple[Given, ...]:
    """Support and outside of a service; what is nothing is left out."""
    file = service_of(project, run)
    figures = (
        ("support", f"support under {run.name}", run.support_mm),
        ("outside", f"outside of {run.name}", run.outside_mm),
    )
    return tuple(given(file, key, says, mm) if file is not None else Given(says, mm) for key, says, mm in figures if mm)


def cover_line(project: Project, survey: Survey, run: PipeRun, cover: PipeCover) -> Worked:
    """Depth at the tightest place, less the support and the pipe."""
    parts = _thick(project, run)
    depth = cover.cover_mm + sum(p.value for p in parts)
    numbers, size, side = level_sum([term(depth), *(term(-p.value) for p in parts)], fewest_digits(cover.cover_mm))
    name = f"cover over {run.name} at {spot(cover.at)}"
    return Worked(
        f"cover/{run.name}",
        name if side == "mm above" else f"{name}: not covered by",
        "depth there, less support and outside",
        numbers,
        size,
        fewest_digits(cover.cover_mm),
        "mm",
        FILE,
        (depth_key(cover.at),),
        parts,
    )


def pipe_top_line(key: str, project: Project, survey: Survey, run: PipeRun, at: Point) -> Worked:
    """The top of a service at a place."""
    base, parts = level_at(survey.base, at), _thick(project, run)
    exact = base + sum(p.value for p in parts)
    numbers, size, side = level_sum([term(base), *(term(p.value) for p in parts)], fewest_digits(exact))
    return Worked(
        key,
        f"top of {run.name} at {spot(at)}",
        "base there, and support and outside",
        numbers,
        size,
        fewest_digits(exact),
        f"{side} {project.datum.name}",
        FILE,
        (base_key(at),),
        parts,
    )


def under_rail_line(project: Project, run: PipeRun) -> Worked:
    """What a rail over a service needs below its top."""
    rule, height = grid_rule("over_service"), project.kit.rail.height
    parts = (
        *_thick(project, run),
        given(project.kit.rail, "height", "height of the rail", height),
        Given(rule.says, rule.value, rule.unit, rule.source),
    )
    total = under_rail(run, height)
    return Worked(
        f"under rail/{run.name}",
        f"depth that a rail over {run.name} needs",
        "support + outside + rail + room between",
        " + ".join(plain(p.value) for p in parts),
        total,
        fewest_digits(total),
        "mm",
        rule.source,
        given=parts,
    )
