"""How well the base is known: at a reading, between readings, and beyond them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.figures import half_up, plain
from packgen.core.nearest import nearest_of
from packgen.core.plane import Point, Polygon
from packgen.core.profile import beyond_known
from packgen.core.stepped import sides_of
from packgen.core.surface import Facet, Surface, level_at, through_points
from packgen.core.worked import ON_PLAN, Given, Source, Worked
from packgen.survey.model import Certainty, LevelPoint, Survey
from packgen.trade.survey import between, reading_spread_mm

FORETOLD = Source("what readings of this base stray from their neighbours, each left out in turn", known="calculated")
SMOOTHING = 4.0  # the whole floor counts as so many readings beside those round a spot


@dataclass(frozen=True, slots=True)
class Spread:
    """How well the base is known at a place: two times in three within `mm`, from figures as they are printed.

    near   the nearest reading on the same side of all steps; distance_m to it; beyond_m outside all readings
    """

    mm: float
    near: str
    reading_mm: float
    rough_mm_per_m: float
    distance_m: float
    fall_mm_per_m: float
    beyond_m: float


def certainty_of(
    points: Sequence[LevelPoint],
    base: Surface,
    sides: tuple[tuple[Polygon, ...], tuple[int, ...]],
    instrument: str,
    wrong: Sequence[str],
) -> Certainty:
    """What the readings tell of the base between them.

    Each reading that has others all round it is foretold from these; what it strays, over the distance to the nearest
    of them, is the roughness of the base there. Leaving readings out overstates it: what is said is an upper figure.
    instrument: by its name, "levels" where levels were given. wrong: readings that are doubted, which tell nothing.
    """
    rule, (parts, side) = between(), sides
    strays = dict(_strays(points, base, frozenset(wrong), rule.tests_at_most))
    enough = len(strays) >= rule.least_tests
    common = math.sqrt(sum(v * v for v, _ in strays.values()) / len(strays)) if enough else rule.rough_mm_per_m
    rough = [common] * len(points)
    if enough:
        for i, (value, round_it) in strays.items():
            seen = [value, *(strays[j][0] for j in round_it if j in strays)]
            rough[i] = math.sqrt((sum(v * v for v in seen) + SMOOTHING * common**2) / (len(seen) + SMOOTHING))
    falls = {k: _fall([p for p, s in zip(points, side, strict=True) if s == k]) for k in set(side)}
    return Certainty(
        reading_spread_mm(instrument),
        tuple(half_up(r, 1) for r in rough),
        tuple(falls[s] for s in side),
        side,
        len(strays) if enough else 0,
        parts,
    )


def _strays(
    points: Sequence[LevelPoint], base: Surface, wrong: frozenset[str], most: int
) -> Iterator[tuple[int, tuple[float, tuple[int, ...]]]]:
    """For readings with others all round: what each strays from them in a metre, mm, and who they are."""
    at = {(p.x_mm, p.y_mm): i for i, p in enumerate(points)}
    triangles: dict[int, set[frozenset[int]]] = {}
    for facet in base.facets:
        corners = _corners(facet, at)
        if len(corners) == 3:
            for i in corners:
                triangles.setdefault(i, set()).add(corners - {i})
    inner = [i for i, pairs in sorted(triangles.items()) if len(frozenset().union(*pairs)) == len(pairs)]
    step = max(1, math.ceil(len(inner) / most))
    for i in inner[::step]:
        round_it = tuple(sorted(frozenset().union(*triangles[i])))
        if points[i].id in wrong or any(points[j].id in wrong for j in round_it):
            continue
        spot = (points[i].x_mm, points[i].y_mm)
        others = [(points[j].x_mm, points[j].y_mm, points[j].level_mm) for j in round_it]
        near = min(math.dist(spot, (x, y)) for x, y, _ in others)
        stray = points[i].level_mm - level_at(through_points(others), spot)
        yield i, (abs(stray) / (near / 1000), round_it)


def _corners(facet: Facet, at: dict[Point, int]) -> frozenset[int]:
    ring = facet.known or facet.ring
    return frozenset(at[c] for c in ring if c in at) if len(ring) == 3 else frozenset()


def _fall(points: Sequence[LevelPoint]) -> float:
    """How the plane nearest to the readings falls, mm in a metre."""
    if len(points) < 2:
        return 0.0
    rows = np.array([(p.x_mm / 1000, p.y_mm / 1000, 1.0) for p in points])
    rows[:, :2] -= rows[:, :2].mean(axis=0)
    slope = np.linalg.lstsq(rows, np.array([p.level_mm for p in points]), rcond=1e-9)[0]
    return half_up(math.hypot(float(slope[0]), float(slope[1])), 1)


def spreads(survey: Survey, at: Sequence[Point]) -> tuple[Spread, ...]:
    """How well the base is known at each place; nothing where the survey says nothing of it."""
    known, points = survey.certainty, survey.levels.points
    if known is None or not at:
        return ()
    out: list[Spread | None] = [None] * len(at)
    read = set(known.side)
    where = sides_of(at, known.parts)
    for k in set(where):
        mine = [i for i, s in enumerate(known.side) if s == k or k not in read]
        here = [i for i, s in enumerate(where) if s == k]
        spots = [at[i] for i in here]
        found = nearest_of([(points[i].x_mm, points[i].y_mm) for i in mine], spots)
        for i, (near, far), beyond in zip(here, found, beyond_known(survey.base, spots), strict=True):
            out[i] = spread_from(known, points, mine[near], far, beyond)
    return tuple(s for s in out if s is not None)


def spread_from(known: Certainty, points: Sequence[LevelPoint], near: int, far_mm: float, beyond_mm: float) -> Spread:
    """spread = reading + roughness x distance to the nearest reading + fall x distance beyond all readings  [mm]."""
    rough, fall = known.rough_mm_per_m[near], known.fall_mm_per_m[near]
    metres, out = half_up(far_mm / 1000, 2), half_up(beyond_mm / 1000, 2)
    mm = half_up(known.reading_mm + rough * metres + fall * out, 1)
    return Spread(mm, points[near].id, known.reading_mm, rough, metres, fall, out)


def spread_line(key: str, name: str, s: Spread) -> Worked:
    """The arithmetic of a spread."""
    numbers = f"{plain(s.reading_mm)} + {plain(s.rough_mm_per_m)} x {plain(s.distance_m)}"
    given = [
        Given("what one reading scatters by", s.reading_mm, "mm", between().source),
        Given(f"what the base round {s.near} strays in a metre", s.rough_mm_per_m, "mm", FORETOLD),
        Given(f"distance to {s.near}, the nearest reading", s.distance_m, "m", ON_PLAN),
    ]
    if s.beyond_m and s.fall_mm_per_m:
        numbers += f" + {plain(s.fall_mm_per_m)} x {plain(s.beyond_m)}"
        given.append(Given("fall of the base as a whole, mm in a metre", s.fall_mm_per_m, "mm", FORETOLD))
        given.append(Given("distance beyond all readings", s.beyond_m, "m", ON_PLAN))
    return Worked(
        key,
        name,
        "reading + roughness x distance" + (" + fall x distance beyond" if s.beyond_m and s.fall_mm_per_m else ""),
        numbers,
        s.mm,
        1,
        "mm",
        FORETOLD,
        (),
        tuple(given),
    )
