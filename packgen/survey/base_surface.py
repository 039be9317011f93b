"""The surface of the base through its readings, parted at the steps that the file names."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from packgen.core.plane import Polygon, Segment
from packgen.core.stepped import divides, side_of, sides, sides_of, step_distance, through_points_on
from packgen.core.surface import Surface, through_points
from packgen.project.model import Project
from packgen.survey.model import LevelPoint, RoomOutline, StepLine
from packgen.trade.survey import on_step_mm

State = Literal["parts", "ends inside", "unread"]


def base_surface(
    project: Project, rooms: Sequence[RoomOutline], points: Sequence[LevelPoint]
) -> tuple[Surface, tuple[StepLine, ...], tuple[Polygon, ...], tuple[int, ...]]:
    """The surface, the steps with what became of each, the sides of the steps, and on which side each reading lies."""
    known = [(p.x_mm, p.y_mm, p.level_mm) for p in points]
    steps = _steps(project, rooms)
    if not steps:
        return through_points(known), (), (), (0,) * len(points)
    used = list(steps)
    states: dict[StepLine, State] = {}
    while True:
        parts = _parts(rooms, used)
        side = list(sides_of([(p.x_mm, p.y_mm) for p in points], parts))
        lost = next((s for s in used if not divides(s.line, parts)), None)
        if lost is not None:
            states[lost] = "ends inside"
        else:
            lost = _unread(used, parts, set(side))
            if lost is not None:
                states[lost] = "unread"
        if lost is None:
            break
        used.remove(lost)
    told = tuple(_told(s, states.get(s, "parts"), points) for s in steps)
    if not used:
        return through_points(known), told, (), (0,) * len(points)
    own: list[list[int]] = [[] for _ in parts]
    for i, k in enumerate(side):
        own[k].append(i)
    everywhere = list(range(len(points)))
    surface = through_points_on(parts, known, [mine or everywhere for mine in own])
    return surface, told, parts, tuple(side)


def _steps(project: Project, rooms: Sequence[RoomOutline]) -> tuple[StepLine, ...]:
    out = []
    by_name = {room.name: room for room in rooms}
    for step in project.base.steps:
        room = by_name.get(step.room or "", rooms[0])
        (x, y), (ax, ay), (bx, by) = room.origin, step.start, step.end
        line = Segment((x + ax, y + ay), (x + bx, y + by))
        if line.length_mm:
            out.append(StepLine(line, room.name, "parts", (), step.marks.start))
    return tuple(out)


def _parts(rooms: Sequence[RoomOutline], steps: Sequence[StepLine]) -> tuple[Polygon, ...]:
    return tuple(
        part for room in rooms for part in sides(Polygon(room.corners), [s.line for s in steps if s.room == room.name])
    )


def _unread(steps: Sequence[StepLine], parts: Sequence[Polygon], read: set[int]) -> StepLine | None:
    """A step on one side of which nobody has read the base."""
    for s in steps:
        (ax, ay), (bx, by) = s.line.a, s.line.b
        nx, ny = -(by - ay) / s.line.length_mm, (bx - ax) / s.line.length_mm
        middle = ((ax + bx) / 2, (ay + by) / 2)
        if any(side_of((middle[0] + k * nx, middle[1] + k * ny), parts) not in read for k in (1.0, -1.0)):
            return s
    return None


def _told(step: StepLine, state: State, points: Sequence[LevelPoint]) -> StepLine:
    near = on_step_mm()
    on_it = tuple(p.id for p in points if step_distance((p.x_mm, p.y_mm), [step.line]) < near)
    return StepLine(step.line, step.room, state, on_it, step.place)
