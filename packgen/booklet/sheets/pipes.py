"""Pipes, cables and heating: no foot on, no screw into, no rail through a service."""

from __future__ import annotations

from packgen.booklet.drawing.services_plan import services_plan
from packgen.booklet.flow import Flow
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import listed, number, plain, round_down, round_up, whole
from packgen.core.plane import Point
from packgen.heights.model import RailOverService
from packgen.layout.model import FootClash, MovedFoot, PipeRun
from packgen.plan import Plan
from packgen.trade.grid_rules import value

PURPOSE = "No foot on a pipe, no screw into it, no rail through it."
CAPTION_MM = 8.0
PLAN_MM = 158.0
TIGHTEST = 2  # crossings listed of a circuit whose rails all pass


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The plan, then crossings, feet too near, circuits. A job without services has no such sheet."""
    if not plan.layout.services:
        return ()
    shown, rest = _crossings(plan)
    drawing, high = services_plan(plan, 178.0, PLAN_MM, [c.at for c in shown])
    notes = _notes(plan, rest)
    notes_mm = sum(lines_of(n, 10, 169) * 4.5 + 1.0 for n in notes) + 4.0
    room = body_below_band(plan, "grid")
    flow = Flow(room - high - CAPTION_MM - 5.0 - notes_mm, room - 12.0)
    flow.add(_services(plan))
    flow.add(_crossing_table(plan, shown))
    flow.add(_feet(plan), even=True)
    flow.add(_moved(plan), even=True)
    pages: list[dict[str, object]] = [{"tables": tables} for tables in flow.pages]
    pages[0] |= {"drawing": drawing, "notes": notes}
    pages[-1]["signed"] = True
    empty: dict[str, object] = {"drawing": "", "notes": (), "tables": (), "signed": False}
    return tuple(
        Sheet(
            slug="pipes" if n == 1 else f"pipes-{n}",
            title="Pipes, cables and heating",
            purpose=PURPOSE,
            template="pipes.html",
            view=empty | page,
            behind="grid",
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _notes(plan: Plan, rest: tuple[RailOverService, ...]) -> tuple[str, ...]:
    out = []
    if rest:
        least = min(c.free_mm for c in rest)
        out.append(f"{len(rest)} more crossings of rails pass with {whole(least)} or more to spare.")
    counts = _counts(plan)
    if counts:
        out.append(counts)
    better = plan.layout.better_first_lines
    if better is not None and plan.layout.foot_clashes:
        x, y, left = better
        count = len(plan.layout.foot_clashes)
        stands = "1 foot stands" if count == 1 else f"{count} feet stand"
        out.append(
            f"{stands} on a pipe or too near it. First lines at {plain(x)} along wall 1 and {plain(y)} from "
            f"wall 1 leave {left or 'none'}: write first lines: {{along wall 1: {plain(x)}, from wall 1: {plain(y)}}} "
            "under kit and print again."
        )
    screw = _screw(plan)
    if screw:
        out.append(screw)
    if any(run.heating for run in plan.layout.services) and plan.layout.foot_clashes:
        out.append(
            "A foot on a heating pipe only on a rigid saddle that does not press it, pressure on, looked at once set."
        )
    return tuple(out)


def _screw(plan: Plan) -> str:
    """How long a screw may be so that its tip stays inside the rail."""
    board = plan.project.fills.used.board_on_top
    if board is None:
        return ""
    rail = plan.project.kit.rail.height
    longest = board.thickness + rail
    given = plan.project.kit.screw
    text = f"Screws for boards: at most {plain(longest)} long (board {plain(board.thickness)} + rail {plain(rail)})"
    if given is None:
        return f"{text}: the tip stays inside the rail."
    tip = given - board.thickness
    state = "stays inside the rail" if tip <= rail else f"comes out {plain(tip - rail)} below it"
    return f"{text}. The file says {plain(given)}: the tip {state}."


# --------------------------------------------------------------------------------- services


def _services(plan: Plan) -> Table:
    lengths = {c.service: c for c in plan.quantities.circuits}
    covers = {c.service: c for c in plan.heights.covers}
    given = {s.name: s for s in plan.project.services}
    rows = []
    for run in plan.layout.services:
        asked = given.get(run.name)
        length = lengths.get(run.name)
        cover = covers.get(run.name)
        size = f"{plain(run.outside_mm)} on {plain(run.support_mm)}" if run.outside_mm else ""
        allowed = f", {plain(length.allowed_m)} allowed" if length and length.allowed_m is not None else ""
        metres = f"{number(length.length_m, 1)}{allowed}" if length else ""
        spacing = plain(asked.spacing) if asked and asked.spacing else ""
        needed = f", {plain(cover.needed_mm)} needed" if cover and cover.needed_mm is not None else ""
        least = f"{whole(cover.cover_mm)}{needed}" if cover else ""
        test = asked.pressure_test or "" if asked else ""
        too_long = length is not None and not length.fits
        rows.append(Row((run.name, _where(plan, run), size, spacing, metres, least, test), strong=too_long))
    columns = (
        Column("service", "text", 30),
        Column("where it lies", "text", None),
        Column("outside", "text", 21, "on support"),
        Column("spacing", "number", 17, "mm"),
        Column("length with leads", "text", 27, "m"),
        Column("least cover", "text", 24, "mm"),
        Column("pressure test", "text", 23),
    )
    return Table(columns, tuple(rows), "Services")


def _where(plan: Plan, run: PipeRun) -> str:
    """Where a service lies, by distances from wall 1 and from the last wall of its room."""
    last = plan.survey.rooms[0].walls[-1].name
    if not run.stretches:
        return f"{whole(run.at[0])} from {last}, {whole(run.at[1])} from wall 1" if run.at else ""
    xs = [p[0] for s in run.stretches for p in (s.a, s.b)]
    ys = [p[1] for s in run.stretches for p in (s.a, s.b)]
    along = _range(min(ys), max(ys), "wall 1")
    across = _range(min(xs), max(xs), last)
    if len(run.stretches) == 1 and max(ys) - min(ys) < 1:
        return along
    if len(run.stretches) == 1 and max(xs) - min(xs) < 1:
        return across
    return f"{along}; {across}"


def _range(low: float, high: float, wall: str) -> str:
    low = max(low, 0.0)
    return f"{whole(low)} from {wall}" if high - low < 1 else f"{whole(low)} to {whole(high)} from {wall}"


# --------------------------------------------------------------------------------- crossings


def _crossings(plan: Plan) -> tuple[tuple[RailOverService, ...], tuple[RailOverService, ...]]:
    """Crossings to print: those that do not pass, those of single services, the tightest of each circuit; the rest."""
    heating = {s.name for s in plan.layout.services if s.heating}
    counts: dict[str, int] = {}
    shown, rest = [], []
    for c in sorted(plan.heights.crossings, key=lambda c: (c.free_mm, c.service, c.rail)):
        counts[c.service] = counts.get(c.service, 0) + 1
        if c.free_mm < 0 or c.service not in heating or counts[c.service] <= TIGHTEST:
            shown.append(c)
        else:
            rest.append(c)
    return tuple(shown), tuple(rest)


def _crossing_table(plan: Plan, shown: tuple[RailOverService, ...]) -> Table:
    runs = {s.name: s for s in plan.layout.services}
    rows = tuple(
        Row(_crossing_cells(plan, k, c, runs[c.service]), "light" if k % 5 == 1 and k > 1 else "", strong=c.free_mm < 0)
        for k, c in enumerate(shown, 1)
    )
    columns = (
        Column("no.", "number", 11),
        Column("service", "text", 40),
        Column("rail", "text", 14),
        Column("where", "text", 36),
        Column("depth", "number", 14, "there"),
        Column("needed: pipe + support + rail + air", "text", 36),
        Column("free", "number", 11),
        Column("do", "text", None),
    )
    return Table(columns, rows, "Rails over services")


def _crossing_cells(plan: Plan, k: int, c: RailOverService, run: PipeRun) -> tuple[str, ...]:
    rail, air = plan.project.kit.rail.height, value("over_service")
    sums = f"{plain(run.outside_mm)} + {plain(run.support_mm)} + {plain(rail)} + {plain(air)} = {plain(c.needed_mm)}"
    depth = int(round_down(c.depth_mm))
    free = depth + int(c.raised_mm) - int(whole(c.needed_mm))
    do = "ok"
    if free < 0:
        short = -free
        do = f"raise zone {short}" if short <= value("raise_rail_most") else "interrupt"
    elif c.raised_mm:
        do = f"rail raised {plain(c.raised_mm)}"
    return (
        str(k),
        c.service,
        c.rail,
        _at(plan, c.at),
        str(depth),
        sums,
        str(free) if free >= 0 else f"{-free} short",
        do,
    )


def _at(plan: Plan, at: Point) -> str:
    room = plan.survey.rooms[0]
    return f"{whole(at[0] - room.origin[0])} along, {whole(at[1] - room.origin[1])} in"


# --------------------------------------------------------------------------------- feet


def _feet(plan: Plan) -> Table:
    alike: dict[tuple[str, ...], list[str]] = {}
    for clash in plan.layout.foot_clashes:
        alike.setdefault(_foot_cells(plan, clash), []).append(clash.node)
    rows = tuple(
        Row(("  ".join(nodes), *cells), "light" if i else "") for i, (cells, nodes) in enumerate(alike.items())
    )
    columns = (
        Column("feet of", "text", None),
        Column("service", "text", 28),
        Column("foot to axis", "number", 22, "mm"),
        Column("asked for", "number", 18, "mm"),
        Column("do", "text", 50),
    )
    return Table(columns, rows, "Feet on a service or too near")


def _foot_cells(plan: Plan, c: FootClash) -> tuple[str, ...]:
    """What is said of a foot; feet of which the same is said share a row."""
    move = "" if c.move_mm is None else f"move {round_up(c.move_mm):.0f} along a rail"
    kit = plan.project.kit.saddle
    if c.saddle:
        high = f", {plain(kit.height)} high: leg {plain(_leg(plan, c.node) - kit.height)}" if kit else " (in the file)"
        return (c.service, number(c.distance_mm), number(c.reach_mm), f"stands on a rigid saddle{high}")
    do = f"{move}, or rigid saddle" if move else "rigid saddle, or leave out if the span allows"
    return (c.service, number(c.distance_mm), number(c.reach_mm), do)


def _leg(plan: Plan, node: str) -> float:
    return next(leg.leg_mm for leg in plan.heights.legs if leg.node == node)


# --------------------------------------------------------------------------------- feet moved


def _moved(plan: Plan) -> Table:
    """Feet that stand beside their crossing: how far, along which rail, which way; those moved alike share a row."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for m in plan.layout.moved_feet:
        alike.setdefault((m.rail, _way(m), str(whole(m.by_mm))), []).append(m.node)
    rows = tuple(
        Row(("  ".join(nodes), *cells, ""), "light" if k else "") for k, (cells, nodes) in enumerate(alike.items())
    )
    columns = (
        Column("feet of", "text", None),
        Column("along rail", "text", 24),
        Column("which way", "text", 40),
        Column("by", "number", 16, "mm"),
        Column("placed", "tick", 16),
    )
    return Table(columns, rows, "Feet moved off a service, along their rail")


def _way(m: MovedFoot) -> str:
    (ax, ay), (bx, by) = m.crossing, m.at
    if abs(bx - ax) >= abs(by - ay):
        return "away from corner 1" if bx > ax else "towards corner 1"
    return "away from wall 1" if by > ay else "towards wall 1"


def _counts(plan: Plan) -> str:
    """How many feet would stand on services, and what became of them."""
    layout = plan.layout
    if not layout.feet_on_services:
        return ""
    left = {c.node for c in layout.foot_clashes if not c.saddle}
    saddled = {c.node for c in layout.foot_clashes if c.saddle} - left
    parts = []
    if layout.moved_feet:
        most = max(m.by_mm for m in layout.moved_feet)
        parts.append(f"{len(layout.moved_feet)} are moved along a rail, {whole(most)} at most")
    if saddled:
        parts.append(f"{len(saddled)} stand on saddles")
    if not parts:
        return ""
    parts.append(f"{len(left) or 'none'} {'is' if len(left) == 1 else 'are'} left")
    return f"With feet at every crossing {layout.feet_on_services} stand on a service or too near it: {listed(parts)}."
