"""What is still to be measured in a room whose walls are known: points for the staff, and check tapes."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.plane import Segment
from packgen.survey.model import RoomOutline

Named = tuple[tuple[str, float], ...]  # names of columns or rows with their place, mm, as `levels` takes them


@dataclass(frozen=True, slots=True)
class StaffPoint:
    """A spot for the staff. x_mm along wall 1 from corner 1, y_mm into the room; why: "" for a point of the grid."""

    name: str
    column: str
    row: str
    x_mm: float
    y_mm: float
    why: str = ""


@dataclass(frozen=True, slots=True)
class TapeToTake:
    """A tape from corner to corner. taken_mm: what the file has of it, None where nobody has taken it.

    use: "needed" where the shape is not fixed without it, else "check".
    """

    start: int
    end: int
    use: str
    taken_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Fieldwork:
    """A room and what is to be measured in it.

    spacing_mm    no two neighbours of the grid are farther apart; None where the points are the file's own
    edges         where one slab ends and another begins, with what to call a spot there: "beside the step"
    out_of_reach  part of the room lies left of corner 1 or behind wall 1, where the file names no place
    """

    outline: RoomOutline
    columns: Named
    rows: Named
    points: tuple[StaffPoint, ...]
    tapes: tuple[TapeToTake, ...]
    spacing_mm: float | None
    out_of_reach: bool = False
    edges: tuple[tuple[Segment, str], ...] = ()


@dataclass(frozen=True, slots=True)
class BareSurvey:
    """Outlines alone, for drawing: a survey before anything is read."""

    rooms: tuple[RoomOutline, ...]
