"""As-built readings: the honest second reading. Names and blanks only, in an order that hides the neighbours."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted, widest_mm
from packgen.booklet.sheet import Sheet
from packgen.booklet.sign import sign_of
from packgen.booklet.small_plans import reading_plan, straightedge_plan
from packgen.core.figures import plain
from packgen.core.plane import Point, Segment
from packgen.layout.model import Node, Rail
from packgen.plan import Plan
from packgen.survey.model import RoomOutline
from packgen.trade.site_readings import reading_rule, straightedge_count, surface_gap

ACROSS = 4  # readings side by side
HEAD_MM = 27.0
SURFACE_HEAD_MM = 37.0
SIGNED_MM = 13.0
LIMITS_MM = 12.0
STRAIGHTEDGE_MM = 2000.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The reader's sheets of the grid, then the straightedge sheet of the finished floor."""
    return (*_grid_sheets(plan), *_surface_sheets(plan))


def _sheet(slug: str, title: str, purpose: str, view: dict[str, object], part: int, parts: int) -> Sheet:
    return Sheet(
        slug=slug if part == 1 else f"{slug}-{part}",
        title=title,
        purpose=purpose,
        template="asbuilt.html",
        view=view,
        part=part,
        parts=parts,
    )


# ------------------------------------------------------------------------------ readings of the rails


