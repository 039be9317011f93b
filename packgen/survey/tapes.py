"""Walls, tapes and angles to the corners of a skew room by least squares; which measurement is wrong."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from packgen.core.plane import Point, is_simple
from packgen.project.room_model import Tape, Wall
from packgen.survey.outline import Adjusted
from packgen.survey.starts import starting_corners
from packgen.trade.survey import measuring

Vector = npt.NDArray[np.float64]
ANGLE_SCALE_MM = 1000.0  # a corner a thousandth of a radian out moves the end of a 1 m wall by 1 mm
SMALL = 1e-7  # singular values below this share of the largest are zero: the geometry moves freely there
AS_BAD = 0.9  # measurements whose standardised residual reaches this share of the worst cannot be told from it


@dataclass(frozen=True)
class Net:
    """What was measured: lengths between corners, angles given, corners that are right angles (kept exactly)."""

    count: int
    lengths: tuple[tuple[int, int, float], ...]
    names: tuple[str, ...]
    angles: tuple[tuple[int, float], ...]  # corner, turn in radians
    right: tuple[tuple[int, float], ...]
    angle_weight: float

    @property
    def free(self) -> list[int]:
        """Coordinates that may move: corner 1 stays at the origin, corner 2 on the x axis."""
        return [2, *range(4, 2 * self.count)]


def net_of(walls: Sequence[Wall], tapes: Sequence[Tape]) -> Net:
    """The measurements of a room as a net. Corners are counted from 0; a wall's turn stands at its end."""
    n, m = len(walls), measuring()
    lengths = [(i, (i + 1) % n, w.length) for i, w in enumerate(walls)]
    lengths += [(t.start - 1, t.end - 1, t.length) for t in tapes]
    names = [f"wall {w.number}" for w in walls] + [f"corner {t.start} to corner {t.end}" for t in tapes]
    turns = [((i + 1) % n, w) for i, w in enumerate(walls)]
    angles = [(c, math.pi - math.radians(w.angle)) for c, w in turns if w.angle is not None]
    right = [
        (c, math.pi / 2 if w.turn == "right" else -math.pi / 2)
        for c, w in turns
        if w.turn in ("right", "left") and w.angle is None
    ]
    weight = m.tape_spread_mm / (math.radians(m.angle_spread_deg) * ANGLE_SCALE_MM)
    return Net(n, tuple(lengths), tuple(names), tuple(angles), tuple(right), weight)


def fit_room(walls: Sequence[Wall], tapes: Sequence[Tape]) -> Adjusted:
    """Corners whose walls and tapes differ least, in squares, from what was taped; right angles exact.

    Where the tapes leave the shape free, the shape nearest to the start is given and `measure` names the tapes that
    would fix it.

    Source: adjustment of a trilateration net by variation of coordinates (any surveying handbook).
    """
    net = net_of(walls, tapes)
    settled = [_settled(net, s) for s in starting_corners(walls, tapes)]
    best = min(settled, key=lambda c: _misfit(net, walls, c))
    held, rank = _rank(net, best, len(walls)), _rank(net, best, len(net.lengths))
    missing = len(net.free) - rank
    spare = -missing if missing else len(tapes) - (rank - held)
    corners = tuple((round(float(x), 6) + 0.0, round(float(y), 6) + 0.0) for x, y in best.reshape(-1, 2))
    measure = _would_fix(net, best) if missing else ()
    return Adjusted(corners, None, "least squares from tapes", spare, measure, blame(net, best))


def blame_right_angled(walls: Sequence[Wall], tapes: Sequence[Tape], corners: Sequence[Point]) -> tuple[str, ...]:
    """Which of walls and tapes is wrong in a right-angled room that was closed along its axes."""
    net = net_of(walls, tapes)
    return blame(net, _settled(net, np.array(corners, dtype=float).ravel()))


