"""The arithmetic of base and depth at any place of the floor, back to the readings round it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from packgen.core.figures import half_up, plain
from packgen.core.place import Place
from packgen.core.plane import Point
from packgen.core.profile import facets_at
from packgen.core.surface import Facet, Surface, level_at
from packgen.core.worked import ON_PLAN, Given, Source, Worked
from packgen.heights.model import ZoneTop
from packgen.heights.reckon import Term, level_sum, term
from packgen.survey.model import LevelPoint

ALONG = Source("linear between the three nearest readings", known="practice")
SHARE_DIGITS = (3, 4, 6, 9)  # decimals of the shares: as few as give the printed figure


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms of a sum of levels, the lines whose results they are, and their other figures."""

    terms: tuple[Term, ...]
    needs: tuple[str, ...]
    given: tuple[Given, ...]

    @property
    def total(self) -> float:
        return sum(v for _, v in self.terms)

    def turned(self) -> Sum:
        """The same, to be taken off."""
        return Sum(tuple((text, -v) for text, v in self.terms), self.needs, self.given)

    def and_then(self, other: Sum) -> Sum:
        return Sum(self.terms + other.terms, self.needs + other.needs, self.given + other.given)


def base_key(at: Point) -> str:
    """Key of the line of the base at a place."""
    return f"base/{plain(at[0], 3)}/{plain(at[1], 3)}"


def depth_key(at: Point) -> str:
    """Key of the line of the depth at a place."""
    return f"depth/{plain(at[0], 3)}/{plain(at[1], 3)}"


def spot(at: Point) -> str:
    return f"{plain(at[0], 1)} along wall 1, {plain(at[1], 1)} from wall 1"


def base_sum(base: Surface, points: Sequence[LevelPoint], at: Point, digits: int) -> Sum:
    """The base at a place as shares of the readings round it; exact as far as the shares are printed."""
    facet = base.facets[facets_at(base, [at])[0]]
    shares = facet_shares(facet, at, {(p.x_mm, p.y_mm): p for p in points})
    needs = tuple(f"level/{p.id}" for _, p in shares)
    parts = tuple(Given(f"share of {p.id} at {spot(at)}", half_up(s, digits), "", ALONG) for s, p in shares)
    terms = tuple(share_term(s, p.level_mm, digits) for s, p in shares)
    return Sum(terms, needs, parts if len(shares) > 1 else ())


def top_sum(zone: ZoneTop, at: Point, fall_place: Place | None) -> Sum:
    """The rail top of a zone at a place: where the fall starts, less the fall to the place."""
    key = f"zone/{zone.name}/rail top"
    start = Sum((term(zone.rail_top_mm),), (key,), ())
    metres = half_up(zone.down(at) / 1000, 6)
    if zone.fall_per_m == 0 or metres == 0:
        return start
    text = f"{plain(zone.fall_per_m)} x {plain(abs(metres), 6)}"
    return start.and_then(
        Sum(
            ((text, -zone.fall_per_m * metres),),
            (),
            (
                Given(f"fall of {zone.name}, mm in a metre", zone.fall_per_m, "", place=fall_place),
                Given(f"from where the fall starts to {spot(at)}", abs(metres), "m", ON_PLAN),
            ),
        )
    )


def zone_over(zones: Sequence[ZoneTop], rail_top: Surface, at: Point) -> ZoneTop:
    """The zone whose rail top counts at a place."""
    level = level_at(rail_top, at)

    def off(zone: ZoneTop) -> float:
        return abs(zone.rail_top_mm - zone.fall_per_m / 1000 * zone.down(at) - level)

    return min(zones, key=lambda z: round(off(z), 6))


def base_line(key: str, base: Surface, points: Sequence[LevelPoint], at: Point, datum: str) -> Worked:
    """The base at a place, to as many decimals as it has, three at most."""
    exact = level_at(base, at)
    digits = next((d for d in (0, 1, 2) if abs(half_up(exact, d) - exact) < 5e-7), 3)
    found = _fitting(lambda d: base_sum(base, points, at, d), exact, digits)
    numbers, size, side = level_sum(found.terms, digits)
    return Worked(
        key,
        f"base at {spot(at)}",
        "share of each reading x its level" if len(found.terms) > 1 else "level of the reading there",
        numbers,
        size,
        digits,
        f"{side} {datum}",
        ALONG,
        found.needs,
        found.given,
    )


def depth_line(
    key: str,
    name: str,
    zone: ZoneTop,
    base: Surface,
    points: Sequence[LevelPoint],
    at: Point,
    depth_mm: float,
    digits: int,
    fall_place: Place | None,
) -> Worked:
    """A depth at a place: rail top there less base there."""
    top = top_sum(zone, at, fall_place)
    found = _fitting(lambda d: top.and_then(base_sum(base, points, at, d).turned()), depth_mm, digits)
    numbers, size, side = level_sum(found.terms, digits)
    return Worked(
        key,
        name if side == "mm above" or size == 0 else f"{name}, base above rail top by",
        "rail top there less base there, as shares of the readings round it",
        numbers,
        size,
        digits,
        "mm",
        ALONG,
        found.needs,
        found.given,
    )


def _fitting(make: Callable[[int], Sum], wanted: float, digits: int) -> Sum:
    """The sum with shares of as few decimals as give the wanted figure."""
    for share in SHARE_DIGITS:
        found = make(share)
        if half_up(found.total, digits) == half_up(wanted, digits):
            break
    return found


def share_term(share: float, mm: float, digits: int) -> Term:
    """A share of a level as a term."""
    part, level = half_up(share, digits), half_up(mm, digits)
    text = plain(abs(level), digits) if part == 1 else f"{plain(part, digits)} x {plain(abs(level), digits)}"
    return text, part * level


def facet_shares(facet: Facet, at: Point, read: Mapping[Point, LevelPoint]) -> list[tuple[float, LevelPoint]]:
    """How much each reading at a facet's corner counts at a place; readings that count nothing are left out."""
    known = [(corner, read[corner]) for corner in (facet.known or facet.ring) if corner in read]
    if len(known) == 3:
        (a, _), (b, _), (c, _) = known
        whole = _cross(a, b, c)
        parts = [_cross(at, b, c) / whole, _cross(a, at, c) / whole, _cross(a, b, at) / whole]
    elif len(known) == 2:
        (a, _), (b, _) = known
        span = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
        t = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / span
        parts = [1 - t, t]
    else:
        parts = [1.0] * len(known)
    return [(share, point) for share, (_, point) in zip(parts, known, strict=True) if abs(share) > 1e-9]


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
