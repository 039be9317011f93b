"""Details where the floor ends or is parted: joints, borders of zones, free edges."""

from __future__ import annotations

from packgen.booklet.drawing.canvas import CUT
from packgen.booklet.drawing.detail import Detail, scale_for
from packgen.booklet.drawing.labels import LEAST_MM, wrapped
from packgen.booklet.drawing.section_parts import (
    LEFT_MM,
    RIGHT_MM,
    WIDE_MM,
    Section,
    column_sum,
    layer_words,
    put_leg,
    say_layers,
    say_levels,
    settings_of,
    zone_at,
)
from packgen.core.figures import level, plain, whole
from packgen.core.plane import Point, Segment, segment_distance
from packgen.core.surface import level_at
from packgen.heights.model import ZoneTop
from packgen.layout.model import JointLine, Node
from packgen.plan import Plan
from packgen.survey.model import WallLine


def joint(plan: Plan) -> Section | None:
    """The first joint that lies in the floor: rails stop on each side on legs of their own."""
    found = [(j, _legs_beside(plan, j)) for j in plan.layout.joints]
    inside = [(j, pair) for j, pair in found if pair is not None]
    if not inside:
        return None
    kind_order = {"structural": 0, "movement": 1}
    one, pair = min(inside, key=lambda i: (kind_order[i[0].kind], i[0].number))
    (near, a), (far, b) = pair
    kit = plan.project.kit
    zone = zone_at(plan, near.at)
    settings = settings_of(plan)
    left, right = settings[near.id], settings[far.id]
    top, finish = left.rail_top_mm, zone.build_up.finish_mm
    low = min(left.base_mm, right.base_mm)
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(top + finish - low), top + finish + 12, low)
    mid, gap = d.span / 2, max(one.width_mm, 5.0)
    for sign, leg, away in ((-1, left, a), (1, right, b)):
        x0, x1 = (0.0, mid - gap / 2) if sign < 0 else (mid + gap / 2, d.span)
        d.fill(x0, x1, leg.base_mm, leg.rail_top_mm)
        d.base(x0 if sign < 0 else mid, x1 if sign > 0 else mid, leg.base_mm, leg.base_mm)
        d.rail_along(x0, x1, leg.rail_top_mm, kit.rail.height)
        put_leg(d, plan, mid + sign * away, leg, leg.rail_top_mm)
        d.layers(x0, x1, leg.rail_top_mm, zone.build_up.layers)
        d.dim_level(low + left.leg_mm * 0.16, min(mid, mid + sign * away), max(mid, mid + sign * away), f"{away:.0f}")
    d.strip(mid - gap / 2, mid + gap / 2, low, top + finish)
    say_levels(d, plan, zone, top, left.base_mm, 12)
    say_layers(d, zone, top, d.span - 8)
    d.above(mid, f"joint {plain(one.width_mm)} wide, through all layers")
    low_third = low + right.leg_mm * 0.4
    d.inside(mid - a - 40, low_third, f"leg {near.id}", "end")
    d.inside(mid + b + 40, low_third, f"leg {far.id}")
    d.say(d.span - 12, top - kit.rail.height / 2, "rail: ends at the joint, a leg on each side")
    return Section(
        f"joint-{one.number}",
        f"{one.kind.capitalize()} joint {one.number}" + (f", {one.note}" if one.note else ""),
        d.scale,
        d.svg(f"Section through the {one.kind} joint: rails stop on each side, scale 1 to {d.scale}"),
        f"{near.id}: {column_sum(zone, left.leg_mm, left.base_mm)}",
    )


def _legs_beside(plan: Plan, j: JointLine) -> tuple[tuple[Node, float], tuple[Node, float]] | None:
    """The nearest leg on each side that stands on one line across the joint."""
    (ax, ay), (bx, by) = j.line.a, j.line.b
    length = j.line.length_mm
    if length < 1:
        return None
    settings = settings_of(plan)
    sides: dict[tuple[str, int], tuple[float, Node]] = {}
    for node in plan.layout.nodes:
        if node.id not in settings:
            continue
        t = ((node.x_mm - ax) * (bx - ax) + (node.y_mm - ay) * (by - ay)) / length
        off = ((node.x_mm - ax) * (by - ay) - (node.y_mm - ay) * (bx - ax)) / length
        if not 0 <= t <= length or abs(off) > 250 or abs(off) < 1:
            continue
        for line in node.lines:
            key = (line, 1 if off > 0 else -1)
            if key not in sides or abs(off) < sides[key][0]:
                sides[key] = (abs(off), node)
    pairs = [(sides[(line, 1)], sides[(line, -1)]) for line, side in sorted(sides) if side == 1 and (line, -1) in sides]
    if not pairs:
        return None
    p, q = min(pairs, key=lambda pq: (pq[0][0] + pq[1][0], pq[0][1].id))
    return (p[1], p[0]), (q[1], q[0])


