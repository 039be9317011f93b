"""The arithmetic of levels and legs, line by line, as it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.plane import Point
from packgen.core.profile import facets_at
from packgen.core.surface import Facet, Surface
from packgen.core.worked import FILE, ON_PLAN, PRACTICE, Given, Source, Worked
from packgen.heights.bounds import Reckoned
from packgen.heights.legs import Leg, Stand
from packgen.heights.model import Window, ZoneTop
from packgen.heights.place_lines import ALONG, base_key, facet_shares, share_term
from packgen.heights.reckon import level_sum, term
from packgen.heights.top import Tops
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Zone
from packgen.survey.model import LevelPoint

OFFERED = Source("window of finished levels, offered where the file leaves it open", known="calculated")


def zone_lines(zone: ZoneTop, file: Zone, datum: str) -> tuple[Worked, ...]:
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
        given=tuple(given(layer, "thickness", layer.name, layer.thickness) for layer in file.layers)
        or (Given("layers: the file names none", 0, "mm", FILE, file.marks.start),),
    )
    asked = _as_asked(zone, file)
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
            (finish.key,) if asked else (f"zone/{zone.name}/finished", finish.key),
            (asked,) if asked else (),
        ),
    )


def _as_asked(zone: ZoneTop, file: Zone) -> Given | None:
    """The finished level where it stands in the file just so; None where it was found or carried along the fall."""
    level = file.finished_level.level
    if level is None or abs(level - zone.finished_mm) > 1e-9:
        return None
    return given(file.finished_level, "level", f"finished level of {zone.name}", abs(level))


def _offered_line(zone: ZoneTop, window: Window, key: str, name: str, prefix: str, datum: str) -> Worked:
    """A level left open in the file: the one offered within its window; where none fits, the least asked for."""
    below = zone.finished_mm < 0
    low, high = half_up(window.low_mm, 3), half_up(window.high_mm, 3)
    least, most = (
        (f"floor({_signed(-low)})", f"ceil({_signed(-high)})")
        if below
        else (
            f"ceil({_signed(low)})",
            f"floor({_signed(high)})",
        )
    )
    ends: tuple[str, ...] = (f"{prefix}window/at least",)
    numbers, figures = least, list[Given]()
    formula = "no level keeps every rule: the least that is asked for, to whole mm"
    size = half_up(abs(zone.finished_mm), 3)
    if window.offered_mm is not None:
        found = Source(f"{window.why_offered}, within the window", known="calculated")
        figures.append(Given("level offered", size, "mm", found))
        ends = (*ends, f"{prefix}window/at most")
        inner, outer = ("max", "min") if below else ("min", "max")
        numbers = f"{outer}({least}, {inner}({most}, {plain(size)}))"
        formula = "left open in the file: the level offered, not beyond either end of the window"
    side = "mm below" if below else "mm above"
    return Worked(key, name, formula, numbers, size, _digits(size), f"{side} {datum}", OFFERED, ends, tuple(figures))


def _signed(mm: float) -> str:
    return plain(mm) if mm >= 0 else f"(0 - {plain(-mm)})"


def finished_line(zone: ZoneTop, file: Zone, window: Window, prefix: str, datum: str) -> Worked | None:
    """Where the finished level at the start of the fall comes from, when it does not stand in the file just so."""
    level = file.finished_level.level
    if level is not None and abs(level - zone.finished_mm) <= 1e-9:
        return None
    key, name = f"zone/{zone.name}/finished", f"finished level of {zone.name}"
    digits = _digits(zone.finished_mm)
    if level is None:
        return _offered_line(zone, window, key, name, prefix, datum)
    metres = half_up((zone.finished_mm - level) / zone.fall_per_m, 6)
    far = f"{plain(zone.fall_per_m)} x {plain(abs(metres), 6)}"
    numbers, size, side = level_sum([term(level), (far, zone.finished_mm - level)], digits)
    return Worked(
        key,
        f"{name}, where the fall starts",
        "finished level asked for, and the fall from there up to where it starts",
        numbers,
        size,
        digits,
        f"{side} {datum}",
        FILE,
        (),
        (
            given(file.finished_level, "level", f"finished level of {zone.name}, where the file gives it", abs(level)),
            given(file.fall, "per metre", f"fall of {zone.name}, mm in a metre", zone.fall_per_m, ""),
            Given("from where the fall starts to where the level is given", abs(metres), "m", ON_PLAN),
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
    project: Project,
) -> Iterator[Worked]:
    """Base, rail top where it falls, leg, and today's target of every node.

    targets: today's backsight and the target by node, where the file gives the backsight
    """
    datum, today = project.datum.name, project.today
    falls = [
        given(z.fall, "per metre", f"fall of {z.zone}, mm in a metre", z.fall.per_metre, "") for z in project.finishes
    ]
    read = {(p.x_mm, p.y_mm): p for p in points}
    on = facets_at(base, [leg.stand.node.at for leg in legs])
    for leg, facet in zip(legs, on, strict=True):
        node, zone = leg.stand.node, tops.zones[leg.zone]
        yield _base_line(leg.stand, leg.base_mm, base.facets[facet], read, datum)
        start = f"zone/{zone.name}/rail top"
        if zone.fall_per_m != 0 or not float(zone.rail_top_mm).is_integer():
            yield _rail_top_line(leg, zone, tops.falls[leg.zone].along(node.at), datum, start, falls[leg.zone])
            start = f"node/{node.id}/rail top"
        if leg.raised_mm:
            yield _raised_line(project, leg, datum, start)
            start = f"node/{node.id}/rail top raised"
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
                () if today is None else (given(today, "backsight", f"today's backsight on {datum}", backsight),),
            )


def _raised_line(project: Project, leg: Leg, datum: str, start: str) -> Worked:
    numbers, size, side = level_sum([term(leg.rail_top_mm - leg.raised_mm), term(leg.raised_mm)])
    name = leg.stand.node.id
    rule = f"raised there so that what lies below passes, at most {plain(project.kit.raise_rail_locally or 0.0)}"
    return Worked(
        f"node/{name}/rail top raised",
        f"rail top at {name}, raised where a pipe or cable passes below the rail",
        "rail top + what the rail is raised by",
        numbers,
        size,
        0,
        f"{side} {datum}",
        FILE,
        (start,),
        (given(project.kit, "raise rail locally", rule, leg.raised_mm),),
    )


def _rail_top_line(leg: Leg, zone: ZoneTop, along_mm: float, datum: str, start: str, fall: Given) -> Worked:
    terms = [term(zone.rail_top_mm)]
    metres = next(
        m
        for m in (half_up(along_mm / 1000, d) for d in (2, 3, 4, 6, 9))
        if _rounds(zone, m, leg.rail_top_mm - leg.raised_mm)
    )
    if zone.fall_per_m:
        down = -zone.fall_per_m * metres
        terms.append((f"{plain(zone.fall_per_m)} x {plain(abs(metres), 9)}", down))
    numbers, size, side = level_sum(terms)
    name = leg.stand.node.id
    formula = "rail top where the fall starts, less fall per metre x distance" if zone.fall_per_m else "to whole mm"
    far = Given(f"from where the fall starts to {name}", abs(metres), "m", ON_PLAN)
    return Worked(
        f"node/{name}/rail top",
        f"rail top at {name}",
        formula,
        numbers,
        size,
        0,
        f"{side} {datum}",
        FILE,
        (start,),
        (fall, far) if zone.fall_per_m else (),
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
    shares = facet_shares(facet, stand.node.at, read)
    for digits in (3, 4, 6, 9):
        terms = [share_term(share, point.level_mm, digits) for share, point in shares]
        if half_up(sum(v for _, v in terms)) == base_mm:
            break
    else:  # just half way between two mm: no share of few decimals tells on which side
        numbers, size, side = level_sum([term(stand.base_mm)])
        there = (base_key(stand.node.at),)
        return Worked(key, name, "base there, to whole mm", numbers, size, 0, f"{side} {datum}", ALONG, there)
    numbers, size, side = level_sum(terms)
    names = [point.id for _, point in shares]
    formula = (
        f"share of each reading x its level: {', '.join(names)}" if len(names) > 1 else "level held beyond readings"
    )
    needs = tuple(f"level/{n}" for n in names)
    parts = (
        tuple(Given(f"share of {p.id}", half_up(share, digits), "", ALONG) for share, p in shares)
        if len(shares) > 1
        else ()
    )
    return Worked(key, name, formula, numbers, size, 0, f"{side} {datum}", ALONG, needs, parts)


def window_lines(
    zone: str, low: Sequence[Reckoned], high: Sequence[Reckoned], prefix: str, datum: str
) -> tuple[tuple[Worked, ...], tuple[Worked, ...]]:
    """Both ends of a window by the rules that bind; and what every other rule asks for."""
    made = [
        [
            _bound_line(
                f"{prefix}window/{end}" + (f"/{n}" if n else ""), f"finished level of {zone} {end}", bound, datum
            )
            for n, bound in enumerate(bounds)
        ]
        for end, bounds in (("at least", low), ("at most", high))
    ]
    return tuple(lines[0] for lines in made), tuple(line for lines in made for line in lines[1:])


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
        bound.needs,
        bound.given,
    )
