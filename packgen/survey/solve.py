"""Least squares of a net, its right angles kept exactly."""

from __future__ import annotations

import numpy as np

from packgen.survey.net import Net, Vector, kept, measured

SMALL = 1e-7  # singular values below this share of the largest are zero: the geometry moves freely there
HEAVY = 100.0  # weight of a right angle before it is kept exactly


def settled(net: Net, start: Vector, tries: int = 200) -> Vector:
    """Damped least squares from a start, right angles first as heavy observations and then exactly."""
    at, damping = start.copy(), 1e-3
    for _ in range(tries):
        residual, jacobian = _heavy(net, at)
        cost = residual @ residual
        normal, gradient = jacobian.T @ jacobian, jacobian.T @ residual
        step = -np.linalg.solve(normal + damping * np.eye(len(normal)), gradient)
        trial = at.copy()
        trial[net.free] += step
        better = _heavy(net, trial)[0]
        if better @ better <= cost:
            at, damping = trial, max(damping / 5, 1e-9)
            if np.abs(step).max() < 1e-9:
                break
        else:
            damping *= 8
            if damping > 1e9:
                break
    return _exact(net, at)


def _heavy(net: Net, at: Vector) -> tuple[Vector, Vector]:
    found, by_found = measured(net, at)
    held, by_held = kept(net, at)
    return np.concatenate([found, held * HEAVY]), np.vstack([by_found, by_held * HEAVY])


def _exact(net: Net, at: Vector) -> Vector:
    """A few plain steps with the right angles as conditions."""
    for _ in range(8):
        held, by_held = kept(net, at)
        found, rows = measured(net, at)
        back = -np.linalg.pinv(by_held, rcond=SMALL) @ held if len(held) else np.zeros(len(net.free))
        ways = allowed(net, at)
        along = -np.linalg.lstsq(rows @ ways, found + rows @ back, rcond=SMALL)[0] if ways.size else np.zeros(0)
        step = back + ways @ along
        if np.abs(step).max() > 1000:
            return at
        at = at.copy()
        at[net.free] += step
    return at


def allowed(net: Net, at: Vector) -> Vector:
    """Columns that span the movements which keep the right angles."""
    _, held = kept(net, at)
    if len(held) == 0:
        return np.eye(len(net.free))
    _, values, rows = np.linalg.svd(held)
    solid = int((values > SMALL * values.max()).sum())
    return np.asarray(rows[solid:].T)


def rank(net: Net, at: Vector, walls: int | None = None) -> int:
    """How many of the free coordinates the right angles and the measurements hold, or the first so many of these."""
    _, rows = measured(net, at)
    _, held = kept(net, at)
    return int(np.linalg.matrix_rank(np.vstack([rows[:walls], held]), tol=1e-5))
