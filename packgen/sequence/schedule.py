"""The sequence stage: the order of bays, the days, the pours, and what is waited for."""

from __future__ import annotations

import datetime
from collections.abc import Sequence as Listed
from dataclasses import replace
from itertools import islice

import numpy as np

from packgen.core.figures import half_up, round_up
from packgen.core.worked import Assumed
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.quantities.model import BayFill, Quantities
from packgen.sequence.calendar import pour_days, working_days
from packgen.sequence.date_lines import work_date_lines
from packgen.sequence.days import Amounts, split_days
from packgen.sequence.fronts import Fronts, fronts_of, stop_weights
from packgen.sequence.model import MissedDay, Pour, Sequence, WayOut, WorkDay
from packgen.sequence.order_bays import BayOrder, Load, order_bays
from packgen.sequence.pace import Crew, Pace, batch_of, crew_of, drum_assumed, pace_of
from packgen.sequence.pours import Job, fill_named, make_pours
from packgen.sequence.waiting import waits
from packgen.sequence.ways_out import Ground, edges_to_close, walk_ground
from packgen.sequence.work_lines import timed_lines, work_lines
from packgen.sequence.workings import area_lines, grid_line, more_pour_lines, pour_lines
from packgen.survey.model import Survey
from packgen.trade.amounts import amount, assumed_amount

ONE_DAY = datetime.timedelta(days=1)
MOST_ROUNDS = 3  # of ordering again with the rows in which a day ends


def schedule(project: Project, survey: Survey, layout: Layout, heights: Heights, quantities: Quantities) -> Sequence:
    """When what is filled, by a crew that sets the grid first and fills from the next working day on."""
    rows = quantities.bays
    crew = crew_of(project)
    fills = tuple(dict.fromkeys(b.fill for b in rows))
    paces = {name: pace_of(project, fill_named(project, name)) for name in fills}
    ground = walk_ground(project, survey, layout.bays)
    found, fronts, ends = _order(project, survey, layout, ground, rows, paces)
    grid_h = half_up(quantities.room_m2 / (project.rates.set_grid.value * crew.persons), 2)
    grid_days = _grid_days(project, crew, grid_h)
    first = grid_days[-1].date + ONE_DAY
    day_fills = [rows[found.order[end - 1]].fill for end in ends]
    dates, missed = _dates(project, day_fills, first)
    largest = max(rows, key=lambda b: b.area_m2, default=None)
    widest = largest.area_m2 if largest else 0.0
    mean = heights.depth.mean_mm
    batches = {name: batch_of(project, name, fill_named(project, name), paces[name], widest, mean) for name in fills}
    close = edges_to_close(survey, layout.bays, project.kit.edge_strip + amount("joint_open"))
    job = Job(project, layout, heights, ground, found, rows, fronts, crew, paces, batches, close)
    pours = make_pours(job, ends, dates)
    waiting = waits(project, heights, pours, rows)
    kept = tuple(b for b in batches.values() if b is not None)
    timed = [b for b in kept if b.minutes is not None]
    in_time = {b.fill: timed_lines(project, b, paces[b.fill], largest, mean, len(batches) == 1) for b in timed}
    hours = _person_hours(project, quantities, crew, paces, pours)
    return Sequence(
        order=tuple(rows[i].bay for i in found.order),
        pours=pours,
        work_days=grid_days,
        waiting=waiting.rows,
        skipped=tuple((m.date, m.says) for m in missed),
        trapped=tuple(rows[i].bay for i in found.trapped),
        started=grid_days[0].date,
        boards_same_day=any(fill_named(project, n).board_on_top and not fill_named(project, n).mixed for n in fills),
        worked=(
            grid_line(project, quantities, crew, grid_h),
            *pour_lines(project, pours, paces, batches, {n: int(found.value) for n, (found, _) in in_time.items()}),
            *waiting.worked,
        ),
        batches=kept,
        missed=missed,
        ways_out=_ways_out(ground, rows),
        assumed=(*_assumed(paces, pours), *drum_assumed(project, kept), *waiting.assumed),
        person_hours=hours,
        further=(
            *area_lines(pours),
            *more_pour_lines(project, pours, paces, crew),
            *work_date_lines(project, crew, grid_h, grid_days, pours, missed),
            *waiting.further,
            *(line for lines in in_time.values() for line in lines),
            *work_lines(project, quantities, crew, paces, pours, hours),
        ),
    )


