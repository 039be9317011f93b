"""Services in plan: straight pipes, coils of heating pipe, spots."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from packgen.core.plane import Point, Polygon, Segment, area, bounds
from packgen.layout.coils import coil_floor, coil_in
from packgen.layout.ground import SAME_MM
from packgen.layout.model import PipeRun
from packgen.project.room_model import Service
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline
from packgen.trade.layout_rules import layout_rule


def pipe_run(
    service: Service,
    room: RoomOutline,
    zones: Sequence[Zone] = (),
    strip_mm: float = 0.0,
    manifolds: Sequence[Point] = (),
) -> PipeRun:
    """A service as it lies: its axis in straight stretches, and its length with leads.

    Its places are measured from corner 1 of the room. The length of a coil is area / spacing + leads, which is what is
    ordered and held against the longest allowed. zones, strip_mm: of the job, for a coil that covers a zone; manifolds:
    where one may begin.
    """
    start, end, at = (_placed(place, room.origin) for place in (service.start, service.end, service.at))
    stretches: tuple[Segment, ...] = ()
    length = covers = 0.0
    if service.zone is not None and service.spacing:
        keep = layout_rule("coil_from_walls").value_mm if service.from_walls is None else service.from_walls
        floor = coil_floor(service, room, zones, strip_mm, keep)
        along_x = _runs_along_x(service, room, floor)
        start_at = min(manifolds, key=lambda m: math.dist(m, room.corners[0]), default=room.corners[0])
        stretches = coil_in(floor, service.spacing, along_x, _from_high(service, room, floor, along_x), start_at)
        covers = sum(area(p) for p in floor)
        length = covers / service.spacing + (service.leads or 0.0)
    elif service.area is not None and service.spacing:
        along_x = _runs_along_x(service, room)
        coil = rings if _is_spiral(service.pattern) else serpentine
        near, far = _moved(service.area.start, room.origin), _moved(service.area.end, room.origin)
        stretches = coil(near, far, service.spacing, along_x)
        (x0, y0), (x1, y1) = service.area.start, service.area.end
        covers = abs(x1 - x0) * abs(y1 - y0)
        length = covers / service.spacing + (service.leads or 0.0)
    elif start is not None and end is not None:
        stretches = side_by_side(Segment(start, end), service.number, service.apart or 0.0)
        length = sum(s.length_mm for s in stretches) + (service.leads or 0.0)
    return PipeRun(
        service.name,
        service.kind,
        service.outside or 0.0,
        service.support,
        stretches,
        length,
        service.heating,
        at=at,
        covers_mm2=covers,
    )


def _placed(at: Point | None, origin: Point) -> Point | None:
    return None if at is None else _moved(at, origin)


def _moved(at: Point, origin: Point) -> Point:
    return (at[0] + origin[0], at[1] + origin[1])


def _is_spiral(pattern: str | None) -> bool:
    return pattern is not None and any(word in pattern.lower() for word in ("spiral", "snail", "counter"))


def _from_high(service: Service, room: RoomOutline, floor: Sequence[Polygon], along_x: bool) -> bool:
    """Whether the wall that the runs lie along is the far one, seen from corner 1."""
    wall = next((w for w in room.walls if w.number == service.runs_along), None)
    if wall is None or not floor:
        return False
    boxes = [bounds(p) for p in floor]
    side = 1 if along_x else 0
    middle = (min(b[side] for b in boxes) + max(b[side + 2] for b in boxes)) / 2
    return (wall.line.a[side] + wall.line.b[side]) / 2 > middle


def _runs_along_x(service: Service, room: RoomOutline, floor: Sequence[Polygon] = ()) -> bool:
    """Whether the runs lie more along x than along y: as the wall they run along, else along the longer side."""
    if service.runs_along is not None:
        for wall in room.walls:
            if wall.number == service.runs_along:
                (ax, ay), (bx, by) = wall.line.a, wall.line.b
                return abs(bx - ax) >= abs(by - ay)
    if floor:
        boxes = [bounds(p) for p in floor]
        wide = max(b[2] for b in boxes) - min(b[0] for b in boxes)
        return wide >= max(b[3] for b in boxes) - min(b[1] for b in boxes)
    if service.area is None:
        return True
    (x0, y0), (x1, y1) = service.area.start, service.area.end
    return abs(x1 - x0) >= abs(y1 - y0)


def side_by_side(first: Segment, number: int, apart: float) -> tuple[Segment, ...]:
    """`number` parallel stretches; the first as drawn, the others each `apart` farther into the room.

    >>> [s.a for s in side_by_side(Segment((0, 3200), (1900, 3200)), 2, 60)]
    [(0.0, 3200.0), (0.0, 3260.0)]
    """
    length = first.length_mm
    if length == 0:
        return (first,)
    nx, ny = -(first.b[1] - first.a[1]) / length, (first.b[0] - first.a[0]) / length
    if ny < -SAME_MM or (abs(ny) <= SAME_MM and nx < 0):
        nx, ny = -nx, -ny
    return tuple(
        Segment(
            (first.a[0] + nx * apart * k + 0.0, first.a[1] + ny * apart * k + 0.0),
            (first.b[0] + nx * apart * k + 0.0, first.b[1] + ny * apart * k + 0.0),
        )
        for k in range(number)
    )


def serpentine(start: Point, end: Point, spacing: float, along_x: bool) -> tuple[Segment, ...]:
    """Runs to and fro over a rectangle, from the corner `start`, with square bends; the first bend at the far end.

    >>> [s.b for s in serpentine((0, 0), (900, 150), 150, True)]
    [(900, 0), (900, 150), (0, 150)]
    """
    (x0, y0), (x1, y1) = start, end
    a, b, c0, c1 = (x0, x1, y0, y1) if along_x else (y0, y1, x0, x1)
    count = math.floor(abs(c1 - c0) / spacing + SAME_MM) + 1
    step = spacing if c1 >= c0 else -spacing
    turn: Callable[[float, float], Point] = (lambda t, c: (t, c)) if along_x else (lambda t, c: (c, t))
    out = []
    for k in range(count):
        c = c0 + k * step
        here, there = (a, b) if k % 2 == 0 else (b, a)
        if k > 0:
            out.append(Segment(turn(here, c - step), turn(here, c)))
        out.append(Segment(turn(here, c), turn(there, c)))
    return tuple(out)


def rings(start: Point, end: Point, spacing: float, along_x: bool) -> tuple[Segment, ...]:
    """A spiral as square rings one inside the other, `spacing` apart: flow and return lie in turn."""
    x0, x1 = sorted((start[0], end[0]))
    y0, y1 = sorted((start[1], end[1]))
    out: list[Segment] = []
    while x1 - x0 > SAME_MM and y1 - y0 > SAME_MM:
        corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        out += [Segment(corners[k], corners[(k + 1) % 4]) for k in range(4)]
        x0, y0, x1, y1 = x0 + spacing, y0 + spacing, x1 - spacing, y1 - spacing
    if x1 - x0 > SAME_MM or y1 - y0 > SAME_MM:
        out.append(Segment((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)) if along_x else Segment((x0, y0), (x0, y1)))
    return tuple(out)