def border(plan: Plan) -> Section | None:
    """Where two zones with different tops meet."""
    found = [b for b in plan.heights.borders if abs(b.rail_step_mm) >= 0.5 or abs(b.step_mm) >= 0.5]
    if not found:
        return None
    b = max(found, key=lambda x: (abs(x.step_mm), abs(x.rail_step_mm), x.first))
    zones = {z.name: z for z in plan.heights.zones}
    first, second = zones[b.first], zones[b.second]
    at = _middle(b.line)
    base = level_at(plan.survey.base, at)
    near_top = level_at(plan.heights.rail_top, at)
    tops = _tops(first, second, near_top, b.rail_step_mm)
    finishes = (first.build_up.finish_mm, second.build_up.finish_mm)
    high = max(t + f for t, f in zip(tops, finishes, strict=True))
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(high - base), high + 12, base)
    mid, kit = d.span / 2, plan.project.kit
    d.base(0, d.span, base, base)
    halves = ((0.0, mid - 5), (mid + 5, d.span))
    for (x0, x1), top, zone, sign in zip(halves, tops, (first, second), (-1, 1), strict=True):
        d.fill(x0, x1, base, top)
        d.rail_across(mid + sign * (30 + kit.rail.width / 2), top, kit.rail.width, kit.rail.height)
        d.layers(x0, x1, top, zone.build_up.layers)
    d.strip(mid - 5, mid + 5, base, max(tops))
    name = plan.project.datum.name
    d.say_left(12, tops[0] + finishes[0], first.name, level(tops[0] + finishes[0], name))
    d.say_left(12, tops[0], "rail top", level(tops[0], name))
    d.say_left(12, base, "base", level(base, name))
    d.say(d.span - 12, tops[1] + finishes[1], f"{second.name}: {level(tops[1] + finishes[1], name)}")
    d.say(d.span - 12, tops[1], f"rail top {level(tops[1], name)}")
    d.say(mid + 4, base + 20, "stop end on the border: each side its own rails and legs")
    n = whole(b.step_mm)
    step = "no step" if n == 0 else f"{second.name} is {abs(n)} {'higher' if n > 0 else 'lower'}"
    return Section(
        "border",
        f"Border of {first.name} and {second.name}",
        d.scale,
        d.svg(f"Section where {first.name} and {second.name} meet, scale 1 to {d.scale}"),
        f"{first.name}: {layer_words(first.build_up.layers)} = {plain(finishes[0])}. "
        f"{second.name}: {layer_words(second.build_up.layers)} = {plain(finishes[1])}. At the border {step}",
    )


def _tops(first: ZoneTop, second: ZoneTop, near: float, step: float) -> tuple[float, float]:
    if not first.fall_per_m and not second.fall_per_m:
        return first.rail_top_mm, second.rail_top_mm
    return near, near + step


def free_edge(plan: Plan) -> Section | None:
    """A free edge outside: the profile that closes it, the last leg, the mortar that drains."""
    for room in plan.survey.rooms:
        for wall in (w for w in room.walls if w.free_edge):
            settings = settings_of(plan)
            near = [(segment_distance(n.at, wall.line), n) for n in plan.layout.nodes if n.id in settings]
            near = [(away, n) for away, n in near if away <= 150]
            if not near:
                continue
            away, node = min(near, key=lambda i: (i[0], i[1].id))
            return _free_edge(plan, wall, node, away)
    return None


def _free_edge(plan: Plan, wall: WallLine, node: Node, away: float) -> Section:
    leg, kit = settings_of(plan)[node.id], plan.project.kit
    zone = zone_at(plan, node.at)
    top, base, finish = leg.rail_top_mm, leg.base_mm, zone.build_up.finish_mm
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, scale_for(finish + leg.leg_mm), top + finish + 15, base)
    x0, end = 60.0, d.span
    d.fill(x0 + 12, end, base, top)
    d.base(x0 - 40, end, base, base)
    d.rail_along(x0 + 20, end, top, kit.rail.height)
    put_leg(d, plan, x0 + away, leg, top)
    d.layers(x0 + 4, end, top, zone.build_up.layers)
    d.canvas.area([d.box(x0, x0 + 4, base, top + finish)], "#fff", CUT)
    d.canvas.path((d.at(x0, base), d.at(x0 + 60, base)), CUT)
    say_levels(d, plan, zone, top, base, x0 + 20)
    say_layers(d, zone, top, end - 12)
    said = next((r.edge_profile for r in plan.project.rooms if r.edge_profile), None)
    d.say_left(x0 + 2, base + leg.leg_mm * 0.3, *wrapped(said or "edge profile: not named in the file", LEAST_MM, 32))
    d.dim(x0 + away + 95, base, top, f"leg {leg.leg_mm}")
    d.dim_level(base + leg.leg_mm * 0.42, x0, x0 + away, f"{away:.0f}")
    d.inside(x0 + away + 115, base + leg.leg_mm * 0.35, plan.project.fills.use)
    d.say(end - 12, top - kit.rail.height / 2, f"rail {plain(kit.rail.height)} high")
    proofing = plan.project.base.waterproofing
    if proofing is not None:
        mat = "protection mat" if proofing.protection_mat_under_the_feet == "yes" else "no mat named"
        d.say(end - 12, base, f"waterproofing, {mat} under the feet")
    return Section(
        "free-edge",
        f"Free edge at {wall.name}, at {node.id}",
        d.scale,
        d.svg(f"Section at the free edge of {wall.name}, scale 1 to {d.scale}"),
        column_sum(zone, leg.leg_mm, base),
    )


def _middle(s: Segment) -> Point:
    return ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)
