"""What must be waited for after the pours, and until when. Numbers of the file go before published ones."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, Assumed, Source, Worked
from packgen.heights.model import Heights
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.compare import drying_rates
from packgen.quantities.model import BayFill
from packgen.sequence.model import Pour, Waiting
from packgen.sequence.pours import fill_named
from packgen.trade.waiting import Event, drying_days, drying_rule, heating_days, joining_days, waiting_rule


@dataclass(frozen=True)
class Waits:
    rows: tuple[Waiting, ...]
    worked: tuple[Worked, ...]
    assumed: tuple[Assumed, ...]


@dataclass(frozen=True, slots=True)
class _Days:
    days: int
    source: Source


def waits(project: Project, heights: Heights, pours: Sequence[Pour], bays: Sequence[BayFill]) -> Waits:
    """The waiting rows of all pours of mixed fill, then those of the whole job; empty for dry fill.

    The day of a pour is day 0. Concrete knows no holidays: every day counts.
    """
    wet = [p for p in pours if fill_named(project, p.fill).mixed]
    rows: list[Waiting] = []
    assumed: dict[str, Assumed] = {}
    for pour in wet:
        rows += _after_pour(project, pour, last=pour is wet[-1], assumed=assumed)
    worked: list[Worked] = []
    heated = _heated(project)
    if wet and heated:
        rows += _heating(project, wet[-1], assumed)
    tests, test_lines = _tests(project, heights, wet, bays, assumed)
    worked += test_lines
    cooled = max((r.date for r in rows if r.key == "cooled_down"), default=None)
    rows += [_not_before_cooled(t, cooled) for t in tests]
    return Waits(tuple(rows), tuple(worked), tuple(assumed.values()))


def _heated(project: Project) -> bool:
    return project.heating is not None or any(s.heating for s in project.services)


def _days(fill: Fill, given: int | None, event: Event, key: str, says: str, assumed: dict[str, Assumed]) -> _Days:
    if given is not None:
        return _Days(given, FILE)
    rule = waiting_rule(fill.family, event)
    assumed.setdefault(
        f"{key}/{fill.kind}", Assumed(f"{says}, {fill.kind}", plain(rule.days), "days", rule.source, key, "dates")
    )
    return _Days(rule.days, rule.source)


def _row(event: str, key: str, rule: str, start: datetime.date, wait: _Days, pour: int) -> Waiting:
    date = start + datetime.timedelta(days=wait.days)
    return Waiting(event, key, rule, start, wait.days, date, str(wait.source), pour)  # type: ignore[arg-type]


def _after_pour(project: Project, pour: Pour, *, last: bool, assumed: dict[str, Assumed]) -> list[Waiting]:
    fill, n = fill_named(project, pour.fill), pour.number
    walk = _days(fill, fill.walk_on_after, "walk_on", "fills: walk on after", "walked on after", assumed)
    cover = _days(fill, fill.keep_covered, "covered", "fills: keep covered", "kept covered", assumed)
    load = _days(fill, fill.load_after, "load", "fills: load after", "loaded after", assumed)
    rows = [
        _row(f"walk on pour {n}", "walk_on", f"{fill.kind}: walk on", pour.date, walk, n),
        _row(f"take the cover off pour {n}", "covered_until", f"{fill.kind}: keep covered", pour.date, cover, n),
        _row(f"load pour {n}", "load", f"{fill.kind}: tools, ladders, material", pour.date, load, n),
    ]
    if not last:
        join = joining_days()
        wait = _Days(join.days, join.source)
        rows.insert(0, _row(f"go on beside pour {n}", "next_pour", "from the next rail, next day", pour.date, wait, n))
    return rows


def _heating(project: Project, pour: Pour, assumed: dict[str, Assumed]) -> list[Waiting]:
    """First heating, counted from the last pour: not before, stages, done, cooled down."""
    heating, fill = project.heating, fill_named(project, pour.fill)
    given = heating.heat_up_not_before if heating else None
    start = _days(fill, given, "heat_up", "heating: heat up not before", "first heating not before", assumed)
    rows = [
        _row(
            "first heating, first stage, not before",
            "heat_up_not_before",
            f"{fill.kind}: first heating",
            pour.date,
            start,
            0,
        )
    ]

    def then(event: str, key: str, rule: str, wait: _Days) -> None:
        rows.append(_row(event, key, rule, rows[-1].date, wait, 0))

    first = _stage(heating.first_stage.days if heating and heating.first_stage else None, "first_stage", assumed)
    second = _stage(heating.second_stage.days if heating and heating.second_stage else None, "second_stage", assumed)
    flow_1 = heating.first_stage.flow if heating and heating.first_stage else None
    flow_2 = heating.second_stage.flow if heating and heating.second_stage else None
    then("second stage", "second_stage", _held("first stage held", flow_1), first)
    then("first heating over", "heating_done", _held("second stage held", flow_2), second)
    if heating and heating.cool_down:
        then("cooled down", "cooled_down", "cool down", _Days(heating.cool_down.days, FILE))
    return rows


def _held(what: str, flow: float | None) -> str:
    return what if flow is None else f"{what} at a flow of {plain(flow)} °C"


def _stage(given: int | None, name: str, assumed: dict[str, Assumed]) -> _Days:
    if given is not None:
        return _Days(given, FILE)
    rule = heating_days("first_stage" if name == "first_stage" else "second_stage")
    key = f"heating: {name.replace('_', ' ')}"
    assumed.setdefault(
        key, Assumed(f"{name.replace('_', ' ')} held", plain(rule.days), "days", rule.source, key, "dates")
    )
    return _Days(rule.days, rule.source)


# --------------------------------------------------------------------------------- the moisture test


def _tests(
    project: Project,
    heights: Heights,
    pours: Sequence[Pour],
    bays: Sequence[BayFill],
    assumed: dict[str, Assumed],
) -> tuple[list[Waiting], list[Worked]]:
    """Test not before: every pour by its own greatest depth; a zone from its last pour by its greatest depth.

    A zone is covered and tested as one, so that its date counts for the job.
    """
    rows: list[Waiting] = []
    lines: list[Worked] = []
    for pour in pours:
        made = _test(
            project, pour, pour.greatest_mm, f"pour {pour.number}", f"pour/{pour.number}", pour.number, assumed
        )
        if made is not None:
            rows.append(made[0])
            lines += made[1]
    depths = dict(heights.bay_depths)
    for zone in heights.zones:
        mine = [p for p in pours if zone.name in p.zones]
        of_zone = [depths[b.bay].most_mm for b in bays if b.zone == zone.name]
        if not mine or not of_zone:
            continue
        greatest = half_up(max(of_zone), 1)
        name = "the floor" if len(heights.zones) == 1 else zone.name
        made = _test(project, mine[-1], greatest, name, f"zone/{zone.name}", 0, assumed)
        if made is not None:
            rows.append(made[0])
            lines += made[1]
    return rows, lines


def _test(
    project: Project, pour: Pour, depth_mm: float, name: str, key: str, number: int, assumed: dict[str, Assumed]
) -> tuple[Waiting, list[Worked]] | None:
    fill = fill_named(project, pour.fill)
    rates = drying_rates(project, fill)
    if rates is None:
        return None
    source = _drying_source(fill, assumed)
    covered = _days(fill, fill.keep_covered, "covered", "fills: keep covered", "kept covered", assumed)
    first, first_rate, rest_rate = rates
    drying = drying_days(depth_mm, *rates)
    depth = plain(depth_mm, 1)
    rate = plain(first_rate), plain(rest_rate)
    if depth_mm > first:
        numbers = f"ceil({plain(first)} / {rate[0]} + ({depth} - {plain(first)}) / {rate[1]})"
        rest = plain(depth_mm - first, 1)
        says = f"covered {covered.days}, then {plain(first)} at {rate[0]} and {rest} at {rate[1]} a day"
    else:
        numbers = f"ceil({depth} / {rate[0]})"
        says = f"covered {covered.days}, then {depth} at {rate[0]} a day"
    formula = "first part / first rate + rest / rest rate, rounded up"
    lines = [
        Worked(f"{key}/drying", f"drying of the greatest depth of {name}", formula, numbers, drying, 0, "days", source),
        Worked(
            f"{key}/test",
            f"test of {name} not before, days after its {'last ' if number == 0 else ''}pour",
            "covered + drying",
            f"{covered.days} + {drying}",
            covered.days + drying,
            0,
            "days",
            source,
            (f"{key}/drying",),
        ),
    ]
    wait = _Days(covered.days + drying, source)
    return _row(f"test {name} not before", "test_not_before", says, pour.date, wait, number), lines


def _drying_source(fill: Fill, assumed: dict[str, Assumed]) -> Source:
    if fill.drying is not None:
        return FILE
    rule = drying_rule(fill.family)
    if rule is None:
        return FILE
    value = f"{plain(rule.first_mm)} at {plain(rule.first_rate)}, rest at {plain(rule.rest_rate)}"
    assumed.setdefault(
        f"drying/{fill.kind}",
        Assumed(f"drying of {fill.kind}", value, "mm a day", rule.source, "fills: drying", "test not before"),
    )
    return rule.source


def _not_before_cooled(row: Waiting, cooled: datetime.date | None) -> Waiting:
    """A floor is tested cold: not before the first heating has cooled down."""
    if cooled is None or row.pour != 0 or row.date >= cooled:
        return row
    return replace(
        row, date=cooled, days=(cooled - row.counted_from).days, rule="after the first heating has cooled down"
    )
