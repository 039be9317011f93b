"""The arithmetic of levels and legs, line by line, as it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.plane import Point
from packgen.core.profile import facets_at
from packgen.core.surface import Facet, Surface
from packgen.core.worked import FILE, PRACTICE, Source, Worked
from packgen.heights.legs import Leg, Stand
from packgen.heights.model import ZoneTop
from packgen.heights.reckon import Term, level_sum, term
from packgen.heights.top import Tops
from packgen.heights.window import Reckoned
from packgen.survey.model import LevelPoint

ALONG = Source("linear between the three nearest readings", known="practice")


def zone_lines(zone: ZoneTop, datum: str) -> tuple[Worked, ...]:
    """Finish and rail top of a zone."""
    layers = zone.build_up.layers
    finish = Worked(
        f"zone/{zone.name}/finish",
        f"finish of {zone.name}",
        " + ".join(name for name, _ in layers) or "no layers",
        " + ".join(plain(mm) for _, mm in layers) or "0",
        half_up(zone.build_up.finish_mm, 3),
        _digits(zone.build_up.finish_mm),
        "mm",
        FILE,
    )
    numbers, size, side = level_sum([term(zone.finished_mm), term(-zone.build_up.finish_mm)], _digits(zone.rail_top_mm))
    place = "" if zone.fall_per_m == 0 else ", where the fall starts"
    return (
        finish,
        Worked(
            f"zone/{zone.name}/rail top",
            f"rail top of {zone.name}{place}",
            "finished level, less finish",
            numbers,
            size,
            _digits(zone.rail_top_mm),
            f"{side} {datum}",
            FILE,
            (finish.key,),
        ),
    )


def _digits(value: float) -> int:
    return next((d for d in (0, 1, 2) if half_up(value, d) == half_up(value, 3)), 3)


def node_lines(
    legs: Sequence[Leg],
    targets: Mapping[str, tuple[float, int]],
    tops: Tops,
    base: Surface,
    points: Sequence[LevelPoint],
    datum: str,
) -> Iterator[Worked]:
    """Base, rail top where it falls, leg, and today's target of every node.

    targets: today's backsight and the target by node, where the file gives the backsight
    """
    read = {(p.x_mm, p.y_mm): p for p in points}
    on = facets_at(base, [leg.stand.node.at for leg in legs])
    for leg, facet in zip(legs, on, strict=True):
        node, zone = leg.stand.node, tops.zones[leg.zone]
        yield _base_line(leg.stand, leg.base_mm, base.facets[facet], read, datum)
        start = f"zone/{zone.name}/rail top"
        if zone.fall_per_m != 0 or not float(zone.rail_top_mm).is_integer():
            yield _rail_top_line(leg, zone, tops.falls[leg.zone].along(node.at), datum, start)
            start = f"node/{node.id}/rail top"
        numbers, size, _ = level_sum([term(leg.rail_top_mm), term(-leg.base_mm)])
        yield Worked(
            f"node/{node.id}/leg",
            f"leg at {node.id}" if leg.leg_mm >= 0 else f"base above rail top at {node.id}, no leg",
            "rail top above base" if leg.leg_mm >= 0 else "base above rail top",
            numbers,
            size,
            0,
            "mm",
            FILE,
            (f"node/{node.id}/base", start),
        )
        if node.id in targets:
            backsight, target = targets[node.id]
            above = leg.rail_top_mm > 0
            yield Worked(
                f"node/{node.id}/target",
                f"target reading at {node.id}",
                f"today's backsight {'- height of rail top above' if above else '+ depth of rail top below'} {datum}",
                f"{plain(backsight)} {'-' if above else '+'} {abs(leg.rail_top_mm)}",
                float(target),
                0,
                "mm",
                FILE,
                (start,),
            )


def _rail_top_line(leg: Leg, zone: ZoneTop, along_mm: float, datum: str, start: str) -> Worked:
    terms = [term(zone.rail_top_mm)]
    metres = next(
        m for m in (half_up(along_mm / 1000, d) for d in (2, 3, 4, 6, 9)) if _rounds(zone, m, leg.rail_top_mm)
    )
    if zone.fall_per_m:
        down = -zone.fall_per_m * metres
        terms.append((f"{plain(zone.fall_per_m)} x {plain(abs(metres), 9)}", down))
    numbers, size, side = level_sum(terms)
    name = leg.stand.node.id
    formula = "rail top where the fall starts, less fall per metre x distance" if zone.fall_per_m else "to whole mm"
    return Worked(
        f"node/{name}/rail top", f"rail top at {name}", formula, numbers, size, 0, f"{side} {datum}", FILE, (start,)
    )


def _rounds(zone: ZoneTop, metres: float, wanted: int) -> bool:
    return half_up(half_up(zone.rail_top_mm, 3) - zone.fall_per_m * metres) == wanted


def _base_line(stand: Stand, base_mm: int, facet: Facet, read: Mapping[Point, LevelPoint], datum: str) -> Worked:
    key, name = f"node/{stand.node.id}/base", f"base at {stand.node.id}"
    if stand.reading is not None:
        numbers, size, side = level_sum([term(stand.reading.level_mm)])
        from_book = (f"level/{stand.reading.id}",)
        return Worked(
            key, name, f"read at {stand.reading.id}", numbers, size, 0, f"{side} {datum}", PRACTICE, from_book
        )
    shares = _shares(facet, stand.node.at, read)
    for digits in (3, 4, 6, 9):
        terms = [_share_term(share, point.level_mm, digits) for share, point in shares]
        if half_up(sum(v for _, v in terms)) == base_mm:
            break
    else:
        terms, shares = [term(stand.base_mm)], []
    numbers, size, side = level_sum(terms)
    names = [point.id for _, point in shares]
    formula = (
        f"share of each reading x its level: {', '.join(names)}" if len(names) > 1 else "level held beyond readings"
    )
    needs = tuple(f"level/{n}" for n in names)
    return Worked(key, name, formula, numbers, size, 0, f"{side} {datum}", ALONG, needs)


def _share_term(share: float, mm: float, digits: int) -> Term:
    part, level = half_up(share, digits), half_up(mm, digits)
    return (
        f"{plain(part, digits)} x {plain(abs(level), digits)}" if part != 1 else plain(abs(level), digits)
    ), part * level


def _shares(facet: Facet, at: Point, read: Mapping[Point, LevelPoint]) -> list[tuple[float, LevelPoint]]:
    """How much each reading at a facet's corner counts at a place; readings that count nothing are left out."""
    known = [(corner, read[corner]) for corner in facet.ring if corner in read]
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


def window_lines(
    zone: str, low: Sequence[Reckoned], high: Sequence[Reckoned], prefix: str, datum: str
) -> tuple[Worked, ...]:
    """Both ends of a window, by the rules that bind."""
    return (
        _bound_line(f"{prefix}window/at least", f"finished level of {zone} at least", low[0], datum),
        _bound_line(f"{prefix}window/at most", f"finished level of {zone} at most", high[0], datum),
    )


def _bound_line(key: str, name: str, bound: Reckoned, datum: str) -> Worked:
    digits = _digits(bound.bound.level_mm)
    numbers, size, side = level_sum(bound.terms, digits)
    source = FILE if bound.bound.source == "project file" else Source(bound.bound.source, known="file")
    return Worked(
        key,
        f"{name} ({bound.bound.rule}, {bound.bound.place})",
        bound.formula,
        numbers,
        size,
        digits,
        f"{side} {datum}",
        source,
    )