def blame(net: Net, at: Vector) -> tuple[str, ...]:
    """The measurements one of which is wrong: those with the largest standardised residual; () when all agree.

    standardised residual = residual / square root of its redundancy number. With one spare measurement all in the
    loop have the same and nobody can tell.

    Source: Baarda's data snooping, as in handbooks of adjustment.
    """
    residual, jacobian = _lengths(net, at)
    if np.abs(residual).max() <= _noticed(net):
        return ()
    _, angle_jacobian = _angles(net, at, net.angles)
    rows = np.vstack([jacobian, angle_jacobian * net.angle_weight]) @ _allowed(net, at)
    left = np.linalg.svd(rows, full_matrices=False)
    solid = left[0][:, left[1] > SMALL * max(left[1].max(initial=0.0), 1e-300)]
    redundancy = (1 - (solid**2).sum(axis=1))[: len(residual)]
    checked = redundancy > 1e-6
    standard = np.where(checked, np.abs(residual) / np.sqrt(np.where(checked, redundancy, 1.0)), 0.0)
    return tuple(n for n, s in zip(net.names, standard, strict=True) if s >= AS_BAD * standard.max())


def _noticed(net: Net) -> float:
    """A blunder of the largest allowed residual shows in the fit only as its redundant share: never above this."""
    return measuring().largest_residual_mm / math.sqrt(len(net.lengths))


# ------------------------------------------------------------------------------------ equations


def _lengths(net: Net, at: Vector) -> tuple[Vector, Vector]:
    """Residuals computed - taped, and their derivatives by the free coordinates."""
    points = at.reshape(-1, 2)
    residual, jacobian = np.zeros(len(net.lengths)), np.zeros((len(net.lengths), len(at)))
    for row, (i, j, taped) in enumerate(net.lengths):
        step = points[j] - points[i]
        d = max(math.hypot(*step), 1e-9)
        residual[row] = d - taped
        jacobian[row, 2 * i : 2 * i + 2] -= step / d
        jacobian[row, 2 * j : 2 * j + 2] += step / d
    return residual, jacobian[:, net.free]


def _angles(net: Net, at: Vector, wanted: Sequence[tuple[int, float]]) -> tuple[Vector, Vector]:
    """Turn at each named corner less the turn wanted, times the angle scale, and its derivatives."""
    points, n = at.reshape(-1, 2), net.count
    residual, jacobian = np.zeros(len(wanted)), np.zeros((len(wanted), len(at)))
    for row, (c, turn) in enumerate(wanted):
        a, b = (c - 1) % n, (c + 1) % n
        u, v = points[c] - points[a], points[b] - points[c]
        off = math.atan2(u[0] * v[1] - u[1] * v[0], u @ v) - turn
        residual[row] = math.remainder(off, 2 * math.pi) * ANGLE_SCALE_MM
        swing_u = np.array([-u[1], u[0]]) / max(u @ u, 1e-9) * ANGLE_SCALE_MM
        swing_v = np.array([-v[1], v[0]]) / max(v @ v, 1e-9) * ANGLE_SCALE_MM
        jacobian[row, 2 * a : 2 * a + 2] += swing_u
        jacobian[row, 2 * c : 2 * c + 2] -= swing_u + swing_v
        jacobian[row, 2 * b : 2 * b + 2] += swing_v
    return residual, jacobian[:, net.free]


def _allowed(net: Net, at: Vector) -> Vector:
    """Columns that span the movements which keep the right angles."""
    _, held = _angles(net, at, net.right)
    if len(held) == 0:
        return np.eye(len(net.free))
    _, values, rows = np.linalg.svd(held)
    solid = int((values > SMALL * values.max()).sum())
    return np.asarray(rows[solid:].T)


