"""The arithmetic of dates: so many days after the first day of the calendar, with the days that are not worked."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Sequence
from itertools import groupby

from packgen.core.figures import day, listed, plain
from packgen.core.place import Place
from packgen.core.worked import FILE, Given, Source, Worked
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.sequence.model import MissedDay, Pour, Waiting, WorkDay
from packgen.sequence.pace import Crew
from packgen.sequence.work_given import hours_a_day_given

ONE_DAY = datetime.timedelta(days=1)
BY_CALENDAR = Source("days counted on the calendar", known="calculated")
EVERY_DAY = Source("every day counts, the day of the pour is day 0", known="calculated")


def date_key(event: str) -> str:
    """Key of the line of a date, by the event it is the date of."""
    return f"date/{event}"


def _unit(first: datetime.date, date: datetime.date) -> str:
    return f"days after {day(first)}: {day(date)}"


def waited_line(
    event: str,
    first: datetime.date,
    start: tuple[datetime.date, str],
    date: datetime.date,
    wait: Given | Worked,
) -> Worked:
    """A date so many days after another."""
    before, days = (start[0] - first).days, int(wait.value)
    return Worked(
        date_key(event),
        event,
        f"{start[1]} and so many days",
        f"{before} + {days}",
        (date - first).days,
        0,
        _unit(first, date),
        EVERY_DAY,
        (date_key(start[1]), wait.key) if isinstance(wait, Worked) else (date_key(start[1]),),
        () if isinstance(wait, Worked) else (wait,),
    )


def not_before_line(line: Worked, first: datetime.date, row: Waiting, cooled: Waiting) -> Worked:
    """A test date that waits for the first heating too: the later of both."""
    date = max(row.date, cooled.date)
    return Worked(
        line.key,
        line.name,
        f"later of {line.formula}, and {cooled.event}",
        f"max({line.numbers}, {(cooled.date - first).days})",
        (date - first).days,
        0,
        _unit(first, date),
        EVERY_DAY,
        (*line.needs, date_key(cooled.event)),
        line.given,
    )


def work_date_lines(
    project: Project,
    crew: Crew,
    grid_h: float,
    grid: Sequence[WorkDay],
    pours: Sequence[Pour],
    missed: Sequence[MissedDay],
) -> Iterator[Worked]:
    """Start of the work, last day on the grid, and the day of each pour. grid_h: hours of all hands to set the grid"""
    first, last = project.calendar.start, grid[-1].date
    start = _idle(project, first, grid[0].date, ())
    begin = given(project.calendar, "start", f"day 0 is the first day of the calendar, {day(first)}", 0, "")
    numbers = " + ".join(["0", *(plain(g.value) for g in start)])
    away = (grid[0].date - first).days
    formula = "first day of the calendar on which work is done"
    yield Worked(
        date_key("start"), "start", formula, numbers, away, 0, _unit(first, grid[0].date), FILE, (), (begin, *start)
    )
    hours = hours_a_day_given(project, crew)
    yield Worked(
        "grid/days",
        "days on the grid",
        "hours / hours a day, rounded up; one at least",
        f"max(1, ceil({plain(grid_h, 2)} / {plain(hours.value, 4)}))",
        len(grid),
        0,
        "days",
        None,
        ("grid/hours",),
        (hours,),
    )
    off = _idle(project, grid[0].date, last, (), {d.date for d in grid})
    numbers = f"{away} + {len(grid)} - 1" + "".join(f" + {plain(g.value)}" for g in off)
    yield Worked(
        date_key("grid"),
        "grid set",
        "start + days on the grid - 1, and the days between on which nobody works",
        numbers,
        (last - first).days,
        0,
        _unit(first, last),
        BY_CALENDAR,
        (date_key("start"), "grid/days"),
        off,
    )
    before, event = last, "grid"
    for pour in pours:
        off = _idle(project, before + ONE_DAY, pour.date, missed)
        numbers = f"{(before - first).days} + 1" + "".join(f" + {plain(g.value)}" for g in off)
        yield Worked(
            date_key(f"pour {pour.number}"),
            f"pour {pour.number}",
            f"day after {'the grid is set' if event == 'grid' else event}"
            + (", and the days between on which nothing is filled" if off else ""),
            numbers,
            (pour.date - first).days,
            0,
            _unit(first, pour.date),
            BY_CALENDAR,
            (date_key(event),),
            off,
        )
        before, event = pour.date, f"pour {pour.number}"


def _idle(
    project: Project,
    first: datetime.date,
    end: datetime.date,
    missed: Sequence[MissedDay],
    worked: Collection[datetime.date] = (),
) -> tuple[Given, ...]:
    """The days from `first` up to the day before `end` on which nothing is done, by their reason."""
    calendar = project.calendar
    lost = {m.date: m for m in missed}
    reasons: list[tuple[str, str, datetime.date]] = []
    for k in range((end - first).days):
        at = first + k * ONE_DAY
        if at in worked:
            continue
        if at in lost:
            key = "lowest night temperature" if lost[at].why == "frost" else "rain expected"
            reasons.append((lost[at].says, key, at))
        elif at in calendar.not_working:
            reasons.append(("not a working day by the file", "not working", at))
        else:
            reasons.append(("not a working day of the week", "working days", at))
    out = []
    for (says, key), group in groupby(sorted(reasons), key=lambda r: (r[0], r[1])):
        dates = [at for *_, at in group]
        place: Place | None = place_of(calendar, key)
        out.append(Given(f"{listed([day(d) for d in dates])}: {says}", len(dates), "days", BY_CALENDAR, place))
    return tuple(out)
