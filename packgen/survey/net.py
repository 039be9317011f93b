"""What was measured of a room as a net: each measurement's residual and how it changes with the corners."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from packgen.project.room_model import Room, Tape, Wall
from packgen.trade.survey import measuring

Vector = npt.NDArray[np.float64]
ANGLE_SCALE_MM = 1000.0  # a corner a thousandth of a radian out moves the end of a 1 m wall by 1 mm
TURNS = {"right": math.pi / 2, "left": -math.pi / 2, "straight": 0.0}


@dataclass(frozen=True, slots=True)
class Spot:
    """A corner measured from a line between two corners: so far along it and so far to its right, mm."""

    corner: int
    start: int
    end: int
    along_mm: float
    right_mm: float


@dataclass(frozen=True)
class Net:
    """What was measured: lengths between corners, angles given, spots from base lines, and kept right angles.

    Corners are counted from 0. `names` and `weights` belong to lengths, angles and the two figures of each spot, in
    this order; a weight turns a residual into mm of a tape's scatter, 0 leaves the measurement out.
    """

    count: int
    lengths: tuple[tuple[int, int, float], ...]
    angles: tuple[tuple[int, float], ...]  # corner, turn in radians
    spots: tuple[Spot, ...]
    right: tuple[tuple[int, float], ...]  # corner, turn kept exactly
    names: tuple[str, ...]
    weights: tuple[float, ...]

    @property
    def free(self) -> list[int]:
        """Coordinates that may move: corner 1 stays at the origin, corner 2 on the x axis."""
        return [2, *range(4, 2 * self.count)]


def net_of(walls: Sequence[Wall], tapes: Sequence[Tape], spots: Sequence[Spot] = ()) -> Net:
    """The measurements of a room as a net. A wall's turn stands at its end."""
    n, m = len(walls), measuring()
    lengths = [(i, (i + 1) % n, w.length) for i, w in enumerate(walls)]
    lengths += [(t.start - 1, t.end - 1, t.length) for t in tapes]
    turns = [((i + 1) % n, w) for i, w in enumerate(walls)]
    angles = [(c, math.pi - math.radians(w.angle)) for c, w in turns if w.angle is not None]
    right = [(c, TURNS[w.turn]) for c, w in turns if w.turn in TURNS and w.angle is None]
    names = [f"wall {w.number}" for w in walls] + [f"corner {t.start} to corner {t.end}" for t in tapes]
    names += [f"angle at corner {c + 1}" for c, _ in angles]
    for s in spots:
        names += [f"corner {s.corner + 1} along the base line", f"corner {s.corner + 1} off the base line"]
    turned = m.tape_spread_mm / (math.radians(m.angle_spread_deg) * ANGLE_SCALE_MM)
    beside = m.tape_spread_mm / m.offset_spread_mm
    weights = [1.0] * len(lengths) + [turned] * len(angles) + [beside] * (2 * len(spots))
    return Net(n, tuple(lengths), tuple(angles), tuple(spots), tuple(right), tuple(names), tuple(weights))


def spots_of(room: Room) -> tuple[Spot, ...]:
    """Offsets from the base line; coordinates beside walls are offsets from wall 1."""
    line = room.base_line
    out = [Spot(o.corner - 1, line.start - 1, line.end - 1, o.along, o.right) for o in room.offsets] if line else []
    return (*out, *(Spot(c.number - 1, 0, 1, *c.at) for c in room.corners if c.number > 2))


def without(net: Net, which: int) -> Net:
    """The net with one measurement left out."""
    weights = list(net.weights)
    weights[which] = 0.0
    return replace(net, weights=tuple(weights))


def measured(net: Net, at: Vector) -> tuple[Vector, Vector]:
    """Weighted residuals computed - measured of all measurements, and their derivatives by the free coordinates."""
    length, by_length = _lengths(net, at)
    angle, by_angle = turned(net, at, net.angles)
    spot, by_spot = _spots(net, at)
    weights = np.array(net.weights)
    return (
        np.concatenate([length, angle, spot]) * weights,
        np.vstack([by_length, by_angle, by_spot]) * weights[:, None],
    )


def kept(net: Net, at: Vector) -> tuple[Vector, Vector]:
    """The same of the angles that are kept exactly."""
    return turned(net, at, net.right)


def _lengths(net: Net, at: Vector) -> tuple[Vector, Vector]:
    points = at.reshape(-1, 2)
    residual, jacobian = np.zeros(len(net.lengths)), np.zeros((len(net.lengths), len(at)))
    for row, (i, j, taped) in enumerate(net.lengths):
        step = points[j] - points[i]
        d = max(math.hypot(*step), 1e-9)
        residual[row] = d - taped
        jacobian[row, 2 * i : 2 * i + 2] -= step / d
        jacobian[row, 2 * j : 2 * j + 2] += step / d
    return residual, jacobian[:, net.free]


def turned(net: Net, at: Vector, wanted: Sequence[tuple[int, float]]) -> tuple[Vector, Vector]:
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


def _spots(net: Net, at: Vector) -> tuple[Vector, Vector]:
    points = at.reshape(-1, 2)
    residual, jacobian = np.zeros(2 * len(net.spots)), np.zeros((2 * len(net.spots), len(at)))
    for row, s in enumerate(net.spots):
        line, out = points[s.end] - points[s.start], points[s.corner] - points[s.start]
        d = max(math.hypot(*line), 1e-9)
        u = line / d
        n = np.array([-u[1], u[0]])  # y down: to the right of the way along the line
        along, beside = float(out @ u), float(out @ n)
        residual[2 * row : 2 * row + 2] = along - s.along_mm, beside - s.right_mm
        for k, own, other in ((0, u, n * beside / d), (1, n, -n * along / d)):
            jacobian[2 * row + k, 2 * s.corner : 2 * s.corner + 2] += own
            jacobian[2 * row + k, 2 * s.start : 2 * s.start + 2] -= own + other
            jacobian[2 * row + k, 2 * s.end : 2 * s.end + 2] += other
    return residual, jacobian[:, net.free]
