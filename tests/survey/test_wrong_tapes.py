"""Rooms measured with noise: they come back within it, and a planted mistake is named, or honestly left open."""

from __future__ import annotations

import math

import numpy as np
import pytest

from packgen.core.plane import Point, is_simple
from packgen.survey.tapes import fit_room

SPREAD = 1.5


def room(rng: np.random.Generator, count: int) -> list[Point]:
    """A room of some corners, none too sharp, corner 1 at the origin and corner 2 on the x axis."""
    while True:
        turns = np.sort(rng.uniform(0, 2 * math.pi, count))
        far = rng.uniform(2800, 4800, count)
        ring = [(float(r * math.cos(t)), float(r * math.sin(t))) for t, r in zip(turns, far, strict=True)]
        sides = [math.dist(ring[i], ring[i - 1]) for i in range(count)]
        if is_simple(ring) and min(sides) > 1000 and max(np.diff(turns, append=turns[0] + 2 * math.pi)) < 2.2:
            (x0, y0), (x1, y1) = ring[:2]
            c, s = (x1 - x0) / sides[1], (y1 - y0) / sides[1]
            return [((x - x0) * c + (y - y0) * s, (y - y0) * c - (x - x0) * s) for x, y in ring]


def turns_of(ring: list[Point]) -> list[str]:
    n, out = len(ring), []
    for i in range(n):
        (ax, ay), (bx, by), (cx, cy) = ring[i], ring[(i + 1) % n], ring[(i + 2) % n]
        out.append("skew" if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0 else "skew left")
    return out


def diagonals(rng: np.random.Generator, count: int, spare: int, least: int = 2) -> list[tuple[int, int]]:
    """Diagonals beyond those needed, each corner met by two at least: no part of the room hangs on a single one."""
    every = [(i, j) for i in range(1, count + 1) for j in range(i + 2, count + 1) if (i, j) != (1, count)]
    need = count - 3 + spare
    while True:
        chosen = [every[k] for k in rng.permutation(len(every))[:need]]
        if all(sum(n in pair for pair in chosen) >= least for n in range(1, count + 1)):
            return sorted(chosen)


def taped(walls, tapes, rng, ring, pairs, spread, wrong=None, by=0.0):
    """Walls and tapes with noise; measurement number `wrong` off by `by`. Lengths in whole mm, as people read them."""
    n = len(ring)
    spans = [(i, (i + 1) % n) for i in range(n)] + [(a - 1, b - 1) for a, b in pairs]
    read = [math.dist(ring[i], ring[j]) + rng.normal(0, spread) for i, j in spans]
    if wrong is not None:
        read[wrong] += by
    read = [float(round(v)) for v in read]
    sides = list(zip(read[:n], turns_of(ring), strict=True))
    return walls(sides), tapes([(a, b, v) for (a, b), v in zip(pairs, read[n:], strict=True)])


@pytest.mark.parametrize("seed", range(20))
def test_a_room_measured_with_noise_comes_back_within_the_noise(walls, tapes, seed) -> None:
    """No corner is off by more than a handful of times what a tape scatters by, and nothing is blamed."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(4, 8))
    ring = room(rng, count)
    every = [(i, j) for i in range(1, count + 1) for j in range(i + 2, count + 1) if (i, j) != (1, count)]
    fit = fit_room(*taped(walls, tapes, rng, ring, every, 1.0))
    assert fit.blamed == ()
    n = len(ring)
    off = [
        abs(math.dist(fit.corners[i], fit.corners[j]) - math.dist(ring[i], ring[j]))
        for i in range(n)
        for j in range(i + 1, n)
    ]
    assert max(off) < 5.0


def test_with_three_spare_tapes_a_mistake_of_100_is_named_and_never_another(walls, tapes) -> None:
    rng = np.random.default_rng(2027)
    named, other, rooms = 0, [], 100
    for _ in range(rooms):
        count = int(rng.integers(5, 8))
        every = count * (count - 3) // 2
        spare = int(rng.integers(3, every - (count - 3) + 1))
        ring, pairs = room(rng, count), diagonals(rng, count, spare)
        which = int(rng.integers(0, count + len(pairs)))
        by = float(rng.choice([-100.0, 100.0]))
        fit = fit_room(*taped(walls, tapes, rng, ring, pairs, SPREAD, which, by))
        names = [f"wall {n}" for n in range(1, count + 1)] + [f"corner {a} to corner {b}" for a, b in pairs]
        if fit.blamed == (names[which],):
            named += 1
        elif len(fit.blamed) == 1:
            other.append((names[which], fit.blamed))
        else:
            assert fit.blamed == () or names[which] in fit.blamed
    assert other == []
    assert named >= 95


def test_with_two_spare_the_set_holds_the_wrong_one(walls, tapes) -> None:
    rng = np.random.default_rng(5)
    for _ in range(15):
        ring = room(rng, 5)
        pairs = diagonals(rng, 5, 2, 1)
        which = int(rng.integers(0, 9))
        fit = fit_room(*taped(walls, tapes, rng, ring, pairs, 1.0, which, 100.0))
        names = [f"wall {n}" for n in range(1, 6)] + [f"corner {a} to corner {b}" for a, b in pairs]
        assert fit.blamed == () or names[which] in fit.blamed


def test_a_single_wrong_tape_is_told_with_what_the_others_give(walls, tapes) -> None:
    ring: list[Point] = [
        (0.0, 0.0),
        (6100.0, 0.0),
        (6500.0, 2900.0),
        (5200.0, 4700.0),
        (900.0, 4500.0),
        (-300.0, 2100.0),
    ]
    pairs = [(1, 3), (1, 4), (1, 5), (2, 4), (2, 5), (3, 6), (2, 6)]
    rng = np.random.default_rng(1)
    fit = fit_room(*taped(walls, tapes, rng, ring, pairs, 0.5, 7, 100.0))
    assert fit.blamed == ("corner 1 to corner 4",)
    assert fit.would_be_mm == pytest.approx(math.dist(ring[0], ring[3]), abs=4)
