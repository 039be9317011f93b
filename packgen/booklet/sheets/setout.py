"""Set-out plan: chalk lines from one corner, to true scale, and the table of the same figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.booklet.days import days_of, needs, ticked
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.setout_plan import draw_setout, first_lines, setout_legend, setout_views, zone_lines
from packgen.booklet.moisture_points import test_points
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import BODY_BEHIND_MM, SHEET_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, listed, plain, whole
from packgen.core.plane import Point
from packgen.layout.model import Line
from packgen.plan import Plan
from packgen.survey.model import RoomOutline
from packgen.trade.layout_rules import layout_rule
from packgen.trade.setting_out import setting_rule

LEGEND_MM = 7.0
HALF_MM = 86.0
SIGNED_MM = 12.0
NAME_MM = 10.0
CAPTION_MM = 10.0
SHEET_FULL_MM = 1000.0
MOST_DAYS = 2  # whose needs are printed: those after them are the same as on the second
PURPOSE = "Chalk every line from one corner: hook the tape once, read all figures off it, never add them up."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """For each room the plan in one or more parts, then steps, tables and check."""
    points = test_points(plan)
    pages: list[dict[str, object]] = []
    for room in plan.survey.rooms:
        here = {str(p.number): p.at for p in points if p.room == room.name}
        steps = _steps(plan, room)
        drawings, left_mm = _drawings(plan, room, here)
        if left_mm >= steps_mm(steps):
            drawings[-1]["steps"], steps = steps, ()
        pages += [*drawings, *_tables(plan, room, steps)]
    wanted = tuple((f"{day(d.date)}, set the grid:", ticked(needs(plan, d))) for d in days_of(plan) if d.kind == "grid")
    if pages and _used_mm(pages[-1]) + _needs_mm(wanted[:MOST_DAYS]) <= body_below_band(plan, "grid"):
        pages[-1]["needs"] = wanted[:MOST_DAYS]  # else they stand on the pocket card alone
    empty = {
        "needs": (),
        "room": "",
        "drawing": "",
        "caption": "",
        "steps": (),
        "left": None,
        "right": None,
        "check": None,
    }
    return tuple(
        Sheet(
            slug="setout" if n == 1 else f"setout-{n}",
            title="Set-out plan",
            purpose=PURPOSE,
            template="setout.html",
            view=empty | page,
            behind="grid",
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _used_mm(page: Mapping[str, object]) -> float:
    """What a page's own content takes of it; a page with a drawing is full."""
    if page.get("drawing"):
        return SHEET_FULL_MM
    tables = [t.height_mm if isinstance(t, Table) else 0.0 for t in (page.get(k) for k in ("left", "right", "check"))]
    steps = page.get("steps")
    words = steps_mm([str(x) for x in steps]) if isinstance(steps, (list, tuple)) else 0.0
    return words + max(tables[0], tables[1]) + tables[2] + SIGNED_MM + (NAME_MM if page.get("room") else 0.0)


def _needs_mm(wanted: Sequence[tuple[str, Sequence[tuple[str, str]]]]) -> float:
    said = (f"{head} needs from before " + " ".join(f"{a} {b}" for a, b in items) for head, items in wanted)
    return sum(lines_of(text, 10, SHEET_MM - 20.0) * 5.0 + 6.0 for text in said)


def steps_mm(steps: Sequence[str]) -> float:
    """Height of steps at 10 pt."""
    return sum(lines_of(s, 10, 169) * 4.5 + 1.0 for s in steps) + 2.0


def _body(plan: Plan) -> float:
    """Height for a page's content, below the room's name where there are several rooms."""
    return BODY_BEHIND_MM - (NAME_MM if len(plan.survey.rooms) > 1 else 0.0)


