"""Which spots and legs of a plan are asked: misfits and extended legs first, the rest by chance, set-up by set-up."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

from packgen.core.figures import half_up
from packgen.core.plane import contains
from packgen.exercise.model import CaseLeg, CaseSetUp, CaseSpot
from packgen.exercise.ways_height import parts_by_rule
from packgen.heights.kit_range import kit_range
from packgen.heights.model import LegSetting, ZoneTop
from packgen.plan import Plan
from packgen.survey.model import LevelPoint
from packgen.trade.grid_rules import value

SPECIAL = {"does not fit": 0, "extension": 1, "packing": 2, "plain": 3}
MOST_ALIKE = 2


def pick_legs(
    plan: Plan, zone: ZoneTop, setups: Sequence[CaseSetUp], count: int, chance: random.Random
) -> tuple[CaseLeg, ...]:
    """Legs in walking order. Those at a spot read once come first; where there are too few, their base is given.

    A leg so near an end of a range that the plan takes other parts than the rule on the sheet gives is not asked.
    """
    spots = {n.id: n.at for n in plan.layout.nodes}
    read = _once(plan, zone)
    kit = kit_range(plan.project.kit)
    in_zone = [
        leg for leg in plan.heights.legs if leg.zone == zone.name and parts_by_rule(leg.leg_mm, kit).parts == leg.parts
    ]
    at_spot: list[tuple[LegSetting, LevelPoint]] = []
    given: list[LegSetting] = []
    for leg in in_zone:
        point = next((p for p in read if math.dist((p.x_mm, p.y_mm), spots[leg.node]) <= value("same_spot")), None)
        if point is not None and leg.known == "read":
            at_spot.append((leg, point))
        else:
            given.append(leg)
    names = [s.name for s in setups]
    chosen: list[tuple[LegSetting, LevelPoint | None]] = list(_chosen(at_spot, names, count, chance))
    taken = {leg.node for leg, _ in chosen}
    spare = sorted((g for g in given if g.node not in taken), key=lambda g: SPECIAL[g.parts])
    chosen += [(leg, None) for leg in spare[: max(0, count - len(chosen))]]
    order = {leg.node: i for i, leg in enumerate(in_zone)}
    return tuple(
        CaseLeg(leg.node, point.id if point and setups else "", leg.base_mm, down_m(zone, spots[leg.node]))
        for leg, point in sorted(chosen, key=lambda c: order[c[0].node])
    )


def _chosen(
    at_spot: Sequence[tuple[LegSetting, LevelPoint]], setups: Sequence[str], count: int, chance: random.Random
) -> list[tuple[LegSetting, LevelPoint]]:
    special: list[tuple[LegSetting, LevelPoint]] = []
    for parts in ("does not fit", "extension", "packing"):
        special += [c for c in at_spot if c[0].parts == parts][:MOST_ALIKE]
    for extreme in (min, max):
        if at_spot:
            special.append(extreme(at_spot, key=lambda c: c[0].leg_mm))
    special = list({c[0].node: c for c in special}.values())[:count]
    taken = {leg.node for leg, _ in special}
    queues = {name: [c for c in at_spot if c[1].seen[0][0] == name and c[0].node not in taken] for name in setups}
    queues = queues or {"": [c for c in at_spot if c[0].node not in taken]}
    for queue in queues.values():
        chance.shuffle(queue)
    held = {name: sum(point.seen[0][0] == name for _, point in special) for name in queues}
    while len(special) < count and any(queues.values()):
        name = min((n for n in queues if queues[n]), key=lambda n: (held[n], list(queues).index(n)))
        special.append(queues[name].pop(0))
        held[name] += 1
    return special


def pick_spots(
    plan: Plan,
    zone: ZoneTop,
    setups: Sequence[CaseSetUp],
    legs: Sequence[CaseLeg],
    count: int,
    chance: random.Random,
) -> tuple[CaseSpot, ...]:
    """Spots whose level is asked: those under the legs, then others read once, in reading order."""
    if not setups:
        return ()
    read = _once(plan, zone)
    wanted = {leg.spot for leg in legs if leg.spot}
    rest = [p for p in read if p.id not in wanted]
    chance.shuffle(rest)
    held = {s.name: sum(p.seen[0][0] == s.name for p in read if p.id in wanted) for s in setups}
    while len(wanted) < count and rest:
        point = min(rest, key=lambda p: held[p.seen[0][0]])
        rest.remove(point)
        wanted.add(point.id)
        held[point.seen[0][0]] += 1
    return tuple(CaseSpot(p.id, p.seen[0][0], p.seen[0][1]) for p in read if p.id in wanted)


def _once(plan: Plan, zone: ZoneTop) -> list[LevelPoint]:
    """Spots of a zone read from one set-up only, at whole mm: their level has one way."""
    return [
        p
        for p in plan.survey.levels.points
        if len(p.seen) == 1
        and float(p.seen[0][1]).is_integer()
        and any(contains(part, (p.x_mm, p.y_mm), 1.0) for part in zone.region)
    ]


def down_m(zone: ZoneTop, at: tuple[float, float]) -> float:
    """How far a place lies down the fall from where it starts, metres to 1 mm; 0 in a level zone."""
    if not zone.fall_per_m:
        return 0.0
    return half_up(zone.down(at) / 1000, 3)
