"""Walls, tapes, angles and offsets to the corners of a skew room by least squares."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from packgen.core.plane import Point, is_simple
from packgen.project.room_model import Tape, Wall
from packgen.survey.blame import Blame, best_check, blame, would_fix
from packgen.survey.model import OtherMeasure
from packgen.survey.net import Net, Spot, Vector, kept, measured, net_of
from packgen.survey.outline import Adjusted
from packgen.survey.solve import HEAVY, rank, settled
from packgen.survey.starts import starting_corners

SAME_SHAPE_MM = 1.0


def fit_room(walls: Sequence[Wall], tapes: Sequence[Tape], spots: Sequence[Spot] = ()) -> Adjusted:
    """Corners that differ least, in squares, from what was measured; right angles exact.

    Where the tapes leave the shape free, the shape nearest to the start is given and `measure` names the tapes that
    would fix it; where they fix it with none to spare, the one that would check it best.

    Source: adjustment of a trilateration net by variation of coordinates (any surveying handbook).
    """
    net = net_of(walls, tapes, spots)
    tried = [settled(net, s) for s in starting_corners(walls, tapes, spots)]
    best = min(tried, key=lambda c: _misfit(net, walls, c))
    missing = len(net.free) - rank(net, best)
    spare = -missing if missing else _spare(net, best, len(walls))
    corners = tuple((round(float(x), 6) + 0.0, round(float(y), 6) + 0.0) for x, y in best.reshape(-1, 2))
    wanted = would_fix(net, best) if missing else best_check(net, best) if spare <= 0 else ()
    found = blame(net, best, _distinct(tried, best), lambda at: _as_walked(walls, at))
    return Adjusted(
        corners, None, "least squares from tapes", spare, wanted, found.names, found.would_be_mm, found_in(net, best)
    )


def blame_right_angled(walls: Sequence[Wall], tapes: Sequence[Tape], corners: Sequence[Point]) -> Blame:
    """Which of walls and tapes is wrong in a right-angled room that was closed along its axes."""
    net = net_of(walls, tapes)
    return blame(net, settled(net, np.array(corners, dtype=float).ravel()))


def found_in(net: Net, at: Vector) -> tuple[OtherMeasure, ...]:
    """Angles and offsets against the adjusted outline, in degrees and mm."""
    points = at.reshape(-1, 2)
    out = []
    for c, turn in net.angles:
        u, v = points[c] - points[c - 1], points[(c + 1) % net.count] - points[c]
        inside = 180 - float(np.degrees(np.arctan2(u[0] * v[1] - u[1] * v[0], u @ v)))
        given = 180 - float(np.degrees(turn))
        out.append(OtherMeasure("angle", c + 1, given % 360, inside % 360))
    for s in net.spots:
        line = points[s.end] - points[s.start]
        u = line / np.hypot(*line)
        away = points[s.corner] - points[s.start]
        out.append(OtherMeasure("along", s.corner + 1, s.along_mm, float(away @ u)))
        out.append(OtherMeasure("beside", s.corner + 1, s.right_mm, float(away @ np.array([-u[1], u[0]]))))
    return tuple(out)


def _spare(net: Net, at: Vector, walls: int) -> int:
    """Tapes, angles and offsets beyond those that fix the shape together with the walls and the right angles."""
    return len(net.names) - walls - (rank(net, at) - rank(net, at, walls))


def _misfit(net: Net, walls: Sequence[Wall], at: Vector) -> tuple[bool, float]:
    """Solutions that turn as the walker said and do not cross themselves come first, then the better fit."""
    residual = np.concatenate([measured(net, at)[0], kept(net, at)[0] * HEAVY])
    return (not _as_walked(walls, at), round(float(residual @ residual), 3))


def _distinct(found: Sequence[Vector], best: Vector) -> list[Vector]:
    """Solutions of which no two are nearly the same, without the best."""
    kept_ones = [best]
    for at in found:
        if all(np.abs(at - other).max() > SAME_SHAPE_MM for other in kept_ones):
            kept_ones.append(at)
    return kept_ones[1:]


def _as_walked(walls: Sequence[Wall], at: Vector) -> bool:
    """Whether a shape turns as the walker said and does not cross itself."""
    points = [(float(x), float(y)) for x, y in at.reshape(-1, 2)]
    n, as_walked = len(points), True
    for i, wall in enumerate(walls):
        if wall.turn == "straight":
            continue
        (ax, ay), (bx, by), (cx, cy) = points[i], points[(i + 1) % n], points[(i + 2) % n]
        cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        turns_left = wall.turn in ("left", "skew left") or (wall.angle is not None and wall.angle > 180)
        as_walked = as_walked and (cross < 0) == turns_left
    return as_walked and is_simple(points)