def _drawings(plan: Plan, room: RoomOutline, points: dict[str, Point]) -> tuple[list[dict[str, object]], float]:
    """The parts of the plan, and how much of the last page is left."""
    body = _body(plan)
    views = setout_views(plan, room, 178.0, body - CAPTION_MM - 5.0 - LEGEND_MM)
    out: list[dict[str, object]] = []
    high = 0.0
    for n, view in enumerate(views, 1):
        view.canvas.height_mm += LEGEND_MM
        draw_setout(view, plan, room, points)
        setout_legend(view, plan, room, view.canvas.height_mm - 12.0 - LEGEND_MM / 2, bool(points))
        part = f", part {n} of {len(views)}" if len(views) > 1 else ""
        title = f"Set-out plan of {room.name}{part}, scale 1 to {view.scale}"
        name = room.name if len(plan.survey.rooms) > 1 else ""
        out.append({"drawing": view.canvas.svg(title), "room": name, "caption": _caption(plan, room, view, len(views))})
        high = view.canvas.height_mm
    lines = lines_of(_caption(plan, room, views[-1], len(views)), 10, 178)
    return out, body - high - lines * 4.5 - 5.0


def _caption(plan: Plan, room: RoomOutline, view: PlanView, parts: int) -> str:
    strip = plan.project.kit.edge_strip
    keep = f"Rails end {plain(strip)} short of walls: the strip." if strip else ""
    here = ""
    if parts > 1:
        ends = []
        for kind in ("lettered", "numbered"):
            shown = [
                ln.name
                for ln in zone_lines(plan, room, kind)
                if view.shows((ln.at_mm, view.window.y0) if kind == "lettered" else (view.window.x0, ln.at_mm), 0.1)
            ]
            ends += [f"{shown[0]} to {shown[-1]}"] if shown else []
        here = f"This part: lines {' and '.join(ends)}."
    return " ".join(s for s in (here, "Figures run from the corner marked with a small ring.", keep) if s)


# --------------------------------------------------------------------------------- tables


def _tables(plan: Plan, room: RoomOutline, steps: tuple[str, ...]) -> list[dict[str, object]]:
    """Lettered lines at the left, numbered at the right; the steps above and the check below, or both on a page."""
    lettered = _line_table(room, zone_lines(plan, room, "lettered"), "Lines across the room")
    numbered = _line_table(room, zone_lines(plan, room, "numbered"), "Lines along the room")
    check = _check(plan, room)
    check_mm = check.height_mm + SIGNED_MM if check else 0.0
    tall = max(lettered.height_mm, numbered.height_mm)
    body = _body(plan)
    together = steps_mm(steps) + tall + check_mm <= body
    left, right = parted(lettered, body), parted(numbered, body)
    pages: list[dict[str, object]] = [
        {"left": left[k] if k < len(left) else None, "right": right[k] if k < len(right) else None}
        for k in range(max(len(left), len(right)))
    ]
    if not together and (steps or check):
        pages.append({})
    pages[-1] |= {"steps": steps, "check": check}
    name = room.name if len(plan.survey.rooms) > 1 else ""
    return [page | {"room": name} for page in pages]


def _line_table(room: RoomOutline, lines: Sequence[Line], caption: str) -> Table:
    """line, and its distance along the two walls it meets."""
    walls = [_walls_of(lines, which) for which in (0, 1)]
    one = [len(names) == 1 for names in walls]
    heads = [f"on {names[0]}" if alone else "along its wall" for names, alone in zip(walls, one, strict=True)]
    hooks = [hook_wall(room, names[0], lines[0].kind) if alone else "" for names, alone in zip(walls, one, strict=True)]
    units = [f"from {hook}, mm" if hook else "mm" for hook in hooks]
    rows = []
    for i, line in enumerate(lines):
        cells = [line.name]
        for names, along, wall in zip(
            walls, (line.first_mm, line.second_mm), (line.first_wall, line.second_wall), strict=True
        ):
            cells.append(str(whole(along)) if len(names) == 1 else f"{whole(along)} on {wall}")
        rows.append(Row(tuple(cells), "light" if i and i % 5 == 0 else "", strong=len(walls[0]) + len(walls[1]) > 2))
    kinds = ["set" if alone else "number" for alone in one]
    columns = (
        Column("line", "text", 16.0),
        Column(heads[0], kinds[0], 35.0, units[0]),  # type: ignore[arg-type]
        Column(heads[1], kinds[1], 35.0, units[1]),  # type: ignore[arg-type]
    )
    return Table(columns, tuple(rows), caption, HALF_MM)


