"""Which measurement of a room is wrong, and which one more would tell."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from packgen.core.plane import Point, Polygon, Segment, is_simple, pieces_inside
from packgen.survey.net import Net, Vector, measured, without
from packgen.survey.solve import SMALL, allowed, rank, settled
from packgen.trade.survey import measuring

UNCHECKED = 0.01  # a measurement of which less than this share is checked by the others cannot be judged


@dataclass(frozen=True, slots=True)
class Blame:
    """The measurements one of which is wrong. would_be_mm: where there is only one, what the others say it is."""

    names: tuple[str, ...] = ()
    would_be_mm: float | None = None


def blame(
    net: Net, at: Vector, others: Sequence[Vector] = (), turned: Callable[[Vector], bool] = lambda _: True
) -> Blame:
    """Which measurement is wrong: those without which all the others agree; none where all agree.

    standardised residual = weighted residual / square root of its redundancy number; where the largest passes the
    limit, each measurement in turn is left out and the rest adjusted again. The squares of what is left over have to
    be such as tapes leave with so many spare, and not so much more than the least that the odds are a hundred to one
    against it; a tape that would be wrong by a whole decimetre or metre, the commonest slip, is ten times as likely as
    one wrong by something else. A single one that passes is named. With one spare measurement every one in the loop
    passes and nobody can tell; where none passes more than one is wrong, and those with the largest standardised
    residuals are named.

    others: further shapes to begin from, since a wrong tape may have pulled a corner over; turned: whether a shape
    turns as the walker said

    Source: data snooping (Baarda, as in handbooks of adjustment).
    """
    m = measuring()
    standard, redundancy = standardised(net, at)
    if standard.max(initial=0.0) <= m.noticed_times * m.tape_spread_mm:
        return Blame()
    spare = float(redundancy.sum())
    suspects = [i for i, r in enumerate(redundancy) if r > UNCHECKED]
    fits: dict[int, Vector] = {}
    left: dict[int, float] = {}
    for i in suspects:
        for start in (at, *others):
            less = without(net, i)
            shape = settled(less, start, 40)
            over = _left_over(less, shape)
            if turned(shape) and over <= most_left_over(round(spare) - 1):
                fits[i], left[i] = shape, over
                break
    for i, shape in fits.items():
        left[i] += 0.0 if _slip(net, shape, i, redundancy[i]) else 2 * math.log(m.slip_odds)
    likely = min(left.values(), default=0.0) + 2 * math.log(m.odds)
    passed = [i for i, over in left.items() if over <= likely]
    if not passed:
        passed = [i for i in suspects if standard[i] >= m.as_bad * standard.max()]
    if len(passed) > 1:
        return Blame(tuple(net.names[i] for i in passed))
    which = passed[0]
    return Blame((net.names[which],), _would_be(net, fits[which], which) if which in fits else None)


def _slip(net: Net, at: Vector, which: int, redundancy: float) -> bool:
    """Whether a tape would be wrong by a whole decimetre or metre, as well as the others tell it."""
    m, there = measuring(), _would_be(net, at, which)
    if there is None:
        return False
    off = abs(net.lengths[which][2] - there)
    return any(abs(off - slip) <= m.noticed_times * m.tape_spread_mm / math.sqrt(redundancy) for slip in m.slips_mm)


def _left_over(net: Net, at: Vector) -> float:
    """Sum of squared residuals, in units of the spread."""
    left, _ = measured(net, at)
    return float(left @ left) / measuring().tape_spread_mm ** 2


def most_left_over(spare: int) -> float:
    """Sum of squared residuals, in units of the spread, that is passed once in a thousand nets without a mistake.

    spare x (1 - 2 / (9 spare) + z root(2 / (9 spare)))^3 with z = 3.09

    Source: quantile of chi squared after Wilson and Hilferty (1931), from memory.

    >>> round(most_left_over(1), 1), round(most_left_over(3), 1)
    (11.2, 16.5)
    """
    if spare <= 0:
        return math.inf
    part = 2 / (9 * spare)
    return spare * (1 - part + measuring().once_in_thousand * math.sqrt(part)) ** 3


def standardised(net: Net, at: Vector) -> tuple[Vector, Vector]:
    """Standardised residuals in mm of a tape's scatter, and redundancy numbers, one a measurement."""
    residual, jacobian = measured(net, at)
    rows = jacobian @ allowed(net, at)
    left = np.linalg.svd(rows, full_matrices=False)
    solid = left[0][:, left[1] > SMALL * max(left[1].max(initial=0.0), 1e-300)]
    redundancy = 1 - (solid**2).sum(axis=1)
    checked = redundancy > UNCHECKED
    return np.where(checked, np.abs(residual) / np.sqrt(np.where(checked, redundancy, 1.0)), 0.0), redundancy


def _would_be(net: Net, at: Vector, which: int) -> float | None:
    if which >= len(net.lengths):
        return None
    i, j, _ = net.lengths[which]
    points = at.reshape(-1, 2)
    return math.dist(points[i], points[j])


# ------------------------------------------------------------------------------------ what to measure


def would_fix(net: Net, at: Vector) -> tuple[str, ...]:
    """Tapes that would fix the shape, as few as needed, each the one that says most of what is still open."""
    out: list[str] = []
    while (held := rank(net, at)) < len(net.free):
        more = [m for m in _with_a_tape(net, at) if rank(m, at) > held]
        if not more:
            break
        net = max(more, key=lambda m: (_inside(m, at), round(_weakest(m, at), 4)))
        out.append(_last_tape(net))
    return tuple(out)


def best_check(net: Net, at: Vector) -> tuple[str, ...]:
    """The tape that checks most of what nothing checks yet."""
    more = list(_with_a_tape(net, at))
    if not more:
        return ()
    best = max(more, key=lambda m: (_inside(m, at), *_checks(m, at)))
    return (_last_tape(best),)


def _checks(net: Net, at: Vector) -> tuple[int, float]:
    redundancy = standardised(net, at)[1]
    checked = redundancy[redundancy > UNCHECKED]
    return len(checked), round(float(checked.min(initial=1.0)), 4)


def _weakest(net: Net, at: Vector) -> float:
    """Smallest singular value of all that holds the corners, free movements left out."""
    values = np.linalg.svd(measured(net, at)[1] @ allowed(net, at), compute_uv=False)
    return float(values[values > SMALL * values.max()].min())


def _with_a_tape(net: Net, at: Vector) -> Iterator[Net]:
    """The net with one more tape, for each pair of corners not yet taped; its length as the outline has it."""
    points = at.reshape(-1, 2)
    taped = {frozenset((i, j)) for i, j, _ in net.lengths}
    n = len(net.lengths)
    for i in range(net.count):
        for j in range(i + 1, net.count):
            if frozenset((i, j)) in taped:
                continue
            yield replace(
                net,
                lengths=(*net.lengths, (i, j, math.dist(points[i], points[j]))),
                names=(*net.names[:n], f"corner {i + 1} to corner {j + 1}", *net.names[n:]),
                weights=(*net.weights[:n], 1.0, *net.weights[n:]),
            )


def _last_tape(net: Net) -> str:
    return net.names[len(net.lengths) - 1]


def _inside(net: Net, at: Vector) -> bool:
    """Whether the last tape lies in the room all the way, so that it can be taped."""
    ring: list[Point] = [(float(x), float(y)) for x, y in at.reshape(-1, 2)]
    i, j, length = net.lengths[-1]
    if not is_simple(ring):
        return True
    return sum(p.length_mm for p in pieces_inside(Polygon(tuple(ring)), Segment(ring[i], ring[j]))) > 0.999 * length
