"""Steps at openings, at things that stay, and where zones meet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from packgen.core.plane import Point, Polygon, Segment, pieces_inside
from packgen.heights.model import Border, DoorStep
from packgen.heights.top import Tops
from packgen.heights.zone_map import RoomZones
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.survey.model import Door, RoomOutline

INSIDE_MM = 1.0  # a door's threshold lies on the wall; the zone is asked for just inside
STEP_MM = 0.5  # rail tops are set to the mm


def judged(room: RoomOutline, door: Door) -> bool:
    """Inside rooms only, against the sill or the floor beyond; a drop to the ground outside is only printed."""
    return not room.outside and door.meets_mm is not None and (door.sill_mm is not None or not door.outside)


def threshold(door: Door) -> tuple[Point, Point]:
    """Both ends of an opening, just inside the room."""
    (ax, ay), (bx, by) = door.line.a, door.line.b
    length = door.line.length_mm
    nx, ny = -(by - ay) / length * INSIDE_MM, (bx - ax) / length * INSIDE_MM
    ux, uy = (bx - ax) / length * INSIDE_MM, (by - ay) / length * INSIDE_MM
    return (ax + nx + ux, ay + ny + uy), (bx + nx - ux, by + ny - uy)


def door_levels(room: RoomOutline, door: Door, tops: Tops) -> tuple[tuple[int, float], tuple[int, float]]:
    """Zone and finished level at both ends of an opening, on the wall line itself."""
    (ia, ib), line = threshold(door), door.line
    za, zb = tops.zone_at(room.name, ia), tops.zone_at(room.name, ib)
    return (za, tops.finished(za, line.a)), (zb, tops.finished(zb, line.b))


def door_steps(project: Project, rooms: Sequence[RoomOutline], tops: Tops) -> tuple[DoorStep, ...]:
    """The step at each opening whose level is known; where the floor falls along it, at its worse end."""
    out = []
    for room in rooms:
        for door in room.doors:
            if door.meets_mm is None:
                continue
            meets = door.meets_mm
            ends = [level for _, level in door_levels(room, door, tops)]
            finished = max(ends, key=lambda level: round(abs(level - meets), 6))
            limit = project.limits.step_without_ramp_strip
            out.append(DoorStep(door.name, finished, meets, finished - meets, limit, judged(room, door)))
    return tuple(out)


def edge_steps(project: Project, rooms: Sequence[RoomOutline], tops: Tops) -> tuple[DoorStep, ...]:
    """The step at things that stay in the floor and have a top: at the corner where it is largest."""
    out = []
    for room in rooms:
        for cut in room.cut_outs:
            if cut.top_mm is None:
                continue
            top = cut.top_mm
            levels = [tops.finished(tops.zone_at(room.name, c), c) for c in cut.shape.shell]
            finished = max(levels, key=lambda level: round(abs(level - top), 6))
            limit = project.limits.step_without_ramp_strip
            out.append(DoorStep(cut.name, finished, top, finished - top, limit, False))
    return tuple(out)


def zone_borders(rooms: Sequence[RoomOutline], tops: Tops) -> tuple[Border, ...]:
    """Where zones meet on the floor, with the step between their finished levels at its largest."""
    out = []
    for room, cells in zip(rooms, tops.zone_map.rooms, strict=True):
        for first, second, line in _edges(cells):
            for floor in room.floor:
                for part in pieces_inside(floor, line):
                    steps = [tops.finished(second, p) - tops.finished(first, p) for p in (part.a, part.b)]
                    rails = [tops.rail_top(second, p) - tops.rail_top(first, p) for p in (part.a, part.b)]
                    names = tops.zones[first].name, tops.zones[second].name
                    out.append(Border(*names, part, max(steps, key=abs), max(rails, key=abs)))
    return tuple(out)


def _edges(cells: RoomZones) -> list[tuple[int, int, Segment]]:
    """Edges between cells of different owners: the two zones, the lower index first, and the edge."""
    reach = 1 + max(abs(c) for c in (*cells.xs, *cells.ys, *(v for p in cells.outline.shell for v in p)))
    xs, ys = (-reach, *cells.xs, reach), (-reach, *cells.ys, reach)
    out = []
    for i, column in enumerate(cells.owner):
        for j, here in enumerate(column):
            if i + 1 < len(cells.owner) and (there := cells.owner[i + 1][j]) != here:
                out.append((min(here, there), max(here, there), Segment((xs[i + 1], ys[j]), (xs[i + 1], ys[j + 1]))))
            if j + 1 < len(column) and (there := column[j + 1]) != here:
                out.append((min(here, there), max(here, there), Segment((xs[i], ys[j + 1]), (xs[i + 1], ys[j + 1]))))
    return out


def channel_at(room: RoomOutline, door: Door, within_mm: float) -> bool:
    """Whether a channel lies along the door, no farther than `within_mm` from its wall."""
    return any(cut.kind == "channel" and _beside(cut.shape, door.line, within_mm) for cut in room.cut_outs)


def _beside(shape: Polygon, line: Segment, within_mm: float) -> bool:
    (ax, ay), (bx, by) = line.a, line.b
    length = line.length_mm
    spans, offs = [], []
    for x, y in shape.shell:
        spans.append(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length)
        offs.append(abs((y - ay) * (bx - ax) - (x - ax) * (by - ay)) / length)
    overlap = min(max(spans), length) - max(min(spans), 0.0)
    return min(offs) <= within_mm and overlap > length / 2


def rails_over_borders(layout: Layout, tops: Tops) -> tuple[str, ...]:
    """Rails that run over a border at which the rail tops differ, by their ids."""
    if len(tops.zones) == 1:
        return ()
    at = {n.id: n.at for n in layout.nodes}
    return tuple(
        rail.id
        for rail in layout.rails
        if any(_steps_between(tops, rail.room, at[a], at[b]) for a, b in pairwise(rail.nodes))
    )


def _steps_between(tops: Tops, room: str, a: Point, b: Point) -> bool:
    first, second = tops.zone_at(room, a), tops.zone_at(room, b)
    if first == second:
        return False
    while abs(b[0] - a[0]) + abs(b[1] - a[1]) > INSIDE_MM:  # halved down to the border
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        if tops.zone_at(room, middle) == first:
            a = middle
        else:
            b = middle
    return abs(tops.rail_top(first, a) - tops.rail_top(second, a)) > STEP_MM
