"""Details of this job's edges at 1:5 or 1:10, each from its own millimetres, heights never stretched.

Levels that are printed are whole mm; layers and leg are printed with their sum, so that a reader can add them up.
"""

from __future__ import annotations

import math

from packgen.booklet.drawing.canvas import CUT
from packgen.booklet.drawing.detail import Detail, scale_for
from packgen.booklet.drawing.edge_plans import edge_plans
from packgen.booklet.drawing.section_edges import border, free_edge, joint
from packgen.booklet.drawing.section_parts import (
    BLOCK,
    LEFT_MM,
    RIGHT_MM,
    WALL_SHOWN,
    WIDE_MM,
    Section,
    column_sum,
    layer_words,
    parts_words,
    put_leg,
    say_layers,
    say_levels,
    settings_of,
    zone_at,
)
from packgen.core.figures import level, plain, whole
from packgen.core.plane import Point, segment_distance
from packgen.core.surface import level_at
from packgen.layout.model import Node
from packgen.plan import Plan
from packgen.survey.model import Door, RoomOutline, WallLine

__all__ = ["Section", "all_sections"]


def wall_edge(plan: Plan) -> Section | None:
    """The edge at a wall: strip, rail clear of the wall, first leg, covering that stops at the strip."""
    found = _leg_at_wall(plan)
    if found is None:
        return None
    node, wall, away = found
    leg, kit = settings_of(plan)[node.id], plan.project.kit
    zone = zone_at(plan, node.at)
    top, base, finish = leg.rail_top_mm, leg.base_mm, zone.build_up.finish_mm
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(finish + leg.leg_mm), top + finish + 15, base)
    x0, strip = WALL_SHOWN, kit.edge_strip
    end = d.span
    d.fill(x0 + strip, end, base, top)
    d.base(0, end, base, base)
    if plan.project.base.separating_layer:
        d.foil(x0 + strip, end, base, base, top + finish)
    d.rail_along(x0 + max(strip, 10), end, top, kit.rail.height)
    put_leg(d, plan, x0 + away, leg, top)
    d.layers(x0 + strip, end, top, zone.build_up.layers)
    d.strip(x0, x0 + strip, base, top + finish + 10)
    d.wall(0, x0, base, top + finish + 15)
    say_levels(d, plan, zone, top, base, x0 + strip + 2)
    say_layers(d, zone, top, end - 12)
    d.say(end - 12, top - kit.rail.height / 2, f"rail {plain(kit.rail.height)} high, clear of the wall")
    d.dim(x0 + away + 95, base, top, f"leg {leg.leg_mm}")
    d.dim_level(base + leg.leg_mm * 0.42, x0, x0 + away, f"{away:.0f}")
    d.inside(x0 + away + 115, base + leg.leg_mm * 0.35, plan.project.fills.use)
    if plan.project.base.separating_layer:
        d.say(end - 12, base + 2, "separating layer, turned up at the wall")
    return Section(
        "wall-edge",
        f"Edge at {wall.name}, at {node.id}: strip {plain(strip)} from the base to above the covering",
        d.scale,
        d.svg(f"Section at {wall.name} with strip, rail, leg and layers, scale 1 to {d.scale}"),
        column_sum(zone, leg.leg_mm, base),
    )


def _leg_at_wall(plan: Plan) -> tuple[Node, WallLine, float] | None:
    settings = settings_of(plan)
    best: tuple[float, str, Node, WallLine] | None = None
    for room in plan.survey.rooms:
        for wall in (w for w in room.walls if not w.free_edge):
            for node in plan.layout.nodes:
                leg = settings.get(node.id)
                if leg is None or not leg.fits or node.room != room.name or node.why != "crossing":
                    continue
                away = segment_distance(node.at, wall.line)
                if away > 110 or _near_door(room, node.at) or min(math.dist(node.at, c) for c in room.corners) < 300:
                    continue
                if best is None or (away, node.id) < best[:2]:
                    best = (away, node.id, node, wall)
    return None if best is None else (best[2], best[3], best[0])


def _near_door(room: RoomOutline, at: Point) -> bool:
    return any(segment_distance(at, d.line) < 150 for d in room.doors)


# --------------------------------------------------------------------------------- doors


def doors(plan: Plan) -> list[Section]:
    """Each door: the floor or sill it meets, the layers, the rail top below, the block with its marks, the step."""
    return [_door(plan, room, door) for room in plan.survey.rooms for door in room.doors]