def _grid_sheets(plan: Plan) -> tuple[Sheet, ...]:
    names = scrambled(chosen_nodes(plan), sign_of(plan))
    columns = []
    name_mm = widest_mm(names, 16.0)
    for _ in range(ACROSS):
        columns += [Column("node", width_mm=name_mm), Column("reading", "write", 178 / ACROSS - name_mm)]
    rows_fit = int((BODY_MM - HEAD_MM - SIGNED_MM - 12) // 9.0)
    per_sheet = rows_fit * ACROSS
    chunks = [names[i : i + per_sheet] for i in range(0, len(names), per_sheet)]
    limit = plan.project.limits
    made = []
    for n, chunk in enumerate(chunks, 1):
        down = math.ceil(len(chunk) / ACROSS)
        rows = []
        for r in range(down):
            cells: list[str] = []
            for c in range(ACROSS):
                k = c * down + r
                cells += [chunk[k], ""] if k < len(chunk) else ["", "\u00a0"]
            rows.append(Row(tuple(cells), "light" if r and r % 5 == 0 else ""))
        table = Table(tuple(columns), tuple(rows))
        left = BODY_MM - HEAD_MM - SIGNED_MM - table.height_mm - LIMITS_MM
        view = {
            "kind": "grid",
            "table": table,
            "plan": reading_plan(plan, names, left) if n == len(chunks) else None,
            "differs": plain(reading_rule("datum_differs").value),
            "limits": (plain(limit.rail_top), plain(limit.next_node)),
            "last": n == len(chunks),
        }
        purpose = "The second person reads, not the one who set. Write what the staff shows; ask for no figure first."
        made.append(_sheet("asbuilt", "As-built readings of the rails", purpose, view, n, len(chunks)))
    return tuple(made)


def chosen_nodes(plan: Plan) -> tuple[str, ...]:
    """Every master, every second node along each rail, and the nodes nearest to each door and to each zone's border."""
    masters = {leg.node for leg in plan.heights.legs if leg.master}
    chosen = set(masters)
    order = sorted(plan.layout.rails, key=lambda r: r.id)
    seen: set[str] = set()
    for rail in order:
        for i, node in enumerate(rail.nodes):
            if node in seen:
                continue
            seen.add(node)
            if i % 2 == 0 and _row_of(rail, plan) % 2 == 0:
                chosen.add(node)
    nodes = plan.layout.nodes
    for room in plan.survey.rooms:
        for door in room.doors:
            middle = ((door.line.a[0] + door.line.b[0]) / 2, (door.line.a[1] + door.line.b[1]) / 2)
            near = sorted((n for n in nodes if n.room == room.name), key=lambda n: math.dist(n.at, middle))
            chosen |= {n.id for n in near[:2]}
    for border in plan.heights.borders:
        middle = ((border.line.a[0] + border.line.b[0]) / 2, (border.line.a[1] + border.line.b[1]) / 2)
        chosen |= {n.id for n in sorted(nodes, key=lambda n: math.dist(n.at, middle))[:2]}
    return tuple(n.id for n in nodes if n.id in chosen)


def _row_of(rail: Rail, plan: Plan) -> int:
    """Which line of its direction a rail lies on, from 0; rails across count as every line."""
    numbered = [line.name for line in plan.layout.lines if line.kind == "numbered"]
    return numbered.index(rail.line) if rail.line in numbered else 1


def scrambled(names: Sequence[str], sign: str) -> tuple[str, ...]:
    """The names in an order that only the plan's sign decides, so that neighbours are not read in a row.

    >>> scrambled(["A1", "A2", "A3"], "7K4-M2Q") == scrambled(["A3", "A1", "A2"], "7K4-M2Q")
    True
    """
    return tuple(sorted(names, key=lambda name: hashlib.sha256(f"{sign} {name}".encode()).digest()))


# ------------------------------------------------------------------------------ straightedge


@dataclass(frozen=True, slots=True)
class Lay:
    """Where the straightedge lies: said in words, and its two ends."""

    says: str
    a: Point
    b: Point


def _surface_sheets(plan: Plan) -> tuple[Sheet, ...]:
    gap = surface_gap(plan.project.limits.surface)
    rows: list[Row] = []
    drawn: list[tuple[int, Point, Point]] = []
    for room in plan.survey.rooms:
        if len(plan.survey.rooms) > 1:
            rows.append(Row((room.name,), "heavy", title=True))
        for lay in _lays(plan, room):
            drawn.append((len(drawn) + 1, lay.a, lay.b))
            rows.append(Row((str(len(drawn)), lay.says, "", "", ""), "light"))
    table = Table(
        (
            Column("no.", "number", 12),
            Column("where the straightedge lies", width_mm=76),
            Column("largest gap", "write", 30, "mm"),
            Column("where under it", "write", 40),
            Column("by", "write"),
        ),
        tuple(rows),
    )
    parts = parted(table, BODY_MM - SURFACE_HEAD_MM - SIGNED_MM)
    left = BODY_MM - SURFACE_HEAD_MM - SIGNED_MM - parts[-1].height_mm - 4
    view_of = {
        "kind": "surface",
        "gap": plain(gap.value) if gap else "",
        "surface": plan.project.limits.surface,
        "source": str(gap.source) if gap else "",
    }
    purpose = "Flat is judged by a straightedge on the finished floor, not by levels."
    made = []
    for n, part in enumerate(parts, 1):
        drawing = straightedge_plan(plan, drawn, left) if n == len(parts) else None
        view: dict[str, object] = {**view_of, "table": part, "plan": drawing}
        made.append(_sheet("straightedge", "Straightedge readings", purpose, view, n, len(parts)))
    return tuple(made)


def _lays(plan: Plan, room: RoomOutline) -> list[Lay]:
    """Places a person finds again: corner to corner, across each stop line, at doors, along and across rails."""
    nodes = {n.id: n for n in plan.layout.nodes if n.room == room.name}
    found: list[Lay] = []
    if len(nodes) > 3:
        for a, b in _corners(list(nodes.values())):
            way = (nodes[b].x_mm - nodes[a].x_mm, nodes[b].y_mm - nodes[a].y_mm)
            found.append(_lay(f"diagonal, from {a} towards {b}", nodes[a].at, way, start=True))
    mine = {b.name for b in plan.layout.bays if b.room == room.name}
    for p in plan.sequence.pours[:-1]:
        edges = p.stop_line.edges if p.stop_line else ()
        if edges and mine.intersection(p.bays):
            longest = max(edges, key=lambda e: e.length_mm)
            along = (longest.a[1] - longest.b[1], longest.b[0] - longest.a[0])
            found.append(_lay(f"across the stop line of pour {p.number}, in the middle of it", _mid(longest), along))
    for door in room.doors[:6]:
        wall = (door.line.b[0] - door.line.a[0], door.line.b[1] - door.line.a[1])
        found.append(
            _lay(f"in front of {door.name}, square to {door.wall}", _mid(door.line), (-wall[1], wall[0]), True)
        )
    want = straightedge_count(room.area_m2)
    rails = sorted((r for r in plan.layout.rails if r.room == room.name and r.nodes), key=lambda r: -r.length_mm)
    for i in range(want):
        if len(found) >= want + 2 or not rails:
            break
        rail = rails[i * len(rails) // want]
        at = nodes.get(rail.nodes[len(rail.nodes) // 2])
        if at is None:
            continue
        along = (rail.end[0] - rail.start[0], rail.end[1] - rail.start[1])
        if i % 2 == 0:
            found.append(_lay(f"along rail {rail.line}, its middle at {at.id}", at.at, along))
        else:
            found.append(_lay(f"across rail {rail.line}, its middle at {at.id}", at.at, (-along[1], along[0])))
    return list({lay.says: lay for lay in found}.values())


def _lay(says: str, at: Point, way: tuple[float, float], start: bool = False) -> Lay:
    """A lay by its middle and direction; with `start` it begins at the place."""
    size = math.hypot(*way) or 1.0
    dx, dy = way[0] / size * STRAIGHTEDGE_MM, way[1] / size * STRAIGHTEDGE_MM
    if start:
        return Lay(says, at, (at[0] + dx, at[1] + dy))
    return Lay(says, (at[0] - dx / 2, at[1] - dy / 2), (at[0] + dx / 2, at[1] + dy / 2))


def _mid(s: Segment) -> Point:
    return ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)


def _corners(nodes: Sequence[Node]) -> list[tuple[str, str]]:
    """The nodes nearest to the four corners of the room's extent, as two diagonals."""
    x0, x1 = min(n.x_mm for n in nodes), max(n.x_mm for n in nodes)
    y0, y1 = min(n.y_mm for n in nodes), max(n.y_mm for n in nodes)

    def nearest(x: float, y: float) -> str:
        return min(nodes, key=lambda n: (math.dist(n.at, (x, y)), n.id)).id

    return [(nearest(x0, y0), nearest(x1, y1)), (nearest(x1, y0), nearest(x0, y1))]
