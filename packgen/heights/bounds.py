"""What every rule asks of the finished level, each with the sum that gives it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packgen.core.figures import KILONEWTON_PER_KG, half_up, plain
from packgen.core.place import Place
from packgen.core.plane import Point
from packgen.core.surface import Depths
from packgen.core.worked import FILE, Given, Source
from packgen.heights.build_up import layers_mass
from packgen.heights.cover import ZoneCover
from packgen.heights.doors import door_levels, judged
from packgen.heights.kit_range import KitRange
from packgen.heights.legs import Leg
from packgen.heights.model import Bound, DepthRule, RailOverService
from packgen.heights.place_lines import base_key
from packgen.heights.reckon import Term, term
from packgen.heights.top import Tops
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.project.work_model import Fill, Heating, Kit, Zone
from packgen.survey.model import RoomOutline
from packgen.trade.amounts import amount, amount_rule
from packgen.trade.grid_rules import grid_rule

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
    kit: Kit
    heating: Heating | None
    allowed: Place | None  # where the file gives the extra load

    @property
    def finished_mm(self) -> float:
        return self.tops.zones[self.index].finished_mm

    @property
    def finish_mm(self) -> float:
        return self.tops.zones[self.index].build_up.finish_mm

    def drop(self, at: Point) -> float:
        return self.tops.falls[self.index].drop(at)


Origin = str | Given  # the key of a worked line, or a figure of its own
Terms = tuple[tuple[float, Origin], ...]


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A bound with the sum that gives it, in words and in figures, and where each term comes from."""

    bound: Bound
    formula: str
    terms: tuple[Term, ...]
    needs: tuple[str, ...] = ()
    given: tuple[Given, ...] = ()


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


def _reckoned(
    rule: str, place: str, formula: str, terms: Sequence[tuple[float, Origin]], source: str = FROM_FILE
) -> Reckoned:
    """terms: figure and origin; figures of nothing are not printed, but for the first."""
    kept = [(t, origin) for i, (t, origin) in enumerate(terms) if i == 0 or t != 0]
    return Reckoned(
        Bound(rule, sum(t for t, _ in terms), place, source),
        formula,
        tuple(term(t) for t, _ in kept),
        tuple(o for _, o in kept if isinstance(o, str)),
        tuple(o for _, o in kept if isinstance(o, Given)),
    )


def _finished(facts: ZoneFacts) -> Origin:
    file, name = facts.zone.finished_level, facts.zone.zone
    if file.level is None or abs(file.level - facts.finished_mm) > 1e-9:
        return f"zone/{name}/finished"
    return given(file, "level", f"finished level of {name}", abs(file.level))


def _finish(facts: ZoneFacts) -> tuple[float, Origin]:
    return facts.finish_mm, f"zone/{facts.zone.zone}/finish"


def _dropped(facts: ZoneFacts, drop_mm: float) -> tuple[float, Origin]:
    source = Source("fall in a metre x distance from where it starts", known="calculated")
    says = f"fall of {facts.zone.zone} to there"
    return drop_mm, Given(says, half_up(abs(drop_mm), 3), "mm", source, place_of(facts.zone, "fall"))


def _low_bounds(facts: ZoneFacts, kit: KitRange) -> list[Reckoned]:
    out = []
    if facts.legs:
        leg = max(facts.legs, key=lambda g: (g.base_mm + facts.drop(g.stand.node.at), g.stand.node.id))
        feet: Terms = (
            (float(leg.base_mm), f"node/{leg.stand.node.id}/base"),
            (kit.shortest, given(facts.kit.shortest_leg, "shortest", "shortest leg", kit.shortest)),
            _finish(facts),
            _dropped(facts, facts.drop(leg.stand.node.at)),
        )
        out.append(_reckoned("shortest leg", leg.stand.node.id, _fell("base + shortest leg + finish", facts), feet))
    depth = facts.depth
    base = facts.tops.rail_top(facts.index, depth.least_at) - depth.least_mm
    terms: Terms = (
        (base, base_key(depth.least_at)),
        (facts.rule.least_mm, least_given(facts.rule, facts.fill)),
        _finish(facts),
        _dropped(facts, facts.drop(depth.least_at)),
    )
    formula = _fell("base + least depth + finish", facts)
    out.append(_reckoned("least depth", facts.near(depth.least_at), formula, terms, facts.rule.source))
    for c in facts.covers:
        if c.needed_mm is not None:
            pipe = facts.tops.rail_top(facts.index, c.at) - c.cover_mm
            over: Terms = (
                (pipe, f"pipe/{c.service}/{plain(c.at[0], 3)}/{plain(c.at[1], 3)}"),
                (c.needed_mm, cover_given(facts.heating, c.needed_mm, facts.rule)),
                _finish(facts),
                _dropped(facts, facts.drop(c.at)),
            )
            formula = _fell("top of the pipe + cover + finish", facts)
            out.append(_reckoned("pipe cover", f"{c.service} {_at(facts.near(c.at))}", formula, over))
    for service in dict.fromkeys(c.service for c in facts.crossings):
        tight = next(c for c in facts.crossings if c.service == service)
        base = facts.tops.rail_top(facts.index, tight.at) - tight.depth_mm
        under: Terms = (
            (base, base_key(tight.at)),
            (tight.needed_mm, f"under rail/{service}"),
            _finish(facts),
            _dropped(facts, facts.drop(tight.at)),
        )
        formula = _fell("base + pipe, support, rail and room + finish", facts)
        locally = facts.kit.raise_rail_locally
        if locally and facts.fill.board_on_top is not None:
            says = "what a rail may be raised by locally"
            under = (*under, (-locally, given(facts.kit, "raise rail locally", says, locally)))
            formula = f"{formula} - what a rail may be raised by"
        source = str(grid_rule("over_service").source)
        out.append(_reckoned("rail over service", f"{service} under {tight.rail}", formula, under, source))
    return out