def _door(plan: Plan, room: RoomOutline, door: Door) -> Section:
    kit = plan.project.kit
    at = ((door.line.a[0] + door.line.b[0]) / 2, (door.line.a[1] + door.line.b[1]) / 2)
    step = next((s for s in plan.heights.doors if s.door == door.name), None)
    zone = zone_at(plan, at)
    finish = zone.build_up.finish_mm
    finished = step.finished_mm if step else level_at(plan.heights.rail_top, at) + finish
    top, base = finished - finish, level_at(plan.survey.base, at)
    meets = [m for m in (door.sill_mm, door.floor_there_mm) if m is not None]
    high = max([finished, *meets])
    low = min([base, *(m - 30 for m in meets)])
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(high - low), high + 15, low)
    x0, end = 170.0, d.span
    d.fill(x0 + 15, end, base, top)
    d.base(x0, end, base, base)
    d.solid(x0, x0 + 15, base, top, 135)
    d.rail_across(x0 + 50 + kit.rail.width / 2, top, kit.rail.width, kit.rail.height)
    d.layers(x0, end, top, zone.build_up.layers)
    block = end - BLOCK - 30
    d.canvas.path(d.box(block, block + BLOCK, max(base, top - 30), finished + 12), CUT, close=True)
    for mark_level in (finished, top):
        d.canvas.line(d.at(block - 12, mark_level), d.at(block + BLOCK + 12, mark_level), CUT)
    name = plan.project.datum.name
    if door.floor_there_mm is not None:
        d.solid(0, x0 - (60 if door.sill_mm is not None else 0), low, door.floor_there_mm)
        d.say_left(20, door.floor_there_mm, f"{door.leads_to or 'floor'} there", level(door.floor_there_mm, name))
    if door.sill_mm is not None:
        d.solid(x0 - 60, x0, low, door.sill_mm, 60)
        d.say_left(x0 - 50, door.sill_mm, "sill", level(door.sill_mm, name))
    d.say_left(x0 + 6, top, "rail top", level(top, name))
    d.say_left(x0 + 25, base, "base", level(base, name))
    say_layers(d, zone, top, end - 8)
    d.say(block + BLOCK, finished, f"block at the jamb: upper mark finished level, {level(finished, name)}")
    d.say(block + BLOCK, top, f"lower mark {plain(finish)} below it: rail top")
    d.inside(x0 + 22, base + (top - kit.rail.height - base) * 0.4, "stop end on the line of the door")
    words = _step_words(step.step_mm if step else None, step.judged if step else False, step.limit_mm if step else 0.0)
    layers = layer_words(zone.build_up.layers)
    sums = f"{layers} = {plain(finish)}: {level(finished, name)} less {plain(finish)} is {level(top, name)}. {words}"
    return Section(
        f"door-{door.name}",
        f"{door.name.capitalize()} in {door.wall}, with the block for the height",
        d.scale,
        d.svg(f"Section at {door.name} with the floor it meets, layers, rail top and block, scale 1 to {d.scale}"),
        sums if layers else words,
    )


def _step_words(step: float | None, judged: bool, limit: float) -> str:
    if step is None:
        return "No level is given on the other side"
    n = whole(step)
    size = "No step" if n == 0 else f"Our floor is {abs(n)} {'higher' if n > 0 else 'lower'}"
    return f"{size}; {plain(limit)} is allowed without a strip" if judged else size


# --------------------------------------------------------------------------------- over a pipe


