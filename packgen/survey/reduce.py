"""The survey stage: what was taped and read becomes outlines, levels and the surface of the base."""

from __future__ import annotations

from packgen.core.plane import Point
from packgen.core.surface import through_points
from packgen.project.model import Project
from packgen.survey.levels import level_book
from packgen.survey.model import RoomOutline, Survey
from packgen.survey.rooms import outline_room
from packgen.survey.suspects import suspects
from packgen.trade.survey import measuring


def survey_project(project: Project) -> Survey:
    """Reduces the survey of a checked project: at least one room that closes and one reading."""
    rooms = _rooms(project)
    book = level_book(project, {room.name: room.origin for room in rooms})
    base = through_points([(p.x_mm, p.y_mm, p.level_mm) for p in book.points])
    return Survey(rooms, book, base, suspects(book.points, project.levels.read_as == "staff readings"))


def _rooms(project: Project) -> tuple[RoomOutline, ...]:
    """Rooms in the file's order, each in its own frame, drawn side by side from left to right."""
    rooms: list[RoomOutline] = []
    for room in project.rooms:
        origin: Point = (0.0, 0.0)
        if rooms:
            here = outline_room(project, room, origin)
            right = max(x for x, _ in rooms[-1].corners) + measuring().gap_between_rooms_mm
            origin = (right - min(x for x, _ in here.corners), 0.0)
        rooms.append(outline_room(project, room, origin))
    return tuple(rooms)
