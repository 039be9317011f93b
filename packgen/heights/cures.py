"""What makes a finished level fit that breaks a rule, and how much work each way would be."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from packgen.core.figures import half_up, level, listed, plain, round_up
from packgen.core.limits import Beyond, beyond
from packgen.core.plane import Polygon
from packgen.core.surface import Surface
from packgen.heights.bounds import ZoneFacts
from packgen.heights.kit_range import KitRange
from packgen.heights.legs import Leg
from packgen.heights.model import Cure, Window
from packgen.project.model import Project
from packgen.trade.cures import rate
from packgen.trade.grid_rules import value

HOLDS = 1e-6  # mm by which a rule may seem broken and holds


def find_cures(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> tuple[Cure, ...]:
    """Every way out for each rule that the level broke which the plan is made with, the least work first.

    floor: the fill's outline in the zone. Ways whose work nobody can foresee (another fill, another pipe) come last.
    """
    at = facts.finished_mm
    broken = {b.rule for b in window.at_least if b.level_mm > at + HOLDS}
    broken |= {b.rule for b in window.at_most if b.level_mm < at - HOLDS}
    if not broken:
        return ()
    made = [*_levels(project, facts, window), *_thinner_finish(facts, window)]
    made += [cure for rule in sorted(broken) for cure in RULES[rule](project, facts, window, base, floor, kit)]
    return tuple(sorted(made, key=lambda c: (c.hours is None, c.hours or 0.0, c.rule, c.says)))


def _levels(project: Project, facts: ZoneFacts, window: Window) -> Iterator[Cure]:
    """The level that is offered instead of the one asked for, with the change it makes to the fill."""
    if window.offered_mm is None or abs(window.offered_mm - facts.finished_mm) <= HOLDS:
        return
    by = window.offered_mm - facts.finished_mm
    litres = by * facts.depth.area_mm2 / 1e6
    more = "more" if by > 0 else "less"
    turn = "higher" if by > 0 else "lower"
    says = (
        f"finished level {level(window.offered_mm, project.datum.name)}, {plain(abs(by))} {turn} "
        f"({window.why_offered}): {plain(abs(litres), 0)} litres {more} fill, other steps at the doors"
    )
    yield Cure("every rule", says, rate("level_steps"), None, None, None)


def _thinner_finish(facts: ZoneFacts, window: Window) -> Iterator[Cure]:
    """Layers above the rail made thinner: what stands below them rises, the finished level stays."""
    short = round_up(window.low_mm - facts.finished_mm)
    doors = {"step at door"}
    if short <= 0 or window.at_least[0].rule in doors or short >= facts.finish_mm:
        return
    moved = [b.level_mm - short for b in window.at_most if b.rule in ("longest leg", "most depth")]
    if all(m >= facts.finished_mm - HOLDS for m in moved):
        thick = plain(facts.finish_mm - short)
        says = f"layers above the rail {plain(short)} thinner: {thick} instead of {plain(facts.finish_mm)} in all"
        yield Cure("every lower end", says, None, None, None, None)


def _short_legs(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    short = [(g, kit.shortest - g.leg_mm) for g in facts.legs if g.leg_mm < kit.shortest]
    if not short:
        return
    around = facts.kit.foot.diameter / 2 + rate("round_foot")
    each = math.pi * around**2
    litres = sum(by for _, by in short) * each / 1e6
    yield _taken_off(
        project, "shortest leg", f"under {_feet(short)}", len(short) * each, litres, max(by for _, by in short)
    )


def _thin(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    found = beyond(facts.tops.surface, base, floor, facts.rule.least_mm, "under")
    if found is not None:
        where = f"where the fill is too thin, deepest {_where(facts, found)}"
        yield _taken_off(project, "least depth", where, found.area_mm2, found.volume_l, found.most_mm)


def _taken_off(project: Project, rule: str, where: str, area_mm2: float, litres: float, deepest_mm: float) -> Cure:
    board = project.base.timber
    hours = rate("grind_start") + litres * rate("plane_board" if board else "grind")
    verb = "plane the boards" if board else "grind the base"
    deep = round_up(deepest_mm)
    says = f"{verb} {where}: {plain(deep)} at the most"
    return Cure(rule, says, half_up(hours, 1), half_up(area_mm2 / 1e6, 2), deep, round_up(litres, 1))


def _long_legs(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    long = [(g, g.leg_mm - kit.longest) for g in facts.legs if g.leg_mm > kit.longest]
    if not long:
        return
    most = max(by for _, by in long)
    feet = _feet(long)
    if not facts.kit.extensions:
        reach = f"extensions that add {plain(round_up(most + value('in_hand')))} or more, for {feet}"
        yield Cure("longest leg", reach, half_up(len(long) * rate("extension"), 1), None, None, None)
    if facts.kit.packing is None and most <= value("packing_most"):
        thick = plain(max(round_up(most), value("packing_least")))
        plates = f"hard packing of up to {thick}, foot-sized and glued, under {feet}"
        yield Cure("longest leg", plates, half_up(len(long) * rate("packing"), 1), None, None, None)
    found = beyond(facts.tops.surface, base, floor, kit.longest, "over")
    if found is not None:
        yield _filled_up("longest leg", facts, found)


def _thick(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    found = beyond(facts.tops.surface, base, floor, facts.rule.most_mm, "over")
    if found is not None:
        yield _filled_up("most depth", facts, found)


def _filled_up(rule: str, facts: ZoneFacts, found: Beyond) -> Cure:
    hours = rate("fill_start") + found.volume_l * rate("fill")
    says = f"fill the low spot first, deepest {_where(facts, found)}, with the filler's own waiting time"
    return Cure(
        rule,
        says,
        half_up(hours, 1),
        half_up(found.area_mm2 / 1e6, 2),
        round_up(found.most_mm),
        round_up(found.volume_l, 1),
    )


def _cover(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    for c in facts.covers:
        if c.needed_mm is not None and c.cover_mm < c.needed_mm - HOLDS:
            by = plain(round_up(c.needed_mm - c.cover_mm))
            says = f"{c.service} {by} lower at {facts.near(c.at)}: a lower support, a thinner pipe, or the base chased"
            yield Cure("pipe cover", says, None, None, None, None)


def _over_service(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    tight = [c for c in facts.crossings if c.free_mm < -HOLDS]
    if tight:
        places = listed(tuple(sorted({f"{c.rail} over {c.service}" for c in tight})), most=4)
        says = f"interrupt the rail at {_many(len(tight), 'crossing')}, with a leg each side: {places}"
        yield Cure("rail over service", says, half_up(len(tight) * rate("interrupt"), 1), None, None, None)


def _heavy(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    rule = next(b.rule for b in window.at_most if b.rule in ("dry weight", "load while working"))
    over = next(b for b in window.at_most if b.rule == rule)
    mean = facts.depth.mean_mm - (facts.finished_mm - over.level_mm)
    if mean > 0:
        part = plain(mean / facts.depth.mean_mm * 100, 0)
        says = f"a fill with not more than {part} % of this one's density, or a mean depth of {plain(mean, 1)}"
    else:
        says = "another floor altogether: the layers above the rail and the kit alone weigh too much"
    yield Cure(rule, says, None, None, None, None)


def _door(
    project: Project, facts: ZoneFacts, window: Window, base: Surface, floor: Sequence[Polygon], kit: KitRange
) -> Iterator[Cure]:
    ends = [*(b for b in window.at_least if b.level_mm > facts.finished_mm + HOLDS)]
    ends += [b for b in window.at_most if b.level_mm < facts.finished_mm - HOLDS]
    doors = tuple(dict.fromkeys(b.place for b in ends if b.rule == "step at door"))
    says = f"a ramp strip at the {listed(doors)} (ramp strip: yes)"
    yield Cure("step at door", says, half_up(len(doors) * rate("ramp_strip"), 1), None, None, None)


Way = Callable[[Project, ZoneFacts, Window, Surface, Sequence[Polygon], KitRange], Iterator[Cure]]
RULES: dict[str, Way] = {
    "shortest leg": _short_legs,
    "least depth": _thin,
    "longest leg": _long_legs,
    "most depth": _thick,
    "pipe cover": _cover,
    "rail over service": _over_service,
    "dry weight": _heavy,
    "load while working": _heavy,
    "step at door": _door,
}


def _feet(legs: Sequence[tuple[Leg, float]]) -> str:
    worst = sorted(legs, key=lambda p: (-p[1], p[0].stand.node.id))
    return f"{_many(len(legs), 'foot', 'feet')} ({listed(tuple(g.stand.node.id for g, _ in worst), most=5)})"


def _where(facts: ZoneFacts, found: Beyond) -> str:
    place = facts.near(found.at)
    return place if place.startswith("near ") else f"at {place}"


def _many(n: int, one: str, more: str = "") -> str:
    return f"{n} {one if n == 1 else more or f'{one}s'}"
