"""Datum and support block: one height kept for weeks."""

from __future__ import annotations

import math
from itertools import pairwise

from markupsafe import Markup

from packgen.booklet.drawing.datum_section import block_section
from packgen.booklet.drawing.section_parts import layer_words, zone_at
from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import level, number, plain
from packgen.core.plane import Point
from packgen.core.surface import level_at
from packgen.plan import Plan
from packgen.project.sights import error_per_m
from packgen.survey.model import Door
from packgen.trade.limits import limit
from packgen.trade.site_readings import reading_rule

SESSIONS = 12
PURPOSE = "Keep one height for weeks: the bench mark, its blocks at the doors, the laser's own check."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The bench mark, the blocks with their sums and the two-peg test; then the sessions."""
    blocks = _blocks(plan)
    facts = _facts(plan)
    drawing, drawn = block_section(plan)
    facts_mm = sum(lines_of(value, 10, 90, True) * 4.5 + 2.5 for _, value in facts)
    moved = _change_steps(plan)
    moved_mm = sum(lines_of(step, 10, 169) * 4.5 + 1.0 for step in moved) + (12.0 if moved else 0.0)
    first_mm = BODY_MM - facts_mm - drawn - moved_mm - 30.0
    parts = list(parted(blocks, first_mm, BODY_MM))
    first = {"facts": facts, "drawing": drawing, "blocks": parts[0], "sketch": True, "moved": moved}
    pages: list[dict[str, object]] = [first]
    pages += [{"blocks": part} for part in parts[1:]]
    pages.append({"peg": _peg(plan), "sessions": _sessions(plan)})
    empty: dict[str, object] = {
        "facts": (),
        "drawing": Markup(""),
        "blocks": None,
        "sketch": False,
        "peg": None,
        "moved": (),
        "sessions": None,
    }
    return tuple(
        Sheet(
            slug="datum" if n == 1 else f"datum-{n}",
            title="Datum and support block",
            purpose=PURPOSE,
            template="datum.html",
            view=empty | page,
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _facts(plan: Plan) -> tuple[tuple[str, str], ...]:
    datum = plan.project.datum
    others = [(f"{name} lies", level(mm, datum.name)) for name, mm in datum.other_marks]
    return (
        (f"{datum.name} is", datum.where),
        ("it means", datum.means or "a height that stays"),
        *others,
        ("in this pack", f"heights are so much above or below {datum.name}; {datum.name} itself is never moved"),
        ("keep it", "cover it, mark it, let nobody cut, tile or paint over it; take a photograph with the staff on it"),
    )


# --------------------------------------------------------------------------------- blocks


def _blocks(plan: Plan) -> Table:
    """A block at each door and, where zones have other tops, one in each zone: finished mark, layers, rail-top mark."""
    rows = []
    name = plan.project.datum.name
    for room in plan.survey.rooms:
        for door in room.doors:
            rows.append(_block_row(plan, door.name, _door_at(door), name))
    seen = {zone_at(plan, _door_at(d)).name for room in plan.survey.rooms for d in room.doors}
    for zone in plan.heights.zones:
        if zone.name not in seen:
            at = zone.falls_from
            rows.append(_block_row(plan, f"zone {zone.name}", at, name))
    columns = (
        Column("block at", "text", 34),
        Column("upper mark: finished level", "text", 37),
        Column("layers from the top, their sum", "text", None),
        Column("lower mark", "text", 22, "below the upper"),
        Column("that is the rail top", "text", 32),
    )
    return Table(columns, tuple(rows), "Support blocks: screwed to the wall, two marks each")


def _door_at(door: Door) -> Point:
    (ax, ay), (bx, by) = door.line.a, door.line.b
    return ((ax + bx) / 2, (ay + by) / 2)


def _block_row(plan: Plan, where: str, at: Point, name: str) -> Row:
    zone = zone_at(plan, at)
    finish = zone.build_up.finish_mm
    step = next((s for s in plan.heights.doors if s.door == where), None)
    finished = step.finished_mm if step else level_at(plan.heights.rail_top, at) + finish
    layers = f"{layer_words(zone.build_up.layers)} = {plain(finish)}" if zone.build_up.layers else "none"
    return Row((where, level(finished, name), layers, plain(finish), level(finished - finish, name)))


# --------------------------------------------------------------------------------- two-peg test and sessions


def longest_sight_m(plan: Plan) -> float:
    """The longest distance in a room, metres: no sight of the job is longer."""
    far = max(math.dist(a, b) for room in plan.survey.rooms for a in room.corners for b in room.corners)
    return far / 1000


def _peg(plan: Plan) -> dict[str, object]:
    """The form of the two-peg test and how much error this job bears (checks L13)."""
    error = limit("laser_error")
    sight = max(longest_sight_m(plan), 1.0)
    columns = (
        Column("two marks A and B far apart", "text", 62),
        Column("reading A", "write", 38),
        Column("reading B", "write", 38),
        Column("B less A", "write"),
    )
    rows = (
        Row(("1: laser midway between them", "", "", "")),
        Row(("2: laser close to A, both in one line", "", "", "")),
    )
    sums = (
        Column("difference 2 less difference 1", "write", 50),
        Column("metres from laser to B", "write", 43),
        Column("less metres to A", "write", 43),
        Column("first divided by last: mm per m", "write"),
    )
    return {
        "readings": Table(columns, rows),
        "sums": Table(sums, (Row(("",) * 4),)),
        "sight": number(sight, 1),
        "allowed": plain(error.value),
        "per_m": number(error.value / sight, 2),
        "found": _found(plan),
    }


def _found(plan: Plan) -> str:
    """What the file says of the laser's last test."""
    error = error_per_m(plan.project.laser)
    if error is None:
        return ""
    way = "rises" if error >= 0 else "falls"
    used = (
        "the survey's readings are corrected for it" if plan.survey.levels.line_error is not None else "not corrected"
    )
    return f"By the test in the project file the line {way} {number(abs(error), 2)} mm per m: {used}."


def _sessions(plan: Plan) -> Table:
    within = plain(reading_rule("datum_differs").value)
    columns = (
        Column("date", "write", 24),
        Column("read by", "write", 24),
        Column("backsight at start", "write", 24),
        Column("time", "write", 18),
        Column("backsight at end", "write", 24),
        Column(f"differs, {within} allowed", "write", 22),
        Column("all good", "tick", 14),
        Column("else read again from", "write", None),
    )
    rows = tuple(Row(("",) * 8) for _ in range(SESSIONS))
    return Table(columns, rows, f"Sessions: {plan.project.datum.name} at the start and the end, and after any knock")


def _change_steps(plan: Plan) -> tuple[str, ...]:
    """How the laser is moved, where the readings needed more than one set-up."""
    if len(plan.survey.levels.setups) < 2:
        return ()
    setups = plan.survey.levels.setups
    points = [b.start_point for a, b in pairwise(setups) if b.start_point != plan.project.datum.name]
    where = f" (for the survey: {', '.join(dict.fromkeys(points))})" if points else ""
    return (
        f"Choose a change point that cannot move{where}. Read the staff on it before the laser is touched.",
        "Move the laser. Read the same point again, staff on the same spot, same side up.",
        "New backsight less old reading on it: so much higher or lower stands the laser. All targets change by that.",
        f"Close on {plan.project.datum.name} at the end.",
    )
