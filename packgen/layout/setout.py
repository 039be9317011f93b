"""What is measured to set lines out: distances along two walls a line, and diagonals between outer nodes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from packgen.core.plane import Point, Polygon, Segment, pieces_inside
from packgen.layout.ground import SAME_MM
from packgen.layout.lines import Track
from packgen.layout.model import Line, Node
from packgen.survey.model import RoomOutline, WallLine


def set_out(track: Track, name: str, room: RoomOutline) -> Line:
    """A line with the two places at which a tape along a wall finds it.

    The tape lies along the wall and is hooked at the corner nearer to corner 1: at the beginning of wall 1 and 2, at
    the end of the walls that lead back.
    """
    side = 0 if track.kind == "lettered" else 1
    met = sorted((at[1 - side], wall.number, wall, at) for wall in room.walls for at in _meets(wall, side, track.at))
    if not met:
        return Line(name, track.kind, track.at, track.at, track.at, room=room.name, own=track.own)
    first, second = met[0], met[-1]
    return Line(
        name,
        track.kind,
        track.at,
        _from_corner(first[2], first[3], side),
        _from_corner(second[2], second[3], side),
        first[2].name,
        second[2].name,
        room.name,
        track.own,
    )


def _meets(wall: WallLine, side: int, at: float) -> list[Point]:
    """Where a line at that place meets a wall; walls that run along the line are not met."""
    a, b = wall.line.a, wall.line.b
    if abs(b[side] - a[side]) < SAME_MM or not min(a[side], b[side]) - SAME_MM <= at <= max(a[side], b[side]) + SAME_MM:
        return []
    u = (at - a[side]) / (b[side] - a[side])
    return [(a[0] + u * (b[0] - a[0]), a[1] + u * (b[1] - a[1]))]


def _from_corner(wall: WallLine, at: Point, side: int) -> float:
    """Along the wall from its end with the lesser coordinate."""
    hook = wall.line.a if wall.line.a[side] <= wall.line.b[side] else wall.line.b
    return math.dist(hook, at)


def check_diagonals(
    nodes: Sequence[Node], floor: Sequence[Polygon], most: int = 8
) -> tuple[tuple[str, str, float], ...]:
    """Two diagonals of the largest rectangle of crossings that a tape can span without meeting a wall or a cut-out.

    Of each direction at most `most` lines are tried, the outermost among them.
    """
    at = {(n.x_mm, n.y_mm): n for n in nodes if n.why == "crossing"}
    xs = _spread(sorted({x for x, _ in at}), most)
    ys = _spread(sorted({y for _, y in at}), most)
    wide, deep = list(itertools.combinations(xs, 2)), list(itertools.combinations(ys, 2))
    boxes = [(x0, y0, x1, y1) for x0, x1 in wide for y0, y1 in deep]
    boxes.sort(key=lambda b: (-(b[2] - b[0]) * (b[3] - b[1]), b))
    for x0, y0, x1, y1 in boxes:
        pairs = (((x0, y0), (x1, y1)), ((x1, y0), (x0, y1)))
        if all(p in at and q in at for p, q in pairs) and all(_clear(Segment(p, q), floor) for p, q in pairs):
            return tuple((at[p].id, at[q].id, math.dist(p, q)) for p, q in pairs)
    return ()


def _spread(values: list[float], most: int) -> list[float]:
    if len(values) <= most:
        return values
    return [values[round(k * (len(values) - 1) / (most - 1))] for k in range(most)]


def _clear(s: Segment, floor: Sequence[Polygon]) -> bool:
    inside = sum(part.length_mm for p in floor for part in pieces_inside(p, s))
    return inside >= s.length_mm - 1e-3
