"""How well the base is known: held against bases that are known everywhere."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.surface import level_at, through_points
from packgen.survey.certainty import certainty_of, spread_line, spreads
from packgen.survey.model import LevelBook, LevelPoint, Survey
from packgen.survey.read_next import read_next


def uneven(seed: int, steepest: float = 3.0):
    """A gently uneven base: waves of 2 to 6 m, some mm high."""
    chance = random.Random(seed)
    waves = [
        (
            chance.uniform(0.3, steepest),
            chance.uniform(2000, 6000),
            chance.uniform(0, math.tau),
            chance.uniform(0, math.tau),
        )
        for _ in range(5)
    ]
    return lambda x, y: (
        -100 + sum(a * math.sin(math.tau * (x * math.cos(d) + y * math.sin(d)) / wide + p) for a, wide, p, d in waves)
    )


def survey_of(level, step=1200, columns=7, rows=5, noise=0.0, seed=0):
    chance = random.Random(seed)
    points = []
    for i in range(columns):
        for j in range(rows):
            z = float(round(level(i * step, j * step) + chance.gauss(0, noise)))
            points.append(LevelPoint(f"{'ABCDEFGHJK'[i]}{j + 1}", i * step, j * step, z, (("S1", 1400 - z, z),)))
    base = through_points([(p.x_mm, p.y_mm, p.level_mm) for p in points])
    known = certainty_of(points, base, ((), (0,) * len(points)), "", ())
    return Survey((), LevelBook((), (), tuple(points), None, 3.0, 0.0, 0.0), base, (), (), known)


@settings(max_examples=20)
@given(st.integers(0, 10_000))
def test_the_base_lies_within_what_is_printed_two_times_in_three(seed) -> None:
    level = uneven(seed)
    survey = survey_of(level, noise=1.0, seed=seed)
    at = [(x, y) for x in range(300, 7200, 600) for y in range(300, 4800, 600)]
    found = spreads(survey, at)
    within = sum(abs(level_at(survey.base, p) - level(*p)) <= s.mm for p, s in zip(at, found, strict=True))
    assert within >= 0.66 * len(at)


def test_a_reading_is_known_as_well_as_it_was_read_and_a_place_far_from_all_worse() -> None:
    survey = survey_of(uneven(3), noise=1.0)
    at_one, between, beyond = spreads(survey, [(1200, 1200), (1800, 1800), (9000, 1200)])
    assert at_one.mm == 1.5 < between.mm < beyond.mm
    assert beyond.beyond_m == pytest.approx(1.8)


def test_the_printed_arithmetic_gives_the_printed_spread() -> None:
    survey = survey_of(lambda x, y: uneven(3)(x, y) + x / 500)
    for s in spreads(survey, [(1500, 1700), (9000, 1200)]):
        line = spread_line("spread/x", "x", s)
        assert float(eval(line.numbers.replace(" x ", " * "))) == pytest.approx(s.mm, abs=0.051)


def test_too_few_readings_leave_the_roughness_to_practice() -> None:
    assert survey_of(uneven(1), columns=3, rows=2).certainty.tested == 0
    assert survey_of(uneven(1)).certainty.tested == 15


def test_a_hole_in_the_readings_is_read_next_and_reading_it_helps() -> None:
    """Readings every 1.2 m but for a patch of four in the middle; the first place named lies in the patch."""
    level = uneven(7)
    whole = survey_of(level)
    kept = [p for p in whole.levels.points if not (2000 < p.x_mm < 5000 and 1000 < p.y_mm < 4000)]
    base = through_points([(p.x_mm, p.y_mm, p.level_mm) for p in kept])
    known = certainty_of(kept, base, ((), (0,) * len(kept)), "", ())
    survey = Survey((), LevelBook((), (), tuple(kept), None, 3.0, 0.0, 0.0), base, (), (), known)
    nodes = [(f"n{x}-{y}", (float(x), float(y))) for x in range(0, 7201, 600) for y in range(0, 4801, 600)]
    named = read_next(survey, nodes, 4)
    assert len(named) == 4
    x, y = named[0].at
    assert 2000 < x < 5000
    assert 1000 < y < 4000
    assert named[0].helps >= named[-1].helps
    more = [*kept, LevelPoint("Z1", x, y, level(x, y), (("S1", 0.0, 0.0),))]
    again = through_points([(p.x_mm, p.y_mm, p.level_mm) for p in more])
    then = certainty_of(more, again, ((), (0,) * len(more)), "", ())
    better = Survey((), LevelBook((), (), tuple(more), None, 3.0, 0.0, 0.0), again, (), (), then)
    assert spreads(better, [named[0].at])[0].mm < named[0].spread.mm


def test_nothing_is_asked_for_where_every_node_was_read() -> None:
    survey = survey_of(lambda x, y: -100.0)
    nodes = [(p.id, (p.x_mm, p.y_mm)) for p in survey.levels.points]
    assert read_next(survey, nodes, None) == ()
