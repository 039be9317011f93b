"""What is cut out of a room's floor: obstacles that stay, channels along a wall, point drains."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.plane import Point, Polygon, bounds, box, circle, common, contains
from packgen.project.room_model import Drain, Obstacle
from packgen.survey.doors import along, wall_number
from packgen.survey.model import CutOut, WallLine
from packgen.trade.grid_rules import value


def obstacle_shape(o: Obstacle, origin: Point) -> Polygon | None:
    """The obstacle in plan; None where the file does not give its size."""
    if o.at is not None and o.diameter is not None:
        return circle(_moved(o.at, origin), o.diameter / 2)
    if o.start is not None and o.end is not None:
        return box(*_moved(o.start, origin), *_moved(o.end, origin))
    return None


def drain_shape(d: Drain, walls: Sequence[WallLine], origin: Point) -> Polygon | None:
    """A channel as a strip along its wall into the room, a point drain as a circle or a box; None without size."""
    if d.along is not None and d.width is not None:
        wall = next(w for w in walls if w.number == wall_number(d.along))
        start, end = d.start or 0.0, d.end if d.end is not None else wall.line.length_mm
        start = 0.0 if start <= value("at_wall") else start
        end = wall.line.length_mm if end >= wall.line.length_mm - value("at_wall") else end
        return Polygon((along(wall, start), along(wall, end), along(wall, end, d.width), along(wall, start, d.width)))
    if d.at is None:
        return None
    x, y = _moved(d.at, origin)
    if d.diameter is not None:
        return circle((x, y), d.diameter / 2)
    if d.size is not None:
        return box(x - d.size[0] / 2, y - d.size[1] / 2, x + d.size[0] / 2, y + d.size[1] / 2)
    return None


def cut_outs(
    obstacles: Sequence[Obstacle], drains: Sequence[Drain], walls: Sequence[WallLine], outline: Polygon, origin: Point
) -> tuple[CutOut, ...]:
    """All of them clipped to the room. An obstacle of which nobody says that it goes, stays."""
    out = []
    for o in obstacles:
        if o.stays != "no" and (shape := obstacle_shape(o, origin)):
            if o.shape == "rectangle":
                shape = _to_walls(shape, outline)
            out += [CutOut(o.name, "obstacle", part, o.top) for part in common(outline, shape)]
    for d in drains:
        if shape := drain_shape(d, walls, origin):
            kind = "channel" if d.along is not None else "drain"
            name = d.name or (f"channel along wall {wall_number(d.along)}" if d.along is not None else d.kind)
            out += [CutOut(name, kind, part, d.top) for part in common(outline, shape)]  # type: ignore[arg-type]
    return tuple(out)


def _moved(at: Point, origin: Point) -> Point:
    return (at[0] + origin[0], at[1] + origin[1])


def _to_walls(rectangle: Polygon, room: Polygon) -> Polygon:
    """A rectangle whose side lies as near to a wall as a tape errs reaches into the wall: no crack is left between."""
    x0, y0, x1, y1 = bounds(rectangle)
    x, y, near = (x0 + x1) / 2, (y0 + y1) / 2, value("at_wall")

    def moved(side: Point, dx: float, dy: float) -> float:
        beyond = (side[0] + dx * near, side[1] + dy * near)
        return near if contains(room, side, 0.0) and not contains(room, beyond, 0.0) else 0.0

    return box(
        x0 - moved((x0, y), -1, 0), y0 - moved((x, y0), 0, -1), x1 + moved((x1, y), 1, 0), y1 + moved((x, y1), 0, 1)
    )
