"""The window of finished levels: what every rule asks for, tightest first, and the level that is offered."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.figures import level, plain
from packgen.heights.bounds import Reckoned, ZoneFacts
from packgen.heights.doors import channel_at, door_levels, judged
from packgen.heights.model import Bound, Window
from packgen.project.model import Project
from packgen.trade.grid_rules import grid_rule, value


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
