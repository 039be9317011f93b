"""The window of finished levels: what every rule asks for, tightest first, and the level that is offered."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packgen.core.figures import KILONEWTON_PER_KG, level, plain
from packgen.core.plane import Point
from packgen.core.surface import Depths
from packgen.heights.build_up import layers_mass
from packgen.heights.cover import ZoneCover
from packgen.heights.doors import channel_at, door_levels, judged
from packgen.heights.kit_range import KitRange
from packgen.heights.legs import Leg
from packgen.heights.model import Bound, DepthRule, RailOverService, Window
from packgen.heights.reckon import Term, term
from packgen.heights.top import Tops
from packgen.project.model import Project
from packgen.project.work_model import Fill, Zone
from packgen.survey.model import RoomOutline
from packgen.trade.amounts import amount, amount_rule
from packgen.trade.grid_rules import grid_rule, value

FROM_FILE = "project file"


@dataclass(frozen=True)
class ZoneFacts:
    """All that one zone's window is made from, at the finished level its tops were made with.

    near: names a place by the leg it is at or near
    """

    index: int
    zone: Zone
    fill: Fill
    tops: Tops
    legs: tuple[Leg, ...]
    depth: Depths
    rule: DepthRule
    covers: tuple[ZoneCover, ...]
    crossings: tuple[RailOverService, ...]
    rooms: tuple[RoomOutline, ...]
    near: Callable[[Point], str]

    @property
    def finished_mm(self) -> float:
        return self.tops.zones[self.index].finished_mm

    @property
    def finish_mm(self) -> float:
        return self.tops.zones[self.index].build_up.finish_mm

    def drop(self, at: Point) -> float:
        return self.tops.falls[self.index].drop(at)


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A bound with the sum that gives it, in words and in figures."""

    bound: Bound
    formula: str
    terms: tuple[Term, ...]


def reckon_bounds(
    project: Project, facts: ZoneFacts, kit: KitRange
) -> tuple[tuple[Reckoned, ...], tuple[Reckoned, ...]]:
    """What the finished level must be at least, and at most, each list tightest first."""
    doors = _door_bounds(project, facts)
    low = [*_low_bounds(facts, kit), *(r for up, r in doors if not up)]
    high = [*_high_bounds(facts, kit), *_load_bounds(project, facts), *(r for up, r in doors if up)]
    return (
        tuple(sorted(low, key=lambda r: (-round(r.bound.level_mm, 6), r.bound.rule, r.bound.place))),
        tuple(sorted(high, key=lambda r: (round(r.bound.level_mm, 6), r.bound.rule, r.bound.place))),
    )


def _reckoned(rule: str, place: str, formula: str, terms: Sequence[float], source: str = FROM_FILE) -> Reckoned:
    kept = [t for i, t in enumerate(terms) if i == 0 or t != 0]
    return Reckoned(Bound(rule, sum(terms), place, source), formula, tuple(term(t) for t in kept))


def _low_bounds(facts: ZoneFacts, kit: KitRange) -> list[Reckoned]:
    out = []
    if facts.legs:
        leg = max(facts.legs, key=lambda g: (g.base_mm + facts.drop(g.stand.node.at), g.stand.node.id))
        terms = (float(leg.base_mm), kit.shortest, facts.finish_mm, facts.drop(leg.stand.node.at))
        out.append(_reckoned("shortest leg", leg.stand.node.id, _fell("base + shortest leg + finish", facts), terms))
    depth = facts.depth
    base = facts.tops.rail_top(facts.index, depth.least_at) - depth.least_mm
    terms = (base, facts.rule.least_mm, facts.finish_mm, facts.drop(depth.least_at))
    formula = _fell("base + least depth + finish", facts)
    out.append(_reckoned("least depth", facts.near(depth.least_at), formula, terms, facts.rule.source))
    for c in facts.covers:
        if c.needed_mm is not None:
            pipe = facts.tops.rail_top(facts.index, c.at) - c.cover_mm
            terms = (pipe, c.needed_mm, facts.finish_mm, facts.drop(c.at))
            formula = _fell("top of the pipe + cover + finish", facts)
            out.append(_reckoned("pipe cover", f"{c.service} {_at(facts.near(c.at))}", formula, terms))
    for service in dict.fromkeys(c.service for c in facts.crossings):
        tight = next(c for c in facts.crossings if c.service == service)
        base = facts.tops.rail_top(facts.index, tight.at) - tight.depth_mm
        terms = (base, tight.needed_mm, facts.finish_mm, facts.drop(tight.at))
        formula = _fell("base + pipe, support, rail and room + finish", facts)
        source = str(grid_rule("over_service").source)
        out.append(_reckoned("rail over service", f"{service} under {tight.rail}", formula, terms, source))
    return out