def _high_bounds(facts: ZoneFacts, kit: KitRange) -> list[Reckoned]:
    out = []
    if facts.legs:
        leg = min(facts.legs, key=lambda g: (g.base_mm + facts.drop(g.stand.node.at), g.stand.node.id))
        feet: Terms = (
            (float(leg.base_mm), f"node/{leg.stand.node.id}/base"),
            (kit.longest, longest_given(facts.kit, kit)),
            _finish(facts),
            _dropped(facts, facts.drop(leg.stand.node.at)),
        )
        out.append(_reckoned("longest leg", leg.stand.node.id, _fell("base + longest leg + finish", facts), feet))
    depth = facts.depth
    base = facts.tops.rail_top(facts.index, depth.most_at) - depth.most_mm
    terms: Terms = (
        (base, base_key(depth.most_at)),
        (facts.rule.most_mm, given(facts.fill.thickness, "most", "greatest depth of the fill", facts.rule.most_mm)),
        _finish(facts),
        _dropped(facts, facts.drop(depth.most_at)),
    )
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
    name = facts.zone.zone
    weighs = Source("allowed load / standard gravity, less kit and layers, / density of the fill", known="calculated")
    mean = Source("volume of the fill / its area", known="calculated")
    reached = Given(f"mean depth at which the {rule} is reached", half_up(abs(mean_mm), 3), "mm", weighs, facts.allowed)
    terms: Terms = (
        (facts.finished_mm, _finished(facts)),
        (mean_mm, reached),
        (-facts.depth.mean_mm, Given(f"mean depth of {name}", half_up(abs(facts.depth.mean_mm), 3), "mm", mean)),
    )
    return _reckoned(rule, "mean depth", formula, terms, source)


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
                meets = (door.meets_mm, f"door/{door.name}/meets")
                limit = given(project.limits, "step without ramp strip", "step allowed without a ramp strip", step)
                down: Terms = (meets, (-step, limit), _dropped(facts, max(drops)))
                up: Terms = (meets, (step, limit), _dropped(facts, min(drops)))
                out.append((False, _reckoned("step at door", door.name, _fell("door - step allowed", facts), down)))
                out.append((True, _reckoned("step at door", door.name, _fell("door + step allowed", facts), up)))
    return out


def _fell(formula: str, facts: ZoneFacts) -> str:
    return f"{formula} + fall to there" if facts.tops.falls[facts.index].per_m else formula


def _at(place: str) -> str:
    return place if place.startswith("near ") else f"at {place}"


def least_given(rule: DepthRule, fill: Fill) -> Given:
    """The least depth as a figure: the file's, or the published rule's where that asks for more."""
    if rule.source == FROM_FILE:
        return given(fill.thickness, "least", "least depth of the fill", rule.least_mm)
    return Given("least depth of the fill", rule.least_mm, "mm", rule.published or FILE)


def cover_given(heating: Heating | None, needed_mm: float, rule: DepthRule) -> Given:
    """The cover asked for over a heating pipe: the file's, else the rule set's."""
    if heating is not None and heating.least_cover_over_pipe is not None:
        return given(heating, "least cover over pipe", "least cover over the pipe", needed_mm)
    return Given("least cover over the pipe", needed_mm, "mm", rule.cover or FILE)


def longest_given(kit: Kit, found: KitRange) -> Given:
    """The longest leg that can be set."""
    own = kit.longest_leg
    if found.longest == own.longest:
        return given(own, "longest", "longest leg", found.longest)
    source = Source("longest leg, all extensions and the thickest packing added", known="calculated")
    return Given("longest leg with all its parts", found.longest, "mm", source, place_of(own, "longest"))
