"""The picture of the datum sheet: bench mark, laser line, block with its two marks, staff on the rail."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, RAIL, Pen, arrow_head
from packgen.booklet.drawing.detail import Detail
from packgen.booklet.drawing.section_parts import zone_at
from packgen.core.figures import level, plain
from packgen.core.surface import level_at
from packgen.plan import Plan

WIDE_MM, LEFT_MM, RIGHT_MM = 178.0, 40.0, 44.0
SCALE = 5
LASER_PAPER_MM = 22.0  # the laser line is drawn so far above the finished level: its height is not to scale
STAFF = 24.0


def block_section(plan: Plan) -> tuple[Markup, float]:
    """A section at the first door with the block, and two staffs under the laser line: on the datum and on the rail."""
    kit, datum = plan.project.kit, plan.project.datum
    doors = [d for room in plan.survey.rooms for d in room.doors]
    at = doors[0].line.a if doors else plan.survey.rooms[0].corners[0]
    if doors:
        (ax, ay), (bx, by) = doors[0].line.a, doors[0].line.b
        at = ((ax + bx) / 2, (ay + by) / 2)
    zone = zone_at(plan, at)
    finish = zone.build_up.finish_mm
    top = level_at(plan.heights.rail_top, at)
    base = level_at(plan.survey.base, at)
    finished = top + finish
    high = max(finished, 0.0)
    laser = high + LASER_PAPER_MM * SCALE
    d = Detail(WIDE_MM, LEFT_MM, RIGHT_MM, SCALE, laser + 10, base)
    end = d.span
    left = 120.0
    d.solid(0, left, base, 0.0)
    d.base(left, end, base, base)
    d.rail_along(left + 20, end, top, kit.rail.height)
    leg_x = left + 170.0
    d.leg(leg_x, base, top, kit.rail.height, kit.foot.diameter)
    d.level_line(left, end, finished)
    block = end - 95.0
    d.canvas.area([d.box(block, block + 60, top - 12, finished + 15)], "#fff", CUT)
    for mark in (finished, top):
        d.canvas.line(d.at(block - 10, mark), d.at(block + 70, mark), CUT)
    d.canvas.line(d.at(0, laser), d.at(end, laser), DASHED)
    for x, foot in ((60.0, 0.0), (leg_x, top)):
        d.canvas.area([d.box(x - STAFF / 2, x + STAFF / 2, foot, laser + 8)], "#fff", RAIL)
        for k in range(1, int((laser - foot) / 10)):
            y = foot + 10 * k
            wide = STAFF / 2 if k % 5 == 0 else STAFF / 4
            d.canvas.line(d.at(x - STAFF / 2, y), d.at(x - STAFF / 2 + wide, y), Pen(0.25))
        tip = d.at(x + STAFF / 2, laser)
        d.canvas.area([arrow_head(tip, (tip[0] + 5, tip[1]), 2.4)], "#000")
    d.canvas.discs([d.at(60.0, 0.0)], 0.9, "#000")
    d.inside(60 + STAFF / 2 + 12, laser - 22, "backsight")
    d.inside(leg_x + STAFF / 2 + 12, laser - 22, "target")
    d.inside(leg_x + STAFF / 2 + 12, laser - 44, "bigger reading: turn up")
    name = datum.name
    d.say_left(4, laser, "laser line", "(drawn too low)")
    d.say_left(60.0, 0.0, name, "height 0")
    d.say(block + 60, finished, f"upper mark: finished level, {level(finished, name)}")
    d.say(block + 60, top, f"lower mark: rail top, {plain(finish)} below the upper")
    d.say(end - 8, top - kit.rail.height / 2, f"rail, its top {level(top, name)}")
    d.say(end - 10, base, f"base, {level(base, name)}")
    where = f" at {doors[0].name}" if doors else ""
    svg = d.svg(f"Section{where}: staff on {name} and on the rail, block with finished mark and rail-top mark")
    return svg, d.canvas.height_mm