def _high_bounds(facts: ZoneFacts, kit: KitRange) -> list[Reckoned]:
    out = []
    if facts.legs:
        leg = min(facts.legs, key=lambda g: (g.base_mm + facts.drop(g.stand.node.at), g.stand.node.id))
        terms = (float(leg.base_mm), kit.longest, facts.finish_mm, facts.drop(leg.stand.node.at))
        out.append(_reckoned("longest leg", leg.stand.node.id, _fell("base + longest leg + finish", facts), terms))
    depth = facts.depth
    base = facts.tops.rail_top(facts.index, depth.most_at) - depth.most_mm
    terms = (base, facts.rule.most_mm, facts.finish_mm, facts.drop(depth.most_at))
    out.append(_reckoned("most depth", facts.near(depth.most_at), _fell("base + most depth + finish", facts), terms))
    return out


def _load_bounds(project: Project, facts: ZoneFacts) -> list[Reckoned]:
    """The mean depth at which the floor weighs what it may: dry for good, and fresh with people on it."""
    allowed = project.base.extra_load_allowed
    if allowed is None:
        return []
    layers, kit = layers_mass(facts.zone), project.kit.mass
    dry = (allowed / KILONEWTON_PER_KG - kit - layers) / facts.fill.hardened_density * 1000
    out = [_by_weight("dry weight", facts, dry, FROM_FILE)]
    imposed = project.base.imposed_load
    if imposed is None and project.base.timber:
        imposed = amount("imposed_joists")
    if imposed is not None:
        working = allowed + imposed - amount("people")
        fresh = (working / KILONEWTON_PER_KG - kit) / facts.fill.fresh_density * 1000
        out.append(_by_weight("load while working", facts, fresh, str(amount_rule("people").source)))
    return out


def _by_weight(rule: str, facts: ZoneFacts, mean_mm: float, source: str) -> Reckoned:
    formula = "finished level + mean depth at which the weight is reached - mean depth"
    return _reckoned(rule, "mean depth", formula, (facts.finished_mm, mean_mm, -facts.depth.mean_mm), source)


def _door_bounds(project: Project, facts: ZoneFacts) -> list[tuple[bool, Reckoned]]:
    """Inside doors without a ramp strip: (upper end, bound) at the end of the opening that asks for most."""
    strips = {o.name for o in project.openings if o.ramp_strip == "yes"}
    step = project.limits.step_without_ramp_strip
    out = []
    for room in facts.rooms:
        for door in room.doors:
            if not judged(room, door) or door.name in strips or door.meets_mm is None:
                continue
            ends = zip(door_levels(room, door, facts.tops), (door.line.a, door.line.b), strict=True)
            drops = [facts.drop(at) for (zone, _), at in ends if zone == facts.index]
            if drops:
                down = (door.meets_mm, -step, max(drops))
                up = (door.meets_mm, step, min(drops))
                out.append((False, _reckoned("step at door", door.name, _fell("door - step allowed", facts), down)))
                out.append((True, _reckoned("step at door", door.name, _fell("door + step allowed", facts), up)))
    return out


