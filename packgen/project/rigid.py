"""Whether walls and tapes fix the shape of a room with skew corners, and which diagonal would."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from packgen.project.room_model import Tape, Wall

FREE = 1e-6  # a movement that changes what was measured by less than this share is free


Spot = tuple[int, int, int]  # a corner measured from a line between two corners, all numbered from 1


def missing_diagonals(
    walls: Sequence[Wall], tapes: Sequence[Tape], spots: Sequence[Spot] = ()
) -> list[tuple[int, int]]:
    """Diagonals that have to be taped as well, by corner number; none where the shape is fixed.

    The shape of n corners is fixed when the measurements have rank 2n - 3 in the corners' coordinates (rigidity
    matrix; for corners in general position, so a place a little off the walked one serves). Of the diagonals that
    would help, that comes first which says most of what the others leave open.
    """
    count = len(walls)
    at = _somewhere(walls)
    rows = [_distance_row(at, i, (i + 1) % count) for i in range(count)]
    rows += [_distance_row(at, t.start - 1, t.end - 1) for t in tapes]
    rows += [_angle_row(at, i) for i, w in enumerate(walls) if not w.turn.startswith("skew") or w.angle is not None]
    for corner, a, b in spots:
        rows += _spot_rows(at, corner - 1, a - 1, b - 1)
    diagonals = [(i, j) for i in range(count) for j in range(i + 2, count) if (i, j) != (0, count - 1)]
    wanted: list[tuple[int, int]] = []
    while _rank(rows) < 2 * count - 3:
        _, values, ways = np.linalg.svd(np.array(rows))
        known = ways[: int((values > FREE * values.max()).sum())]
        says = [(_news(known, _distance_row(at, i, j)), (i, j)) for i, j in diagonals]
        if not says or max(says)[0] < FREE:
            break
        best = max(news for news, _ in says)
        i, j = min(pair for news, pair in says if news > 0.98 * best)
        rows.append(_distance_row(at, i, j))
        wanted.append((i + 1, j + 1))
    return wanted


def _news(known: np.ndarray, row: np.ndarray) -> float:
    """Which share of a measurement is not told by what is known already."""
    left = row - known.T @ (known @ row)
    return float(np.linalg.norm(left) / np.linalg.norm(row))


def _spot_rows(at: np.ndarray, corner: int, a: int, b: int) -> list[np.ndarray]:
    """A corner along a line and across it: how both change with the three corners (the line's turn included)."""
    line = at[b] - at[a]
    d = float(np.linalg.norm(line))
    u = line / d
    n = np.array([-u[1], u[0]])
    t, s = (at[corner] - at[a]) @ u / d, (at[corner] - at[a]) @ n / d
    along, across = np.zeros((len(at), 2)), np.zeros((len(at), 2))
    for row, own, other in ((along, u, n * s), (across, n, -n * t)):
        row[corner] += own
        row[a] -= own
        row[b] += other
        row[a] -= other
    return [along.ravel(), across.ravel()]


def _rank(rows: Sequence[np.ndarray]) -> int:
    return int(np.linalg.matrix_rank(np.array(rows), tol=1e-6))


def _somewhere(walls: Sequence[Wall]) -> np.ndarray:
    """Corners near the walked ones, in general position; lengths in units of the longest wall."""
    longest = max(w.length for w in walls)
    heading, here, out = 0.0, np.zeros(2), []
    for i, wall in enumerate(walls):
        shaken = np.array([math.sin(12.9898 * (i + 1)), math.sin(78.233 * (i + 1))]) * 0.07
        out.append(here + shaken)
        here = here + wall.length / longest * np.array([math.cos(heading), math.sin(heading)])
        heading += {"straight": 0.0}.get(wall.turn, -math.pi / 2 if wall.turn.endswith("left") else math.pi / 2)
    return np.array(out)


def _distance_row(at: np.ndarray, i: int, j: int) -> np.ndarray:
    row = np.zeros((len(at), 2))
    along = (at[j] - at[i]) / np.linalg.norm(at[j] - at[i])
    row[i], row[j] = -along, along
    return row.ravel()


def _angle_row(at: np.ndarray, i: int) -> np.ndarray:
    """The angle at the end of wall i + 1: how it changes with its three corners."""
    count = len(at)
    a, b, c = i, (i + 1) % count, (i + 2) % count
    row = np.zeros((count, 2))
    for start, end, sign in ((a, b, -1.0), (b, c, 1.0)):
        d = at[end] - at[start]
        turn = np.array([-d[1], d[0]]) / (d @ d)
        row[start] -= sign * turn
        row[end] += sign * turn
    return row.ravel()
