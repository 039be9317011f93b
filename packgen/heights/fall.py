"""How a zone falls: the line it falls from, which way, how much."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from packgen.core.figures import plain
from packgen.core.plane import Point, Polygon
from packgen.heights.zone_map import rooms_of
from packgen.project.kinds import WallRef
from packgen.project.room_model import Drain, ServiceArea
from packgen.project.work_model import Zone
from packgen.survey.doors import wall_number
from packgen.survey.model import RoomOutline, WallLine
from packgen.survey.sinks import Sink, down_mm, sink_of, up_mm

SQUARE = math.cos(math.pi / 4)  # walls turned by less than half a right angle count as facing each other


@dataclass(frozen=True, slots=True)
class FallLine:
    """mm per metre down `direction` (unit vector) from a line square to it through `start`; level: (0, 0) and 0.

    at: distance down the fall, mm, of the place where the finished level is given
    sink: where the floor falls to from all sides; the distance down the fall is then counted along wall 1 and across
    it, and added up
    """

    per_m: float
    direction: tuple[float, float]
    start: Point
    at: float
    words: str
    sink: Sink | None = None

    def drop(self, at: Point) -> float:
        """How far the top at a place lies below the top at the start, mm."""
        return self.per_m / 1000 * self.along(at)

    def along(self, at: Point) -> float:
        """Distance of a place from the start, down the fall, mm."""
        return down_mm(self.direction, self.start, self.sink, at)


def fall_line(
    zone: Zone, rooms: Sequence[RoomOutline], region: Sequence[Polygon], drains: Sequence[Drain] = ()
) -> FallLine:
    """The zone's fall. ValueError where the file names a fall but no wall or drain of the zone's room.

    Between walls that face each other, or with one wall named, it runs square to the wall it falls from; between
    walls that meet at a corner, square to the wall it falls to. The level given "at" a wall holds at its middle; with
    no such wall it holds where the fall starts: at the wall it falls from, or at the zone's high edge.
    """
    corners = [c for p in region for c in p.shell]
    if zone.fall.per_metre == 0:
        return FallLine(0.0, (0.0, 0.0), corners[0] if corners else (0.0, 0.0), 0.0, "level")
    rooms = rooms_of(zone, rooms)
    if zone.fall.to_drain is not None:
        return _from_all_sides(zone, rooms, corners, drains)
    at = _wall(rooms, zone.finished_level.at_wall)
    above, below = _wall(rooms, zone.fall.from_wall), _wall(rooms, zone.fall.to_wall)
    if above is None and below is None:
        above = at
    direction, from_wall = _direction(zone, above, below)
    if from_wall is not None and (at is not None or not isinstance(zone.covers, ServiceArea)):
        start = _middle(from_wall)
    else:
        start = _high_edge(corners, direction)
    words = f"{plain(zone.fall.per_metre)} per metre, down"
    words += f" from {above.name}" if above else ""
    words += f" to {below.name}" if below else ""
    line = FallLine(zone.fall.per_metre, direction, start, 0.0, words)
    if at is None or at is from_wall:
        return line
    return FallLine(line.per_m, direction, start, line.along(_middle(at)), words)


def _from_all_sides(
    zone: Zone, rooms: Sequence[RoomOutline], corners: Sequence[Point], drains: Sequence[Drain]
) -> FallLine:
    """The fall to a drain; it starts at the corner of the zone that lies farthest up."""
    sink, name = sink_of(zone, rooms, drains)
    start = max(corners, key=lambda c: (round(up_mm(sink, c), 6), c))
    words = f"{plain(zone.fall.per_metre)} per metre, down to the {name} from "
    words += "all sides" if sink.folds(0) and sink.folds(1) else "both sides"
    line = FallLine(zone.fall.per_metre, (0.0, 0.0), start, 0.0, words, sink)
    at = _wall(rooms, zone.finished_level.at_wall)
    if zone.finished_level.at_drain == "yes":
        return replace(line, at=line.along(sink.at))
    return line if at is None else replace(line, at=line.along(_middle(at)))


def _direction(
    zone: Zone, above: WallLine | None, below: WallLine | None
) -> tuple[tuple[float, float], WallLine | None]:
    """Unit vector down the fall, and the wall whose line it starts on, if there is one."""
    if above is None:
        if below is None:
            raise ValueError(f"zone {zone.zone} falls, but from which wall is not said")
        nx, ny = _inward(below)
        return (-nx + 0.0, -ny + 0.0), None
    nx, ny = _inward(above)
    if below is None:
        return (nx, ny), above
    mx, my = _inward(below)
    if abs(nx * mx + ny * my) < SQUARE:
        return (-mx + 0.0, -my + 0.0), None
    (ax, ay), (bx, by) = _middle(above), _middle(below)
    towards = math.copysign(1.0, (bx - ax) * nx + (by - ay) * ny)
    return (nx * towards + 0.0, ny * towards + 0.0), above


def _inward(wall: WallLine) -> tuple[float, float]:
    """Unit vector square to a wall, into the room: inside lies on the walker's right."""
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    length = wall.line.length_mm
    return -(by - ay) / length + 0.0, (bx - ax) / length + 0.0


def _middle(wall: WallLine) -> Point:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    return (ax + bx) / 2, (ay + by) / 2


def _high_edge(corners: Sequence[Point], direction: tuple[float, float]) -> Point:
    return min(corners, key=lambda c: (round(c[0] * direction[0] + c[1] * direction[1], 6), c))


def _wall(rooms: Sequence[RoomOutline], ref: WallRef | None) -> WallLine | None:
    return None if ref is None else next((w for r in rooms for w in r.walls if w.number == wall_number(ref)), None)
