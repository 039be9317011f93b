"""A reading 100 mm off, planted anywhere in a gently uneven base, is named; a fall or a step alone raises no alarm."""

from __future__ import annotations

import math
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.survey.model import LevelPoint
from packgen.survey.suspects import suspects

LINE = 1400


def read_on(level, seed, columns=7, rows=5, step=1200):
    """Spots read to whole mm, each reading scattered by 1 mm."""
    chance = random.Random(seed)
    return [
        spot(
            f"{'ABCDEFGHJK'[i]}{j + 1}",
            i * step,
            j * step,
            round(LINE - level(i * step, j * step) + chance.gauss(0, 1)),
        )
        for i in range(columns)
        for j in range(rows)
    ]


def spot(name, x, y, reading):
    return LevelPoint(name, x, y, float(LINE - reading), (("S1", float(reading), float(LINE - reading)),))


def waves(seed):
    chance = random.Random(seed)
    found = [
        (chance.uniform(0.3, 1.5), chance.uniform(2500, 7000), *(chance.uniform(0, math.tau) for _ in "dp"))
        for _ in "12345"
    ]
    return lambda x, y: (
        -100 + sum(a * math.sin(math.tau * (x * math.cos(d) + y * math.sin(d)) / wide + p) for a, wide, d, p in found)
    )


@settings(max_examples=60)
@given(st.integers(0, 100_000), st.sampled_from([100, -100]), st.sampled_from([(7, 5), (4, 3), (10, 2)]))
def test_a_reading_100_off_is_named_first_and_put_right(seed, off, size) -> None:
    points = read_on(waves(seed), seed, *size)
    k = random.Random(seed).randrange(len(points))
    p = points[k]
    planted = [*points[:k], spot(p.id, p.x_mm, p.y_mm, p.seen[0][1] + off), *points[k + 1 :]]
    first = suspects(planted, True)[0]
    assert first.point == p.id
    assert math.copysign(1, first.off_mm) == -math.copysign(1, off)
    if first.likely_mm is not None:
        assert abs(first.likely_mm - p.seen[0][1]) <= 10


@settings(max_examples=60)
@given(st.integers(0, 100_000), st.floats(-20, 20), st.floats(-20, 20), st.floats(-60, 60), st.floats(700, 6500))
def test_a_fall_with_a_step_from_wall_to_wall_raises_no_alarm(seed, sx, sy, high, at) -> None:
    points = read_on(lambda x, y: sx * x / 1000 + sy * y / 1000 + (high if x > at else 0), seed)
    assert suspects(points, True) == ()
