"""Walls walked with turns to the corners of a right-angled room, the closing error shared along each axis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.plane import Point
from packgen.project.room_model import Wall
from packgen.survey.model import OtherMeasure

AHEAD: tuple[tuple[int, int], ...] = ((1, 0), (0, 1), (-1, 0), (0, -1))  # turning right, y into the room


@dataclass(frozen=True, slots=True)
class Adjusted:
    """Corners of a room, corner 1 at the origin, wall 1 along x, mm; residuals are taped - adjusted.

    measure      tapes that would fix the shape; where it is fixed with none to spare, the one that would check it best
    would_be_mm  where a single tape is blamed: what all the others say it is
    """

    corners: tuple[Point, ...]
    closing_xy_mm: tuple[float, float] | None
    by: str
    spare_tapes: int
    measure: tuple[str, ...] = ()
    blamed: tuple[str, ...] = ()
    would_be_mm: float | None = None
    others: tuple[OtherMeasure, ...] = ()


def right_angled(walls: Sequence[Wall]) -> bool:
    """Whether every corner is a plain right angle."""
    return all(w.turn in ("right", "left", "straight") and w.angle is None and w.bearing is None for w in walls)


def directions(walls: Sequence[Wall]) -> list[tuple[int, int]]:
    """Which way each wall of a right-angled room runs, as a unit step in x or y."""
    heading, out = 0, []
    for wall in walls:
        out.append(AHEAD[heading])
        heading = (heading + {"right": 1, "straight": 0}.get(wall.turn, -1)) % 4
    return out


def walk_right_angled(walls: Sequence[Wall], tapes: int) -> Adjusted:
    """Corners with right angles kept: what an axis fails to close by is shared along the walls of that axis.

    correction of a wall = closing error of its axis x its length / length of all walls on that axis  [mm]

    Source: compass rule of traversing (any surveying handbook), axis by axis because the angles are known.
    """
    steps = directions(walls)
    closing = tuple(sum(w.length * s[axis] for w, s in zip(walls, steps, strict=True)) for axis in (0, 1))
    total = tuple(sum(w.length * abs(s[axis]) for w, s in zip(walls, steps, strict=True)) for axis in (0, 1))
    x, y = 0.0, 0.0
    corners: list[Point] = []
    for wall, (sx, sy) in zip(walls, steps, strict=True):
        corners.append((x, y))
        x += wall.length * (sx - (closing[0] / total[0] if sx else 0.0))
        y += wall.length * (sy - (closing[1] / total[1] if sy else 0.0))
    tidy = tuple((round(px, 9) + 0.0, round(py, 9) + 0.0) for px, py in corners)
    return Adjusted(tidy, (closing[0], closing[1]), "right angles kept", tapes)
