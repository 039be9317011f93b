"""First guesses of a skew room's corners, from which the least squares set out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from packgen.project.room_model import Tape, Wall
from packgen.survey.net import TURNS, Spot

Vector = npt.NDArray[np.float64]
LEANS = (0.0, 0.25, -0.25, 0.5, -0.5)  # radians by which skew corners are leant in turn


def starting_corners(walls: Sequence[Wall], tapes: Sequence[Tape], spots: Sequence[Spot] = ()) -> list[Vector]:
    """Guesses as flat arrays x1, y1, x2, y2 …, corner 1 at the origin, corner 2 on the x axis."""
    guesses = [_walked(walls, lean) for lean in LEANS]
    spread = _from_distances(walls, tapes, spots)
    return [*guesses, spread] if spread is not None else guesses


def _walked(walls: Sequence[Wall], lean: float) -> Vector:
    """Walks the walls; skew corners share equally what the turns lack of a full turn, leaning left and right."""
    turns = []
    for wall in walls:
        if wall.angle is not None:
            turns.append(math.pi - math.radians(wall.angle))
        else:
            turns.append(TURNS.get(wall.turn, -math.pi / 2 if wall.turn == "skew left" else math.pi / 2))
    loose = [i for i, w in enumerate(walls) if w.turn.startswith("skew") and w.angle is None]
    if loose:
        lacking = (2 * math.pi - sum(turns)) / len(loose)
        for k, i in enumerate(loose):
            turns[i] += lacking + (lean if k % 2 == 0 else -lean)
    heading, x, y, corners = 0.0, 0.0, 0.0, []
    for wall, turn in zip(walls, turns, strict=True):
        corners.append((x, y))
        x, y = x + wall.length * math.cos(heading), y + wall.length * math.sin(heading)
        heading += turn
    total, gone, shared = sum(w.length for w in walls), 0.0, []
    for (px, py), wall in zip(corners, walls, strict=True):
        shared.append((px - x * gone / total, py - y * gone / total))
        gone += wall.length
    return _placed(np.array(shared))


def _from_distances(walls: Sequence[Wall], tapes: Sequence[Tape], spots: Sequence[Spot]) -> Vector | None:
    """Classical scaling of the distances between corners, unknown ones taken round by the shortest known way."""
    n = len(walls)
    d = np.full((n, n), np.inf)
    np.fill_diagonal(d, 0.0)
    known = [(i, (i + 1) % n, w.length) for i, w in enumerate(walls)]
    known += [(t.start - 1, t.end - 1, t.length) for t in tapes]
    known += [(p.start, p.corner, math.hypot(p.along_mm, p.right_mm)) for p in spots]
    known += [
        (p.corner, q.corner, math.hypot(p.along_mm - q.along_mm, p.right_mm - q.right_mm))
        for p, q in itertools.combinations(spots, 2)
        if (p.start, p.end) == (q.start, q.end)
    ]
    for i, j, length in known:
        d[i, j] = d[j, i] = length
    for k in range(n):
        d = np.minimum(d, d[:, k : k + 1] + d[k : k + 1, :])
    centre = np.eye(n) - 1.0 / n
    values, vectors = np.linalg.eigh(-0.5 * centre @ (d**2) @ centre)
    if values[-2] <= 0:
        return None
    points = vectors[:, -2:] * np.sqrt(values[-2:])
    following = np.roll(points, -1, axis=0)
    if (points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]).sum() < 0:
        points = points * np.array([1.0, -1.0])
    return _placed(points)


def _placed(points: Vector) -> Vector:
    """Corner 1 to the origin, corner 2 onto the x axis."""
    moved = points - points[0]
    angle = -math.atan2(moved[1, 1], moved[1, 0])
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    placed = moved @ turn.T
    placed[0], placed[1, 1] = 0.0, 0.0
    return np.asarray(placed.ravel())
