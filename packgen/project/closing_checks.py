"""Faults of the level book as a whole: whether it closes within what is allowed, and what the allowance rests on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packgen.core.figures import listed, plain
from packgen.core.finding import Fault
from packgen.project.misclosure import allowed_misclosure, way_km
from packgen.project.room_model import Datum, Laser
from packgen.project.sights import error_per_m, taken, true_setups
from packgen.project.walk import figures_slip
from packgen.project.work_model import Levels, SetUp
from packgen.trade.survey import misclosure_rule


def closing(datum: Datum, levels: Levels, laser: Laser | None) -> Iterable[Fault]:
    """The levels close within the limit, by height of collimation.

    height of collimation = level of the point + reading on it; level = height of collimation - reading  [mm]
    """
    if levels.read_as != "staff readings" or list(rule_complete(levels)):
        return
    known = datum.known
    first = 0
    setups = true_setups(levels, laser)
    for n, (setup, typed) in enumerate(zip(setups, levels.setups, strict=True)):
        if setup.start_on.point not in known:
            return
        if n and (setups[n - 1].close_on or setup.start_on.point in datum.known):
            first = n
        line = known[setup.start_on.point] + setup.start_on.reading
        for r in setup.readings:
            known.setdefault(r.spot, line - r.value)
        for under in setup.upside_down:
            known.setdefault(under.point, line - under.reading)
        if setup.leave_on:
            known.setdefault(setup.leave_on.point, line - setup.leave_on.reading)
        if setup.close_on and typed.close_on and setup.close_on.point in known:
            miss = line - setup.close_on.reading - known[setup.close_on.point]
            allowed, rule = allowed_misclosure(levels, setups[first : n + 1])
            if abs(miss) > allowed:
                way = "high" if miss > 0 else "low"
                by = f" by the rule '{levels.misclosure_rule}'" if rule.known != "file" else ""
                says = (
                    f"the readings close {plain(abs(miss))} too {way} (misclosure) and at most "
                    f"{plain(allowed)} is allowed{by}: level again"
                )
                slips = _slips(levels, typed, miss, allowed)
                if len(slips) == 1:
                    says += f"; they would close with {slips[0]}"
                yield Fault(typed.close_on.marks.of("reading"), "misclosure", says)


def _slips(levels: Levels, last: SetUp, miss: float, allowed: float) -> list[str]:
    """Readings on the way round that a slip of the pen may have spoilt, each with the figure that would close."""
    found = []
    for setup in levels.setups[: levels.setups.index(last) + 1]:
        sights = [(setup.start_on, -1), (setup.leave_on if setup is not last else None, 1), (setup.close_on, 1)]
        for sight, sign in sights:
            if sight is None:
                continue
            meant = sight.reading + (-sign if sight.staff == "upside down" else sign) * miss
            if figures_slip(sight.reading, meant, allowed):
                found.append(f"{plain(meant)} on '{sight.point}' in {setup.name}")
    return found


def rule_complete(levels: Levels) -> Iterable[Fault]:
    """A rule by the levelled way needs the way."""
    if not levels.misclosure_rule or misclosure_rule(levels.misclosure_rule).by != "km":
        return
    if way_km(levels, levels.setups) <= 0:
        says = (
            f"misclosure rule: '{levels.misclosure_rule}' goes by the length of the levelled way: add "
            "'levelled way: 120 m', or a distance to every backsight and foresight"
        )
        yield Fault(levels.marks.of("misclosure rule"), "way-missing", says, "levelled way: 120 m")


def distances(levels: Levels, laser: Laser | None) -> Iterable[Fault]:
    """A line that is not level is put right in a set-up for all its sights or for none; and the test can be worked."""
    test = laser.two_peg_test if laser else None
    if test is None:
        return
    if test.end_to_a == test.end_to_b:
        says = "two-peg test: the two distances of the second reading are equal, so the test shows nothing"
        yield Fault(test.marks.of("end to B"), "pegs-equal", says)
        return
    if not error_per_m(laser) or levels.read_as != "staff readings":
        return
    for setup in levels.setups:
        sights = list(taken(levels, setup))
        lacking = list(dict.fromkeys(t.point for t in sights if t.distance_m is None))
        if not lacking or len(lacking) == len({t.point for t in sights}):
            continue
        says = (
            f"{setup.name}: the laser line is not level, and the distance to {_told(lacking)} is missing: give "
            "'distance' to each sight and 'stands at', or none of them"
        )
        yield Fault(setup.marks.start, "distance-missing", says)


def _told(points: Sequence[str]) -> str:
    return listed(list(points), "and", 4)
