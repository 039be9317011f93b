"""The pours, one a day: turns with their times, bags, batches, water, stop lines, the way out."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from packgen.core.figures import half_up, round_up
from packgen.core.plane import Point, Segment
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.fill import order_litres
from packgen.quantities.model import BayFill
from packgen.sequence.calendar import night_rule, nights_of
from packgen.sequence.days import earlier_ends
from packgen.sequence.fronts import Fronts
from packgen.sequence.model import Batch, Pour, StopLine, Turn
from packgen.sequence.order_bays import BayOrder
from packgen.sequence.pace import Crew, Pace
from packgen.sequence.stop_lines import stop_line
from packgen.sequence.ways_out import Ground
from packgen.trade.amounts import amount


@dataclass(frozen=True)
class Job:
    """All that the pours are made from."""

    project: Project
    layout: Layout
    heights: Heights
    ground: Ground
    found: BayOrder
    rows: tuple[BayFill, ...]  # in layout order
    fronts: Fronts
    crew: Crew
    paces: Mapping[str, Pace]
    batches: Mapping[str, Batch | None]
    close: frozenset[int]


def make_pours(job: Job, ends: Sequence[int], dates: Sequence[datetime.date]) -> tuple[Pour, ...]:
    """A pour for each day that ends after so many bays of the order."""
    shared = _shared(job)
    starts = [0, *ends[:-1]]
    return tuple(
        _pour(job, shared, number, date, a, b)
        for number, (date, a, b) in enumerate(zip(dates, starts, ends, strict=True), 1)
    )


@dataclass(frozen=True)
class _Shared:
    """What all pours look up, by bay: greatest depth by name, place in the order, edges to others, way out by names."""

    most_mm: Mapping[str, float]
    place: Mapping[int, int]
    edges: Mapping[int, list[tuple[int, Segment]]]
    ways: Mapping[int, tuple[str, ...]]

    def open_edges(self, order: Sequence[int], first: int, end: int) -> list[Segment]:
        """Edges between the bays at places first ... end - 1 and those filled later."""
        return [s for bay in order[first:end] for other, s in self.edges.get(bay, ()) if self.place[other] >= end]


def _shared(job: Job) -> _Shared:
    edges: dict[int, list[tuple[int, Segment]]] = {}
    for link in job.ground.links:
        edges.setdefault(link.first, []).append((link.second, link.edge))
        edges.setdefault(link.second, []).append((link.first, link.edge))
    ways: dict[int, tuple[str, ...]] = {}
    for bay in reversed(job.found.order):
        following = job.found.next_open[bay]
        ways[bay] = () if following is None else (job.rows[following].bay, *ways[following])
    most = {name: d.most_mm for name, d in job.heights.bay_depths}
    return _Shared(most, {bay: k for k, bay in enumerate(job.found.order)}, edges, ways)


def fill_named(project: Project, name: str) -> Fill:
    return dict(project.fills.described).get(name, project.fills.used)


def unit_of(fill: Fill) -> str:
    """What the fill comes in."""
    return "packs" if fill.family == "wool" else "bags"


def bags_for(litres: float, fill: Fill) -> int:
    """Whole bags for litres in place, rounded up once: ceil(litres x (1 + settles) x (1 + waste) / litres per bag).

    Source: the bag's own yield; bags are rounded up once a pour.
    """
    return int(round_up(order_litres(litres, fill) / fill.bag.makes))


def _pour(job: Job, shared: _Shared, number: int, date: datetime.date, first: int, end: int) -> Pour:
    bays = job.found.order[first:end]
    rows = [job.rows[i] for i in bays]
    fill_name = rows[0].fill
    fill, pace, batch = fill_named(job.project, fill_name), job.paces[fill_name], job.batches[fill_name]
    litres = int(sum(r.volume_l for r in rows))
    area = sum(r.area_m2 for r in rows)
    bags = bags_for(litres, fill)
    per_batch = batch.bags if batch else 0
    batches = int(round_up(bags / per_batch)) if per_batch else 0
    last = bags - (batches - 1) * per_batch if batches else 0
    start = amount("start")
    begins = start + pace.setting_up_h / 2
    turns = _turns(job, shared, bays, first, begins, pace)
    rule = night_rule(fill)
    exit_index = job.found.leaves_by[bays[-1]]
    used = np.cumsum([r.volume_l for r in rows])
    early = earlier_ends(
        np.array([r.volume_l for r in rows]), job.fronts.of_day(first, end), amount("stop_early"), amount("stop_late")
    )
    stops = tuple(_stop(job, shared, first, first + k, bags_for(float(used[k - 1]), fill)) for k in early)
    return Pour(
        number=number,
        date=date,
        turns=turns,
        volume_l=litres,
        bags=bags,
        batches=batches,
        bags_per_batch=per_batch,
        last_batch_bags=last,
        water_l=_water(fill, bags),
        water_per_batch_l=_water(fill, per_batch) if per_batch else None,
        last_batch_water_l=_water(fill, last) if last else None,
        persons=job.crew.persons,
        starts_at=start,
        ends_at=turns[-1].ends_at,
        greatest_mm=half_up(max(shared.most_mm[r.bay] for r in rows), 1),
        nights=nights_of(job.project.calendar, rule, date),
        stop_line=_stop(job, shared, first, end, bags) if end < len(job.found.order) else None,
        earlier_stops=stops,
        leave_by=job.ground.exits[exit_index].name if exit_index is not None else "",
        arrow=_arrow(job, shared, bays[-1], exit_index),
        fill=fill_name,
        to_order_l=half_up(order_litres(litres, fill), 1),
        bags_mass_kg=half_up(bags * fill.bag.mass, 1),
        placing=pace.persons,
        hours=half_up(pace.needed_h(litres, area), 2),
        hours_free=half_up(pace.hours, 2),
        work_ends_at=start + job.crew.hours,
        pace=pace.slowest(litres, area),
        zones=tuple(dict.fromkeys(r.zone for r in rows)),
        rain=date in job.project.calendar.rain_expected,
        night_limit_c=rule.least_celsius if rule else None,
    )


def _turns(job: Job, shared: _Shared, bays: Sequence[int], first: int, begins: float, pace: Pace) -> tuple[Turn, ...]:
    reach = set(job.found.by_reach)
    litres = area = 0.0
    out = []
    for k, bay in enumerate(bays):
        row = job.rows[bay]
        litres, area = litres + row.volume_l, area + row.area_m2
        out.append(
            Turn(
                order=first + k + 1,
                bay=row.bay,
                area_m2=row.area_m2,
                mean_depth_mm=row.mean_depth_mm,
                volume_l=row.volume_l,
                cumulative_l=litres,
                ends_at=begins + pace.needed_h(litres, area),
                close_edge=bay in job.close,
                way_out=shared.ways[bay],
                by_reach=bay in reach,
            )
        )
    return tuple(out)


def way_out(found: BayOrder, bay: int) -> list[int]:
    """The bays on the way from a bay to its exit, the bay itself left out."""
    path = []
    at = found.next_open[bay]
    while at is not None:
        path.append(at)
        at = found.next_open[at]
    return path


def _water(fill: Fill, bags: int) -> tuple[float, float] | None:
    if fill.water is None:
        return None
    return half_up(bags * fill.water.least, 2), half_up(bags * fill.water.most, 2)


def _stop(job: Job, shared: _Shared, first: int, end: int, bags: int) -> StopLine:
    bay = job.rows[job.found.order[end - 1]].bay
    return stop_line(bay, shared.open_edges(job.found.order, first, end), bags, job.layout)


def _arrow(job: Job, shared: _Shared, bay: int, exit_index: int | None) -> tuple[Point, ...]:
    """From the middle of a bay over the edges it shares with open ones to the door."""
    if exit_index is None:
        return ()
    points = [job.ground.middles[bay]]
    here = bay
    for there in way_out(job.found, bay):
        for other, edge in shared.edges.get(here, ()):
            if other == there:
                points.append(((edge.a[0] + edge.b[0]) / 2, (edge.a[1] + edge.b[1]) / 2))
        points.append(job.ground.middles[there])
        here = there
    points.append(job.ground.exits[exit_index].middle)
    return tuple(_straightened(points))


def _straightened(points: Sequence[Point]) -> list[Point]:
    """Points of a path without those on a straight piece."""
    out = list(points[:1])
    for here, after in pairwise(points[1:]):
        (ax, ay), (bx, by), (cx, cy) = out[-1], here, after
        if abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) > 1.0:
            out.append(here)
    return [*out, *points[-1:]] if len(points) > 1 else out