def tightest_pipe(plan: Plan) -> Section | None:
    """Over the service where the cover is least against what is needed."""
    covers = sorted(plan.heights.covers, key=lambda c: (c.cover_mm - (c.needed_mm or 0.0), c.service))
    if not covers:
        return None
    cover = covers[0]
    run = next((s for s in plan.layout.services if s.name == cover.service), None)
    if run is None:
        return None
    zone = zone_at(plan, cover.at)
    base, top = level_at(plan.survey.base, cover.at), level_at(plan.heights.rail_top, cover.at)
    finish = zone.build_up.finish_mm
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(top + finish - base), top + finish + 12, base)
    end = d.span
    d.fill(0, end, base, top)
    d.base(0, end, base, base)
    if plan.project.base.separating_layer:
        d.foil(0, end, base, base)
    d.layers(0, end, top, zone.build_up.layers)
    x = end * 0.55
    apart = 150.0 if run.heating else 0.0
    for k in (-1, 0, 1) if apart else (0,):
        if 20 < x + k * apart < end - 20:
            d.pipe(x + k * apart, base, run.outside_mm, run.support_mm)
    over = base + run.support_mm + run.outside_mm
    d.dim(x, over, top, f"cover {whole(cover.cover_mm)}")
    say_levels(d, plan, zone, top, base, 12)
    say_layers(d, zone, top, end - 8)
    half = run.outside_mm / 2
    last = x + apart if x + apart < end - 20 else x
    d.say(last + half, base + run.support_mm + half, f"{run.name}, {plain(run.outside_mm)} outside")
    if run.support_mm:
        d.say(last + run.outside_mm * 0.8, base + run.support_mm / 2, f"its support, {plain(run.support_mm)} high")
    d.inside(x + 20, base + (top - base) * 0.72, plan.project.fills.use)
    needed = f"; {plain(cover.needed_mm)} is needed" if cover.needed_mm is not None else ""
    return Section(
        "pipe",
        f"Over {cover.service} where the cover is least",
        d.scale,
        d.svg(f"Section over {cover.service} at its least cover, scale 1 to {d.scale}"),
        f"depth {whole(top - base)} less support {plain(run.support_mm)} and pipe {plain(run.outside_mm)}"
        f" = cover {whole(cover.cover_mm)}{needed}",
    )


# --------------------------------------------------------------------------------- highest and lowest spot


def extremes(plan: Plan) -> Section | None:
    """The shortest and the longest leg side by side, each with its sum."""
    legs = sorted(plan.heights.legs, key=lambda leg: (leg.leg_mm, leg.order))
    if not legs:
        return None
    short, long = legs[0], legs[-1]
    nodes = {n.id: n for n in plan.layout.nodes}
    kit = plan.project.kit
    zones = [zone_at(plan, nodes[leg.node].at) for leg in (short, long)]
    high = max(leg.rail_top_mm + z.build_up.finish_mm for leg, z in zip((short, long), zones, strict=True))
    low = min(short.base_mm, long.base_mm)
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(high - low), high + 12, low)
    mid = d.span / 2
    for (x0, x1), leg, zone in zip(((0.0, mid), (mid, d.span)), (short, long), zones, strict=True):
        top, base = leg.rail_top_mm, leg.base_mm
        d.fill(x0, x1, base, top)
        d.base(x0, x1, base, base)
        d.rail_along(x0, x1, top, kit.rail.height)
        put_leg(d, plan, (x0 + x1) / 2, leg, top)
        d.layers(x0, x1, top, zone.build_up.layers)
        d.dim((x0 + x1) / 2 - 60, base, top, str(leg.leg_mm))
        if not leg.fits:
            d.canvas.words(*d.at((x0 + x1) / 2 + 60, (base + top) / 2), "does not fit", bold=True, clear=True)
    d.break_line(mid, low, high)
    name = plan.project.datum.name
    for say, x, leg in ((d.say_left, 12.0, short), (d.say, d.span - 12.0, long)):
        words = (f"rail top {level(leg.rail_top_mm, name)}", f"base {level(leg.base_mm, name)}")
        for text, lev in zip(words, (leg.rail_top_mm, leg.base_mm), strict=True):
            if say == d.say_left:
                head, tail = text.split(" ", 1) if text.startswith("base") else ("rail top", text[9:])
                d.say_left(x, lev, head, tail)
            else:
                d.say(x, lev, text)
    kinds = [parts_words(leg) for leg in (short, long)]
    for x, leg, kind in zip((mid / 2, mid * 1.5), (short, long), kinds, strict=True):
        d.above(x, f"{leg.node}: leg {leg.leg_mm}, {kind}", bold=True)
    return Section(
        "extremes",
        f"Highest base at {short.node} and lowest at {long.node}" if len(legs) > 1 else f"The leg at {short.node}",
        d.scale,
        d.svg(f"The shortest leg at {short.node} and the longest at {long.node}, scale 1 to {d.scale}"),
        f"{short.node}: {column_sum(zones[0], short.leg_mm, short.base_mm)}. "
        f"{long.node}: {column_sum(zones[1], long.leg_mm, long.base_mm)}",
    )


def all_sections(plan: Plan) -> tuple[Section, ...]:
    """The details of this job, in the order in which a reader meets them."""
    found = [wall_edge(plan), *doors(plan), tightest_pipe(plan), extremes(plan), joint(plan), border(plan)]
    found += [free_edge(plan), edge_plans(plan)]
    return tuple(s for s in found if s is not None)
