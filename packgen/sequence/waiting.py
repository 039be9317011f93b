"""What must be waited for after the pours, and until when. Numbers of the file go before published ones."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, Assumed, Given, Source, Worked
from packgen.heights.model import Heights
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.compare import drying_rates
from packgen.quantities.model import BayFill
from packgen.quantities.waiting_given import covered_given, drying_given
from packgen.sequence.date_lines import not_before_line, waited_line
from packgen.sequence.model import Pour, Waiting
from packgen.sequence.pours import fill_named
from packgen.trade.waiting import Event, drying_days, drying_rule, heating_days, joining_days, waiting_rule


@dataclass(frozen=True)
class Waits:
    """further: the lines of the dates, which no sheet prints"""

    rows: tuple[Waiting, ...]
    worked: tuple[Worked, ...]
    assumed: tuple[Assumed, ...]
    further: tuple[Worked, ...]


@dataclass
class _Rows:
    """Collects rows, the arithmetic of their dates, and what was assumed for them."""

    first: datetime.date  # the day that days are counted from
    rows: list[Waiting] = field(default_factory=list)
    dates: list[Worked] = field(default_factory=list)
    assumed: dict[str, Assumed] = field(default_factory=dict)

    def add(
        self, event: str, key: str, rule: str, start: tuple[datetime.date, str], wait: Given | Worked, pour: int
    ) -> None:
        """A row that waits from a date, said with the event it is the date of. wait: days, a figure or their line"""
        days = int(wait.value)
        date = start[0] + datetime.timedelta(days=days)
        source = str(wait.source or FILE)
        self.rows.append(Waiting(event, key, rule, start[0], days, date, source, pour))  # type: ignore[arg-type]
        self.dates.append(waited_line(event, self.first, start, date, wait))

    @property
    def last(self) -> tuple[datetime.date, str]:
        return self.rows[-1].date, self.rows[-1].event


def waits(project: Project, heights: Heights, pours: Sequence[Pour], bays: Sequence[BayFill]) -> Waits:
    """The waiting rows of all pours of mixed fill, then those of the whole job; empty for dry fill.

    The day of a pour is day 0. Concrete knows no holidays: every day counts.
    """
    wet = [p for p in pours if fill_named(project, p.fill).mixed]
    made = _Rows(project.calendar.start)
    for pour in wet:
        _after_pour(made, project, pour, last=pour is wet[-1])
    if wet and _heated(project):
        _heating(made, project, wet[-1])
    cooled = next((r for r in reversed(made.rows) if r.key == "cooled_down"), None)
    tests = _Rows(made.first, assumed=made.assumed)
    worked = _tests(tests, project, heights, wet, bays)
    for row, line in zip(tests.rows, tests.dates, strict=True):
        late = cooled is not None and row.pour == 0
        made.rows.append(_not_before_cooled(row, cooled) if cooled and late else row)
        made.dates.append(not_before_line(line, made.first, row, cooled) if cooled and late else line)
    return Waits(tuple(made.rows), tuple(worked), tuple(made.assumed.values()), tuple(made.dates))


def _heated(project: Project) -> bool:
    return project.heating is not None or any(s.heating for s in project.services)


def _days(made: _Rows, fill: Fill, own: int | None, event: Event, key: str, says: str) -> Given:
    """Days to wait as a figure: the fill's own, else the published ones of its family."""
    if own is not None:
        return given(fill, key.partition(": ")[2], f"{says}, {fill.kind}", own, "days")
    rule = waiting_rule(fill.family, event)
    made.assumed.setdefault(
        f"{key}/{fill.kind}", Assumed(f"{says}, {fill.kind}", plain(rule.days), "days", rule.source, key, "dates")
    )
    return Given(f"{says}, {fill.kind}", rule.days, "days", rule.source)


def _after_pour(made: _Rows, project: Project, pour: Pour, *, last: bool) -> None:
    fill, n = fill_named(project, pour.fill), pour.number
    walk = _days(made, fill, fill.walk_on_after, "walk_on", "fills: walk on after", "walked on after")
    cover = _days(made, fill, fill.keep_covered, "covered", "fills: keep covered", "kept covered")
    load = _days(made, fill, fill.load_after, "load", "fills: load after", "loaded after")
    start = (pour.date, f"pour {n}")
    if not last:
        join = joining_days()
        wait = Given("work goes on beside yesterday's rail after", join.days, "days", join.source)
        made.add(f"go on beside pour {n}", "next_pour", "from the next rail, next day", start, wait, n)
    made.add(f"walk on pour {n}", "walk_on", f"{fill.kind}: walk on", start, walk, n)
    made.add(f"take the cover off pour {n}", "covered_until", f"{fill.kind}: keep covered", start, cover, n)
    made.add(f"load pour {n}", "load", f"{fill.kind}: tools, ladders, material", start, load, n)


def _heating(made: _Rows, project: Project, pour: Pour) -> None:
    """First heating, counted from the last pour: not before, stages, done, cooled down."""
    heating, fill = project.heating, fill_named(project, pour.fill)
    if heating is not None and heating.heat_up_not_before is not None:
        wait = given(heating, "heat up not before", "first heating not before", heating.heat_up_not_before, "days")
    else:
        wait = _days(made, fill, None, "heat_up", "heating: heat up not before", "first heating not before")
    event = "first heating, first stage, not before"
    made.add(event, "heat_up_not_before", f"{fill.kind}: first heating", (pour.date, f"pour {pour.number}"), wait, 0)
    flow_1 = heating.first_stage.flow if heating and heating.first_stage else None
    flow_2 = heating.second_stage.flow if heating and heating.second_stage else None
    first = _stage(made, project, "first_stage")
    made.add("second stage", "second_stage", _held("first stage held", flow_1), made.last, first, 0)
    second = _stage(made, project, "second_stage")
    made.add("first heating over", "heating_done", _held("second stage held", flow_2), made.last, second, 0)
    if heating and heating.cool_down:
        cool = given(heating.cool_down, "days", "cooling down", heating.cool_down.days, "days")
        made.add("cooled down", "cooled_down", "cool down", made.last, cool, 0)


