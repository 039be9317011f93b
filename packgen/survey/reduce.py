"""The survey stage: what was taped and read becomes outlines, levels and the surface of the base."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.project.model import Project
from packgen.survey.base_surface import base_surface
from packgen.survey.certainty import certainty_of
from packgen.survey.joins import placed_rooms
from packgen.survey.levels import level_book
from packgen.survey.model import LevelPoint, RoomOutline, Survey
from packgen.survey.rooms import outline_room
from packgen.survey.suspects import suspects


def survey_project(project: Project) -> Survey:
    """Reduces the survey of a checked project: at least one room that closes and one reading."""
    rooms = _rooms(project)
    book = level_book(project, {room.name: room.origin for room in rooms})
    base, steps, parts, side = base_surface(project, rooms, book.points)
    staff = project.levels.read_as == "staff readings"
    doubted = tuple(s for k in sorted(set(side)) for s in suspects(_on(book.points, side, k), staff))
    instrument = project.levels.instrument if staff else "levels"
    known = certainty_of(book.points, base, (parts, side), instrument, [s.point for s in doubted])
    return Survey(rooms, book, base, doubted, steps, known)


def _on(points: Sequence[LevelPoint], side: Sequence[int], k: int) -> tuple[LevelPoint, ...]:
    """The readings on one side of all steps: what they are held against does not run across a step."""
    return tuple(p for p, s in zip(points, side, strict=True) if s == k)


def _rooms(project: Project) -> tuple[RoomOutline, ...]:
    """Rooms in the file's order, each in its own frame, joined through doorways or side by side."""
    return placed_rooms(project, lambda n, origin: outline_room(project, project.rooms[n], origin))
