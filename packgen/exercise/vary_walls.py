"""A room made longer and wider: everything beyond one line across it moves along, so that right angles stay right."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from packgen.core.figures import half_up, whole
from packgen.core.plane import Point
from packgen.project.model import Project
from packgen.project.record import Record
from packgen.project.room_model import Drain, Obstacle, Opening, Room, ServiceArea
from packgen.project.work_model import Levels
from packgen.survey.model import RoomOutline

Move = Callable[[Point], Point]
R = TypeVar("R", bound=Record)


@dataclass(frozen=True, slots=True)
class Stretch:
    """What lies beyond `beyond_x` moves by `dx` along wall 1, beyond `beyond_y` by `dy` into the room, mm."""

    beyond_x: float
    beyond_y: float
    dx: float
    dy: float

    def __call__(self, at: Point) -> Point:
        return (
            at[0] + (self.dx if at[0] > self.beyond_x else 0.0),
            at[1] + (self.dy if at[1] > self.beyond_y else 0.0),
        )


def last_gaps(project: Project) -> tuple[tuple[float, float], tuple[float, float]]:
    """(start, width) of the last gap between columns and between rows of readings, where a room can be stretched."""
    out = []
    for pairs in (project.levels.columns_at, project.levels.rows_at):
        at = sorted(mm for _, mm in pairs)
        out.append((at[-2], at[-1] - at[-2]) if len(at) > 1 else (at[-1] / 2, at[-1] / 2))
    return out[0], out[1]


def stretched(project: Project, outline: RoomOutline, dx: float, dy: float) -> Project:
    """The project with its one room longer by dx along wall 1 and by dy into the room (shorter where below 0).

    Tapes and walls keep their own small errors: each changes by what its corners move, to whole mm. The stretch is
    put into the last gap between readings, so that lines and readings stay together.
    """
    gap_x, gap_y = last_gaps(project)
    move = Stretch(gap_x[0] + min(gap_x[1], 1.0) / 2, gap_y[0] + min(gap_y[1], 1.0) / 2, dx, dy)
    room = project.rooms[0]
    return project.model_copy(
        update={
            "rooms": (_room(room, outline, move),),
            "openings": tuple(_opening(o, outline, move) for o in project.openings),
            "finishes": tuple(
                z.model_copy(update={"covers": _area(z.covers, move)}) if isinstance(z.covers, ServiceArea) else z
                for z in project.finishes
            ),
            "services": tuple(_ends(s, move) for s in project.services),
            "joints": tuple(_ends(j, move) for j in project.joints),
            "drains": tuple(_drain(d, outline, move) for d in project.drains),
            "levels": _levels(project.levels, move),
        }
    )


def _room(room: Room, outline: RoomOutline, move: Move) -> Room:
    corners = outline.corners
    count = len(corners)

    def longer(i: int, j: int) -> int:
        a, b = corners[i], corners[j]
        return whole(math.dist(move(a), move(b)) - math.dist(a, b))

    walls = tuple(
        w.model_copy(update={"length": w.length + longer(i, (i + 1) % count)}) for i, w in enumerate(room.walls)
    )
    tapes = tuple(t.model_copy(update={"length": t.length + longer(t.start - 1, t.end - 1)}) for t in room.check_tapes)
    return room.model_copy(
        update={
            "walls": walls,
            "check_tapes": tapes,
            "corners": tuple(c.model_copy(update={"at": move(c.at)}) for c in room.corners),
            "obstacles": tuple(_obstacle(o, move) for o in room.obstacles),
        }
    )


def _obstacle(o: Obstacle, move: Move) -> Obstacle:
    if o.at is not None:
        return o.model_copy(update={"at": move(o.at)})
    if o.start is None or o.end is None:
        return o
    to = move(o.start)
    shift = (to[0] - o.start[0], to[1] - o.start[1])
    return o.model_copy(update={"start": to, "end": (o.end[0] + shift[0], o.end[1] + shift[1])})


def _along(outline: RoomOutline, wall: int, from_mm: float, move: Move) -> float:
    """Distance from the wall's first corner after the move of a place on it."""
    a, b = outline.corners[wall - 1], outline.corners[wall % len(outline.corners)]
    d = math.dist(a, b)
    at = (a[0] + (b[0] - a[0]) * from_mm / d, a[1] + (b[1] - a[1]) * from_mm / d)
    return half_up(math.dist(move(a), move(at)))


def _opening(o: Opening, outline: RoomOutline, move: Move) -> Opening:
    return o.model_copy(update={"start": _along(outline, o.in_wall, o.start, move)})


def _drain(d: Drain, outline: RoomOutline, move: Move) -> Drain:
    if d.at is not None:
        return d.model_copy(update={"at": move(d.at)})
    if d.along is None or d.start is None or d.end is None:
        return d
    start = _along(outline, d.along, d.start, move)
    return d.model_copy(update={"start": start, "end": start + (d.end - d.start)})


def _area(area: ServiceArea, move: Move) -> ServiceArea:
    return area.model_copy(update={"start": move(area.start), "end": move(area.end)})


def _ends(record: R, move: Move) -> R:
    """A service or joint with its points moved."""
    update: dict[str, object] = {}
    for key in ("start", "end", "at"):
        value = getattr(record, key, None)
        if value is not None:
            update[key] = move(value)
    area = getattr(record, "area", None)
    if area is not None:
        update["area"] = _area(area, move)
    return record.model_copy(update=update) if update else record


def _levels(levels: Levels, move: Move) -> Levels:
    return levels.model_copy(
        update={
            "columns_at": tuple((name, move((mm, 0.0))[0]) for name, mm in levels.columns_at),
            "rows_at": tuple((name, move((0.0, mm))[1]) for name, mm in levels.rows_at),
        }
    )