def _held(what: str, flow: float | None) -> str:
    return what if flow is None else f"{what} at a flow of {plain(flow)} °C"


def _stage(made: _Rows, project: Project, name: str) -> Given:
    """How long a stage is held: as the file says, else as is published."""
    heating, says = project.heating, f"{name.replace('_', ' ')} held"
    own = None if heating is None else heating.first_stage if name == "first_stage" else heating.second_stage
    if own is not None:
        return given(own, "days", says, own.days, "days")
    rule = heating_days("first_stage" if name == "first_stage" else "second_stage")
    key = f"heating: {name.replace('_', ' ')}"
    made.assumed.setdefault(key, Assumed(says, plain(rule.days), "days", rule.source, key, "dates"))
    return Given(says, rule.days, "days", rule.source)


# --------------------------------------------------------------------------------- the moisture test


def _tests(
    made: _Rows, project: Project, heights: Heights, pours: Sequence[Pour], bays: Sequence[BayFill]
) -> list[Worked]:
    """Test not before: every pour by its own greatest depth; a zone from its last pour by its greatest depth.

    A zone is covered and tested as one, so that its date counts for the job.
    """
    lines: list[Worked] = []
    depths = {name: d.most_mm for name, d in heights.bay_depths}
    for pour in pours:
        lines += _test(made, project, pour, _deepest(pour.bays, depths), f"pour {pour.number}", pour.number)
    for zone in heights.zones:
        mine = [p for p in pours if zone.name in p.zones]
        of_zone = [b.bay for b in bays if b.zone == zone.name]
        if mine and of_zone:
            name = "the floor" if len(heights.zones) == 1 else zone.name
            deepest = _deepest(of_zone, depths)
            lines += _test(made, project, mine[-1], deepest, name, 0, f"zone/{zone.name}")
    return lines


def _deepest(bays: Sequence[str], depths: Mapping[str, float]) -> tuple[str, float]:
    """The bay of the greatest depth, and that depth as it is printed."""
    bay = max(bays, key=lambda b: depths[b])
    return bay, half_up(depths[bay], 1)


def _test(
    made: _Rows, project: Project, pour: Pour, deepest: tuple[str, float], name: str, number: int, key: str = ""
) -> list[Worked]:
    """The row of one test, and the lines of its days; nothing where no rates are known."""
    fill, key = fill_named(project, pour.fill), key or f"pour/{pour.number}"
    rates = drying_rates(project, fill)
    if rates is None:
        return []
    source = _drying_source(made, fill)
    _days(made, fill, fill.keep_covered, "covered", "fills: keep covered", "kept covered")
    covered = covered_given(fill)
    days = int(covered.value)
    (bay, depth_mm), (first, first_rate, rest_rate) = deepest, rates
    drying = drying_days(depth_mm, *rates)
    depth = plain(depth_mm, 1)
    rate = plain(first_rate), plain(rest_rate)
    figures = drying_given(fill)
    if depth_mm > first:
        numbers = f"ceil({plain(first)} / {rate[0]} + ({depth} - {plain(first)}) / {rate[1]})"
        rest = plain(depth_mm - first, 1)
        says = f"covered {days}, then {plain(first)} at {rate[0]} and {rest} at {rate[1]} a day"
    else:
        numbers = f"ceil({depth} / {rate[0]})"
        says = f"covered {days}, then {depth} at {rate[0]} a day"
        figures = figures[1:2]
    formula = "first part / first rate + rest / rest rate, rounded up"
    dried = Worked(
        f"{key}/drying",
        f"drying of the greatest depth of {name}",
        formula,
        numbers,
        drying,
        0,
        "days",
        source,
        (f"bay/{bay}/greatest",),
        figures,
    )
    test = Worked(
        f"{key}/test",
        f"test of {name} not before, days after its {'last ' if number == 0 else ''}pour",
        "covered + drying",
        f"{days} + {drying}",
        days + drying,
        0,
        "days",
        source,
        (dried.key,),
        (covered,),
    )
    start = (pour.date, f"pour {pour.number}")
    made.add(f"test {name} not before", "test_not_before", says, start, test, number)
    return [dried, test]


def _drying_source(made: _Rows, fill: Fill) -> Source:
    if fill.drying is not None:
        return FILE
    rule = drying_rule(fill.family)
    if rule is None:
        return FILE
    value = f"{plain(rule.first_mm)} at {plain(rule.first_rate)}, rest at {plain(rule.rest_rate)}"
    made.assumed.setdefault(
        f"drying/{fill.kind}",
        Assumed(f"drying of {fill.kind}", value, "mm a day", rule.source, "fills: drying", "test not before"),
    )
    return rule.source


def _not_before_cooled(row: Waiting, cooled: Waiting) -> Waiting:
    """A floor is tested cold: not before the first heating has cooled down."""
    if row.date >= cooled.date:
        return row
    return replace(
        row,
        date=cooled.date,
        days=(cooled.date - row.counted_from).days,
        rule="after the first heating has cooled down",
    )
