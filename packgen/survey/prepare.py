"""The survey before it is made: walls alone become outlines with the points to read and the tapes to take."""

from __future__ import annotations

from packgen.core.plane import Segment
from packgen.project.model import Begun
from packgen.project.room_model import Room
from packgen.survey.fieldwork_model import Fieldwork, StaffPoint
from packgen.survey.model import RoomOutline
from packgen.survey.rooms import outline_room
from packgen.survey.staff_points import BESIDE, Grid, staff_points
from packgen.survey.tapes_to_take import tapes_to_take
from packgen.trade.survey import Points, points_rule


def prepare_survey(begun: Begun) -> tuple[Fieldwork, ...]:
    """What is to be measured in each room, each in its own frame with corner 1 at (0, 0). Names are given once.

    A file that has readings keeps its own points, so that what is read again has the name it had.
    """
    out: list[Fieldwork] = []
    for room in begun.rooms:
        outline = outline_room(begun, room, (0.0, 0.0))
        tapes = tapes_to_take(room, outline)
        own = _points_of_the_file(begun, room)
        if own is not None:
            out.append(Fieldwork(outline, *own, tapes, None))
            continue
        rule = points_rule()
        grid = _grid(begun, outline, rule)
        used = (sum(len(f.columns) for f in out), sum(len(f.rows) for f in out))
        edges = _edges(begun, room)
        columns, rows, points = staff_points(outline, edges, grid, rule, used)
        beyond = any(x < -rule.near_mm or y < -rule.near_mm for x, y in outline.corners)
        out.append(Fieldwork(outline, columns, rows, points, tapes, grid.spacing_mm, beyond, edges))
    return tuple(out)


def _edges(begun: Begun, room: Room) -> tuple[tuple[Segment, str], ...]:
    """Where the base of this room changes from one slab to another: steps, and joints of the building."""
    steps = begun.base.steps if begun.base else ()
    lines = [(s.room, Segment(s.start, s.end), f"{BESIDE}step") for s in steps]
    lines += [(j.room, Segment(j.start, j.end), f"{BESIDE}joint") for j in begun.joints if j.kind == "structural"]
    first = begun.rooms[0].name
    return tuple(
        (line, why)
        for name, line, why in lines
        if (name or first).casefold() == room.name.casefold() and line.length_mm > 0
    )


def _grid(begun: Begun, outline: RoomOutline, rule: Points) -> Grid:
    """Points on the lines of the legs where the file says how far apart these are."""
    spacing = rule.hall_spacing_mm if outline.area_m2 >= rule.hall_from_m2 else rule.spacing_mm
    if begun.kit is None:
        return Grid(spacing, (rule.from_wall_mm, rule.from_wall_mm))
    module = begun.kit.module
    times = max(1, int(spacing // module))
    return Grid(min(times * module, spacing), begun.kit.starts_mm, module)


def _points_of_the_file(
    begun: Begun, room: Room
) -> tuple[tuple[tuple[str, float], ...], tuple[tuple[str, float], ...], tuple[StaffPoint, ...]] | None:
    """Columns, rows and points that the file reads in this room; None where it has no levels yet."""
    levels = begun.levels
    if levels is None:
        return None
    xs, ys = dict(levels.columns_at), dict(levels.rows_at)
    first = begun.rooms[0].name
    points: dict[str, StaffPoint] = {}
    for setup in levels.setups:
        if (levels.room_of(setup) or first).casefold() == room.name.casefold():
            for r in setup.readings:
                points.setdefault(r.spot, StaffPoint(r.spot, r.column, r.row, xs[r.column], ys[r.row]))
    columns = {p.column for p in points.values()}
    rows = {p.row for p in points.values()}
    return (
        tuple(pair for pair in levels.columns_at if pair[0] in columns),
        tuple(pair for pair in levels.rows_at if pair[0] in rows),
        tuple(points.values()),
    )