def _walls_of(lines: Sequence[Line], which: int) -> tuple[str, ...]:
    seen = dict.fromkeys((ln.first_wall, ln.second_wall)[which] for ln in lines)
    return tuple(seen)


def hook_wall(room: RoomOutline, wall: str, kind: str) -> str:
    """The wall at the corner in which the tape is hooked: that nearer to corner 1."""
    i = 0 if kind == "lettered" else 1
    for k, w in enumerate(room.walls):
        if w.name == wall:
            at_start = w.line.a[i] <= w.line.b[i]
            beside = room.walls[k - 1] if at_start else room.walls[(k + 1) % len(room.walls)]
            return beside.name
    return ""


# --------------------------------------------------------------------------------- steps and check


def _steps(plan: Plan, room: RoomOutline) -> tuple[str, ...]:
    first = first_lines(plan, room)
    off = plain(layout_rule("first_line_off").value_mm)
    lines = {ln.name: ln for ln in plan.layout.lines}
    steps = []
    for name in first:
        ln = lines[name]
        marks = f"{whole(ln.first_mm)} on {ln.first_wall} and {whole(ln.second_mm)} on {ln.second_wall}"
        steps.append(f"First line {name}: {marks}. Within {off} is good enough; all others follow from it.")
    steps.append(
        "Hook the tape in the corner, read every figure off it and mark wall and floor. Never add line to line."
    )
    steps.append("Snap each line from its mark on one wall to its mark on the other. On foil use a marker, not chalk.")
    steps += _curved(plan, room)
    square = _square(plan, room)
    if square:
        steps.append(square)
    steps.append("Measure the diagonals below. Then mark joints, doors and test points from the plan.")
    return tuple(steps)


def _curved(plan: Plan, room: RoomOutline) -> list[str]:
    """Where lines are marked that end at a curved wall."""
    ends = {w for ln in plan.layout.lines if ln.room == room.name for w in (ln.first_wall, ln.second_wall)}
    bent = [w.name for w in room.walls if w.rise_mm and w.name in ends]
    if not bent:
        return []
    are = "is" if len(bent) == 1 else "are"
    names = listed(bent)
    return [f"{names[0].upper()}{names[1:]} {are} curved: stretch a string from corner to corner and mark along it."]


def _square(plan: Plan, room: RoomOutline) -> str:
    """A 3-4-5 check on two first lines, where the floor has room for it."""
    unit = setting_rule("square_side").value
    first = first_lines(plan, room)
    nodes = {n.id: n for n in plan.layout.nodes if n.room == room.name}
    corner = next((n for n in nodes.values() if len(first) == 2 and set(first) <= set(n.lines)), None)
    if corner is None:
        return ""
    reach_x = max((n.x_mm - corner.x_mm for n in nodes.values() if first[1] in n.lines), default=0.0)
    reach_y = max((n.y_mm - corner.y_mm for n in nodes.values() if first[0] in n.lines), default=0.0)
    for along, into in ((4, 3), (3, 4)):
        if reach_x >= along * unit and reach_y >= into * unit:
            return (
                f"Square: from {corner.id} {plain(along * unit)} along line {first[1]} and {plain(into * unit)} along "
                f"line {first[0]}; across it must be {plain(5 * unit)}."
            )
    return ""


def _check(plan: Plan, room: RoomOutline) -> Table | None:
    """The two diagonals between outer nodes: computed, and blanks for what is measured."""
    nodes = {n.id: n.room for n in plan.layout.nodes}
    rows = [
        Row((f"{a} to {b}", str(whole(mm)), "", "")) for a, b, mm in plan.layout.diagonals if nodes.get(a) == room.name
    ]
    if not rows:
        return None
    within = plain(setting_rule("diagonals").value)
    columns = (
        Column("from node to node", "text", 48),
        Column("computed", "set", 40, "mm"),
        Column("measured", "write", 45),
        Column(f"differs, {within} allowed", "write"),
    )
    return Table(columns, tuple(rows), "Check: diagonals between outer nodes")