def _rooms(survey: Survey) -> list[str]:
    """Rooms in the order they are filled: those that are left through another room before that room."""
    names = {r.name for r in survey.rooms}
    behind: dict[str, int] = {}
    for _ in survey.rooms:
        for room in survey.rooms:
            doors = [d.leads_to for d in room.doors]
            outward = [d for d in doors if d not in names or d == room.name] or [
                w.name for w in room.walls if w.free_edge
            ]
            if outward or not doors:
                behind[room.name] = 0
            else:
                behind[room.name] = 1 + min(behind.get(d, len(names)) for d in doors)
    return sorted((r.name for r in survey.rooms), key=lambda n: -behind[n])


def _order(
    project: Project,
    survey: Survey,
    layout: Layout,
    ground: Ground,
    rows: Listed[BayFill],
    paces: dict[str, Pace],
) -> tuple[BayOrder, Fronts, tuple[int, ...]]:
    """The order of bays, the stop line after each, and where the days end.

    A row in which a day ends is worked from one end to the other, so that its stop line has one step and no gaps.
    """
    area, litres = sum(b.area_m2 for b in rows), sum(b.volume_l for b in rows)
    days = [p.hours / p.needed_h(litres, area) for p in paces.values()]
    load = Load(tuple(b.volume_l for b in rows), tuple(b.fill for b in rows), litres * min(days, default=1.0))
    weights = stop_weights(ground.links, layout)
    small = (project.kit.module / 1000) ** 2
    for _ in range(MOST_ROUNDS):
        found = order_bays(ground, _rooms(survey), load, small)
        fronts = fronts_of(found.order, ground.links, weights)
        ends = split_days(_amounts(found, rows), fronts, paces)
        cut = frozenset(i for end in ends[:-1] for i in (found.order[end - 1], found.order[end]))
        if cut <= load.straight:
            break
        load = replace(load, straight=load.straight | cut)
    return found, fronts, ends


def _amounts(found: BayOrder, rows: Listed[BayFill]) -> Amounts:
    ordered = [rows[i] for i in found.order]
    return Amounts(
        np.array([b.volume_l for b in ordered]), np.array([b.area_m2 for b in ordered]), tuple(b.fill for b in ordered)
    )


def _grid_days(project: Project, crew: Crew, hours: float) -> tuple[WorkDay, ...]:
    """All hands set the grid; at least one day."""
    count = max(1, int(round_up(hours / crew.hours)))
    days = islice(working_days(project.calendar, project.calendar.start), count)
    return tuple(
        WorkDay(day, "set the grid", half_up(min(crew.hours, hours - k * crew.hours), 2), crew.persons)
        for k, day in enumerate(days)
    )


def _dates(
    project: Project, fills: Listed[str], first: datetime.date
) -> tuple[tuple[datetime.date, ...], tuple[MissedDay, ...]]:
    """A day for each pour, one after the other, and the working days lost between."""
    dates: list[datetime.date] = []
    missed: list[MissedDay] = []
    start = first
    for name in fills:
        date, lost = next(pour_days(project.calendar, fill_named(project, name), start, project.outside))
        dates.append(date)
        missed += lost
        start = date + ONE_DAY
    return tuple(dates), tuple(missed)


def _ways_out(ground: Ground, rows: Listed[BayFill]) -> tuple[WayOut, ...]:
    return tuple(WayOut(e.name, e.kind, e.room, tuple(rows[i].bay for i in e.bays), e.main) for e in ground.exits)


def _assumed(paces: dict[str, Pace], pours: Listed[Pour]) -> tuple[Assumed, ...]:
    found = [a for p in paces.values() for a in p.assumed]
    if pours:
        found.append(assumed_amount("start", "times of the pour days"))
    return tuple(dict.fromkeys(found))


def _person_hours(
    project: Project, quantities: Quantities, crew: Crew, paces: dict[str, Pace], pours: Listed[Pour]
) -> tuple[tuple[str, float], ...]:
    """Person hours by task, to 1 decimal; boards apart only where they are not laid with the fill."""
    out = [("set the grid", half_up(quantities.room_m2 / project.rates.set_grid.value, 1))]
    filling = sum((p.hours + paces[p.fill].setting_up_h) * crew.persons for p in pours)
    out.append(("fill", half_up(filling, 1)))
    boards = project.rates.lay_boards
    if boards is not None and quantities.boards_m2 and all(p.boarded == 0 for p in paces.values()):
        out.append(("lay boards", half_up(quantities.boards_m2 / boards.value, 1)))
    return tuple(out)