def _settled(net: Net, start: Vector) -> Vector:
    """Damped least squares from a start, right angles first as heavy observations and then exactly."""
    at, damping = start.copy(), 1e-3
    for _ in range(200):
        residual, jacobian = _weighted(net, at)
        cost = residual @ residual
        normal, gradient = jacobian.T @ jacobian, jacobian.T @ residual
        step = -np.linalg.solve(normal + damping * np.eye(len(normal)), gradient)
        trial = at.copy()
        trial[net.free] += step
        better = _weighted(net, trial)[0]
        if better @ better <= cost:
            at, damping = trial, max(damping / 5, 1e-9)
            if np.abs(step).max() < 1e-9:
                break
        else:
            damping *= 8
            if damping > 1e9:
                break
    return _exact(net, at)


def _weighted(net: Net, at: Vector) -> tuple[Vector, Vector]:
    length, by_length = _lengths(net, at)
    given, by_given = _angles(net, at, net.angles)
    held, by_held = _angles(net, at, net.right)
    heavy = 100.0
    return (
        np.concatenate([length, given * net.angle_weight, held * heavy]),
        np.vstack([by_length, by_given * net.angle_weight, by_held * heavy]),
    )


def _exact(net: Net, at: Vector) -> Vector:
    """A few plain steps with the right angles as conditions."""
    for _ in range(8):
        held, by_held = _angles(net, at, net.right)
        length, by_length = _lengths(net, at)
        given, by_given = _angles(net, at, net.angles)
        back = -np.linalg.pinv(by_held, rcond=SMALL) @ held if len(held) else np.zeros(len(net.free))
        rows = np.vstack([by_length, by_given * net.angle_weight])
        misfit = np.concatenate([length, given * net.angle_weight]) + rows @ back
        ways = _allowed(net, at)
        along = -np.linalg.lstsq(rows @ ways, misfit, rcond=SMALL)[0] if ways.size else np.zeros(0)
        step = back + ways @ along
        if np.abs(step).max() > 1000:
            return at
        at = at.copy()
        at[net.free] += step
    return at


# ------------------------------------------------------------------------------------ judging


def _rank(net: Net, at: Vector, lengths: int) -> int:
    """How many of the free coordinates the right angles, given angles and first so many lengths hold."""
    _, by_length = _lengths(net, at)
    _, by_given = _angles(net, at, net.angles)
    _, by_held = _angles(net, at, net.right)
    return int(np.linalg.matrix_rank(np.vstack([by_length[:lengths], by_given, by_held]), tol=1e-5))


def _would_fix(net: Net, at: Vector) -> tuple[str, ...]:
    """Tapes that would fix the shape, long ones first, as few as needed."""
    points = at.reshape(-1, 2)
    taped = {frozenset((i, j)) for i, j, _ in net.lengths}
    pairs = [(i, j) for i in range(net.count) for j in range(i + 1, net.count) if frozenset((i, j)) not in taped]
    pairs.sort(key=lambda p: (-round(math.dist(points[p[0]], points[p[1]])), p))
    rank, out = _rank(net, at, len(net.lengths)), []
    for i, j in pairs:
        more = Net(
            net.count,
            (*net.lengths, (i, j, math.dist(points[i], points[j]))),
            (*net.names, ""),
            net.angles,
            net.right,
            net.angle_weight,
        )
        if (now := _rank(more, at, len(more.lengths))) > rank:
            net, rank = more, now
            out.append(f"corner {i + 1} to corner {j + 1}")
        if rank == len(net.free):
            break
    return tuple(out)


def _misfit(net: Net, walls: Sequence[Wall], at: Vector) -> tuple[bool, float]:
    """Solutions that turn as the walker said and do not cross themselves come first, then the better fit."""
    points = [(float(x), float(y)) for x, y in at.reshape(-1, 2)]
    n, as_walked = net.count, True
    for i, wall in enumerate(walls):
        (ax, ay), (bx, by), (cx, cy) = points[i], points[(i + 1) % n], points[(i + 2) % n]
        cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        turns_left = wall.turn in ("left", "skew left") or (wall.angle is not None and wall.angle > 180)
        as_walked = as_walked and (cross < 0) == turns_left
    residual = _weighted(net, at)[0]
    return (not (as_walked and is_simple(points)), round(float(residual @ residual), 3))
