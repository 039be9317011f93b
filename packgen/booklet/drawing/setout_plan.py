"""The set-out plan: every line with its running dimensions on both walls, at the largest true scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from packgen.booklet.drawing.canvas import HEAVY, THIN, Pen
from packgen.booklet.drawing.dims import Side, depths, figure_size, in_order, line_hits, running, sides
from packgen.booklet.drawing.falls import falls
from packgen.booklet.drawing.frame import BAND_MM, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, around, centred, width
from packgen.booklet.drawing.plan_marks import Sign, diamond, joints, legend, services
from packgen.booklet.drawing.plan_view import name_margins, plan_views, scale_bar
from packgen.booklet.drawing.walls import cut_outs, names, walls
from packgen.core.figures import whole
from packgen.core.plane import Point
from packgen.layout.model import Line
from packgen.plan import Plan
from packgen.survey.model import RoomOutline

AMONG_MM = 12.0  # lines so far apart leave room for a name between their marks


def setout_views(plan: Plan, room: RoomOutline, width_mm: float, height_mm: float) -> tuple[PlanView, ...]:
    """Views of one room, its dimension zones taken off the paper first; parted where 1:50 does not fit."""
    all_sides = sides(line_hits(plan, room))
    scale = 20.0
    while True:
        off = _off(all_sides, scale)
        among = plan.project.kit.module / scale >= AMONG_MM
        views = plan_views(plan, width_mm, height_mm, name_margins(plan, off, (room,), among), (room,))
        if views[0].scale <= scale:
            return views
        scale = float(views[0].scale)


def _off(all_sides: Sequence[Side], scale: float) -> dict[str, float]:
    return {name: deep - BAND_MM for name, deep in depths(all_sides, scale).items()}


def draw_setout(view: PlanView, plan: Plan, room: RoomOutline, points: Mapping[str, Point]) -> None:
    """One sheet: rails thin, first lines heavy, nodes named at line ends, joints, doors, test points, dimensions."""
    hits = line_hits(plan, room)
    first = first_lines(plan, room)
    for rail in (r for r in plan.layout.rails if r.room == room.name):
        view.line(rail.start, rail.end, HEAVY if rail.line in first else THIN)
    joints(view, plan)
    services(view, plan, words=False, only=lambda name: not _heating(plan, name))
    cut_outs(view, plan)
    walls(view, plan)
    all_sides = sides(hits)
    size = figure_size(all_sides, view.scale)
    for side in in_order(all_sides):
        running(view, side, size)
    _unmeasured(view, plan, room, {hit.line.name for hit in hits})
    _diagonals(view, plan, room)
    names(view, plan, off=_off(all_sides, view.scale))
    falls(view, plan)
    _end_nodes(view, plan, room)
    for name, at in points.items():
        if view.shows(at):
            x, y = view.at(at)
            diamond(view.canvas, (x, y))
            view.canvas.room.take((x - 2, y - 2, x + 2, y + 2), 3.0)
            view.canvas.place(around(x, y, name, 2.0, 3.9, True), clear=True)
    _shared_lines(view, plan)
    scale_bar(view)


def _heating(plan: Plan, name: str) -> bool:
    return any(s.heating for s in plan.layout.services if s.name == name)


def first_lines(plan: Plan, room: RoomOutline) -> tuple[str, ...]:
    """The lines set out first: of each direction the one with a name of its own that stands nearest corner 1."""
    out = []
    for kind in ("lettered", "numbered"):
        own = [ln for ln in plan.layout.lines if ln.kind == kind and ln.room == room.name and ln.own]
        if own:
            out.append(min(own, key=lambda ln: ln.at_mm).name)
    return tuple(out)


def _unmeasured(view: PlanView, plan: Plan, room: RoomOutline, measured: Set[str]) -> None:
    """Lines that meet no straight wall, as in a bay: named on the line itself, with their distance from wall 1."""
    for line in (ln for ln in plan.layout.lines if ln.room == room.name and ln.name not in measured):
        text = f"line {line.name} at {whole(line.at_mm)}"
        spots = []
        for rail in (r for r in plan.layout.rails if r.line == line.name and r.room == room.name):
            (ax, ay), (bx, by) = rail.start, rail.end
            for f in (0.5, 0.35, 0.65, 0.2, 0.8):
                at = (ax + (bx - ax) * f, ay + (by - ay) * f)
                if view.shows(at, -2.0):
                    spots.append(centred(*view.at(at), text, LEAST_MM, True))
        if spots:
            view.canvas.place(spots, clear=True)


def _diagonals(view: PlanView, plan: Plan, room: RoomOutline) -> None:
    """The two check diagonals as thin dashes with their length."""
    nodes = {n.id: n for n in plan.layout.nodes}
    for a, b, length in plan.layout.diagonals:
        if a not in nodes or b not in nodes or nodes[a].room != room.name:
            continue
        p, q = nodes[a].at, nodes[b].at
        view.line(p, q, Pen(0.25, "4 3"), taken=False)
        spots = []
        for f in (0.3, 0.27, 0.33, 0.24, 0.36, 0.2, 0.16, 0.7, 0.67, 0.73, 0.76, 0.64, 0.8, 0.84):
            at = (p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f)
            if view.shows(at, -3.0):
                spots.append(centred(*view.at(at), f"{a}-{b} {whole(length)}", 3.9, True))
        if spots:
            view.canvas.place(spots, clear=True)


def _end_nodes(view: PlanView, plan: Plan, room: RoomOutline) -> None:
    """Names of the nodes at the ends of lines, and of the corner nodes; the others follow from the marks."""
    named: set[str] = set()
    for rail in (r for r in plan.layout.rails if r.room == room.name and r.nodes):
        named.update((rail.nodes[0], rail.nodes[-1]))
    spots = [n for n in plan.layout.nodes if n.room == room.name and view.shows(n.at, 0.5)]
    for node in spots:
        x, y = view.at(node.at)
        view.canvas.room.take((x - 0.9, y - 0.9, x + 0.9, y + 0.9), 2.0)
    view.canvas.discs([view.at(n.at) for n in spots], 0.9, "#fff", THIN)
    for node in spots:
        if node.id in named:
            view.canvas.place(around(*view.at(node.at), node.id, 1.1), most_cost=0.3)


def _shared_lines(view: PlanView, plan: Plan) -> None:
    """Where this sheet meets the next: the shared line named at the sheet's edge."""
    w, canvas = view.window, view.canvas
    for line in plan.layout.lines:
        edges = (w.x0, w.x1) if line.kind == "lettered" else (w.y0, w.y1)
        for k, edge in enumerate(edges):
            if abs(line.at_mm - edge) > 0.5:
                continue
            if w.columns == 1 and w.rows == 1:
                continue
            words = f"line {line.name}: also on the next sheet"
            if line.kind == "lettered":
                x, _ = view.at((edge, w.y0))
                y = view.top + (w.y1 - w.y0) / view.scale / 2
                for j, part in enumerate((f"line {line.name}", "also on", "next", "sheet")):
                    half = width(part, LEAST_MM) / 2
                    sign = -1 if k == 0 else 1
                    canvas.label(Label(x + sign * (7 + half), y + j * 4.2, part), clear=True)
            else:
                _, y = view.at((w.x0, edge))
                x = view.left + (w.x1 - w.x0) / view.scale / 2
                canvas.label(Label(x, y + (-8 if k == 0 else 10.5), words), clear=True)


def setout_legend(view: PlanView, plan: Plan, room: RoomOutline, y: float, tests: bool) -> None:
    """Signs of the set-out plan in one row."""
    first = first_lines(plan, room)
    entries = [Sign("heavy", f"set out first: {' and '.join(first)}")] if first else []
    if plan.layout.joints:
        entries.append(Sign("joint", "joint"))
    if any(not s.heating and s.stretches for s in plan.layout.services):
        entries.append(Sign("service", "pipe or cable"))
    if tests:
        entries.append(Sign("test", "test point"))
    legend(view.canvas, y, entries)


def zone_lines(plan: Plan, room: RoomOutline, kind: str) -> tuple[Line, ...]:
    """Lines of one kind in a room by place."""
    return tuple(
        sorted((ln for ln in plan.layout.lines if ln.kind == kind and ln.room == room.name), key=lambda ln: ln.at_mm)
    )