def _fell(formula: str, facts: ZoneFacts) -> str:
    return f"{formula} + fall to there" if facts.tops.falls[facts.index].per_m else formula


def _at(place: str) -> str:
    return place if place.startswith("near ") else f"at {place}"


def advised_bounds(project: Project, facts: ZoneFacts) -> tuple[Bound, ...]:
    """Upper ends that practice asks for and no rule of the file: below a sill outside, below the ceiling."""
    out = []
    for room in facts.rooms:
        for door in room.doors:
            if room.outside and door.meets_mm is not None:
                channel = channel_at(room, door, value("channel_at_door"))
                rule = grid_rule("outside_drop_channel" if channel else "outside_drop")
                at = ((door.line.a[0] + door.line.b[0]) / 2, (door.line.a[1] + door.line.b[1]) / 2)
                out.append(Bound(rule.says, door.meets_mm - rule.value + facts.drop(at), door.name, str(rule.source)))
    names = {r.name for r in facts.rooms}
    rule = grid_rule("headroom")
    ceilings = [r.ceiling.lowest for r in project.rooms if r.ceiling is not None and r.name in names]
    if ceilings and facts.legs and min(ceilings) >= rule.value:  # under a lower ceiling no height gives headroom
        base = min(leg.base_mm for leg in facts.legs)
        out.append(Bound(rule.says, base + min(ceilings) - rule.value, "lowest ceiling", str(rule.source)))
    return tuple(sorted(out, key=lambda b: (b.level_mm, b.rule, b.place)))


def make_window(
    project: Project, facts: ZoneFacts, low: Sequence[Reckoned], high: Sequence[Reckoned], datum: str
) -> Window:
    """The window with the level offered: the one asked for where every rule holds, else by doors, else the lowest."""
    asked = facts.tops.zones[facts.index].asked_mm
    least, most = low[0].bound.level_mm, high[0].bound.level_mm
    offered, why = offer_level(asked, least, most, _door_wishes(facts), datum)
    return Window(
        tuple(r.bound for r in low),
        tuple(r.bound for r in high),
        asked,
        offered,
        why,
        advised_bounds(project, facts),
    )


def _door_wishes(facts: ZoneFacts) -> list[float]:
    """Finished levels, at the start of the fall, that would meet each judged door without a step."""
    out = []
    for room in facts.rooms:
        for door in room.doors:
            if judged(room, door) and door.meets_mm is not None:
                for (zone, _), at in zip(door_levels(room, door, facts.tops), (door.line.a, door.line.b), strict=True):
                    if zone == facts.index:
                        out.append(door.meets_mm + facts.drop(at))
    return out


def offer_level(
    asked: float | None, least: float, most: float, wishes: Sequence[float], datum: str
) -> tuple[float | None, str]:
    """Smallest worst step: half way between the highest and the lowest door, whole mm, the lower of two; clipped.

    >>> offer_level(None, -20, 20, [0, 9], "TBM")[0], offer_level(0, 3, 4, [0], "TBM")[0]
    (4, 3)
    """
    if least > most:
        return None, "no finished level keeps every rule"
    if asked is not None and least - 1e-9 <= asked <= most + 1e-9:
        return asked, "as asked"
    bottom, top = math.ceil(least - 1e-9), math.floor(most + 1e-9)
    if bottom > top:
        return None, "no whole mm keeps every rule"
    if wishes:
        middle = math.ceil((max(wishes) + min(wishes)) / 2 - 0.5 - 1e-9)
        offered = min(max(middle, bottom), top)
        steps = max(abs(offered - w) for w in wishes)
        return offered, f"smallest worst step at the doors: {plain(steps)}"
    if asked is not None:
        offered = bottom if asked < least else top
        return offered, f"nearest to {level(asked, datum)} that keeps every rule"
    return bottom, "the lowest that keeps every rule"
