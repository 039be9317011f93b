"""Checks of weather and dates: frost, rain, sun and wind, the start, the date asked for, the test of moisture."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import FILE, PRACTICE, Given, Worked
from packgen.project.given import given
from packgen.project.work_model import Fill
from packgen.review.figure import counted, limited, none
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.sequence.date_lines import date_key
from packgen.sequence.model import MissedDay, Pour
from packgen.trade.limits import air_limit, cm_limit, limit
from packgen.trade.waiting import night_least

WARM = "cover and heat it, electric heat only; log the temperature and enter it (lowest night temperature)"


LAST_FILLING = "the last day of filling"


def frost(job: Job) -> Iterator[Finding]:
    """Cold nights after a pour; days lost to frost before the first pour; outside, nights without a forecast."""
    place = job.project.calendar.marks.of("lowest night temperature")
    for pour in job.sequence.pours:
        if pour.cold_nights:
            yield _cold(job, pour)
        elif job.outside and job.fill.mixed and pour.nights_without_forecast:
            dark = pour.nights_without_forecast
            nights = f"night{'s' * (len(dark) > 1)} of {figures.listed([figures.day(n) for n in dark])}"
            yield found(
                "stop",
                "frost-night",
                f"No forecast for the {nights}: do not fill on {figures.day(pour.date)} before there is one.",
                where=f"day {pour.number}",
                source=night_least(job.fill.family).source,
                cures=("enter the forecast (lowest night temperature) a few days before", "a later date"),
                place=place,
                lift="paper",
            )
    first = job.first_pour
    lost = [m for m in job.sequence.missed if m.why == "frost" and first is not None and m.date < first]
    if lost and first is not None:
        yield _not_before(job, lost, first)


def _cold(job: Job, pour: Pour) -> Finding:
    night, celsius = min(pour.cold_nights, key=lambda n: n[1])
    least = pour.night_limit_c or night_least(job.fill.family).celsius
    return found(
        "stop",
        "frost-night",
        f"Do not fill on {figures.day(pour.date)}: the night of {figures.day(night)} is {mm(celsius)} °C and the fill "
        f"needs {mm(least)}.",
        where=f"day {pour.number}",
        number=_night_given(job, night, celsius),
        limit=_least_given(job, job.fill_of(pour.fill), least),
        unit="°C",
        source=night_least(job.fill.family).source,
        cures=(
            "a later date",
            WARM,
        ),
        place=job.project.calendar.marks.of("lowest night temperature"),
    )


def _not_before(job: Job, lost: list[MissedDay], first: datetime.date) -> Finding:
    coldest = min(lost, key=lambda m: (m.celsius if m.celsius is not None else 0.0, m.date))
    least = coldest.least_celsius or night_least(job.fill.family).celsius
    night = figures.day(coldest.night or coldest.date)
    days = figures.listed([figures.day(m.date) for m in lost])
    return found(
        "stop",
        "frost-night",
        f"Do not fill before {figures.day(first)}: the night of {night} is {mm(coldest.celsius or 0.0)} °C and the "
        f"fill needs {mm(least)}. Not on {days}.",
        where="day 1",
        number=_night_given(job, coldest.night or coldest.date, coldest.celsius or 0.0),
        limit=_least_given(job, job.fill, least),
        unit="°C",
        source=night_least(job.fill.family).source,
        cures=(
            f"fill from {figures.day(first)} on, and set calendar: start to the working day before it",
            WARM,
        ),
        place=job.project.calendar.marks.of("lowest night temperature"),
    )


def _night_given(job: Job, night: datetime.date, celsius: float) -> Given:
    says = f"lowest temperature of the night of {figures.day(night)}"
    return given(job.project.calendar, "lowest night temperature", says, celsius, "°C")


def _least_given(job: Job, fill: Fill, least: float) -> Given:
    if fill.lowest_temperature is not None:
        return given(fill, "lowest temperature", "lowest temperature of the fill", least, "°C")
    return Given("lowest temperature of the fill", least, "°C", night_least(fill.family).source)


def rain(job: Job) -> Iterator[Finding]:
    """Rain in the days of the work: a caution under a cover, a stop on an open pour day without one."""
    days = job.project.calendar.rain_expected
    if not job.outside or not days or not job.sequence.pours:
        return
    cover = any("cover" in p.item.lower() or "tent" in p.item.lower() for p in job.project.plant)
    walkable = datetime.timedelta(days=job.fill.walk_on_after or 0)
    hit = sorted({d for d in days for p in job.sequence.pours if p.date <= d <= p.date + walkable})
    last = max(p.date for p in job.sequence.pours)
    near = [d for d in days if job.sequence.started <= d <= last + walkable]
    place = job.project.calendar.marks.of("rain expected")
    if hit and not cover:
        yield found(
            "stop",
            "rain-on-fill",
            f"Rain on {figures.listed([figures.day(d) for d in hit])} on fresh fill, and no cover among the plant.",
            where="pour days",
            number=counted("days with rain on fresh fill", len(hit), "days"),
            limit=none("rain on fresh fill", "days"),
            unit="days",
            source=PRACTICE,
            cures=("another day", "a rain cover, entered under plant"),
            place=place,
        )
    elif near:
        told = "cover ready before the first batch" if cover else "keep water off the open grid and the fresh fill"
        yield found(
            "caution",
            "rain-on-fill",
            f"Rain on {figures.listed([figures.day(d) for d in near])}: {told}.",
            where="pour days" if hit else "programme",
            source=PRACTICE,
            cures=("cover it", "another day"),
            place=place,
        )


def sun_and_wind(job: Job) -> Iterator[Finding]:
    if job.outside and job.fill.mixed:
        hot = limit("hot_air")
        yield found(
            "caution",
            "hot-or-windy",
            f"Sun, wind and air over {mm(hot.value)} °C dry fresh fill too fast. Cover each bay as you finish it.",
            where="pour days",
            source=hot.source,
            cures=("shade it", "cover it", "an early start"),
            place=job.project.fills.marks.of("use"),
        )


def start_day(job: Job) -> Iterator[Finding]:
    """A start that is no working day, or that lies before the date of the plan."""
    calendar = job.project.calendar
    start = calendar.start
    off = start in calendar.not_working
    if off or start.weekday() not in calendar.working_days:
        why = "among the days not worked" if off else "not among the working days"
        weekday = _weekday(start)
        yield found(
            "caution",
            "start-not-working-day",
            f"{start.isoformat()} is a {weekday} and {why}: the plan begins on {figures.day(job.sequence.started)}.",
            where="calendar",
            source=FILE,
            cures=(f"start: {job.sequence.started.isoformat()}", f"add the {weekday} to the working days"),
            place=calendar.marks.of("start"),
        )
    if start < job.project.project.date:
        yield found(
            "caution",
            "start-before-plan",
            f"The work starts on {figures.day(start)}, before the date of this plan, "
            f"{figures.day(job.project.project.date)}.",
            where="calendar",
            source=FILE,
            cures=("a new date for the plan, or a later start",),
            place=calendar.marks.of("start"),
        )


def _weekday(day: datetime.date) -> str:
    return ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")[day.weekday()]


def finish_in_time(job: Job) -> Iterator[Finding]:
    """The latest date of the programme against the date that the file asks for."""
    wanted = job.project.calendar.ready_by
    ready = ready_on(job)
    if wanted is None or ready is None or ready[0] <= wanted:
        return
    date, event = ready
    late = (date - wanted).days
    others = _dates_in_words(job)
    yield found(
        "stop",
        "finish-too-late",
        f"Ready by {figures.day(wanted)} is asked for; the plan ends on {figures.day(date)} ({event}): "
        f"{many(late, 'day')} too late.{others}",
        where="programme",
        number=late_line(job, wanted, ready),
        limit=none("days that the plan may be late", "days"),
        unit="days",
        source=FILE,
        cures=("start earlier", "a fill that dries faster, or a dry one", "a later date (ready by)"),
        place=job.project.calendar.marks.of("ready by"),
    )


def ready_on(job: Job) -> tuple[datetime.date, str] | None:
    """The latest date of the programme and what happens then; None without a pour."""
    dates = [(w.date, w.event) for w in job.sequence.waiting if w.key != "next_pour"]
    dates += [(p.date, LAST_FILLING) for p in job.sequence.pours]
    dates += [(w.date, w.task) for w in job.sequence.work_days]
    return max(dates, key=lambda d: d[0]) if dates else None


def late_line(job: Job, wanted: datetime.date, ready: tuple[datetime.date, str]) -> Worked:
    """Days between the end of the programme and the date asked for."""
    calendar, (date, event) = job.project.calendar, ready
    key = {LAST_FILLING: f"pour {len(job.sequence.pours)}", "set the grid": "grid"}.get(event, event)
    ends, asked = (date - calendar.start).days, (wanted - calendar.start).days
    late = ends > asked
    says = f"ready by {figures.day(wanted)}, days after {figures.day(calendar.start)}"
    return Worked(
        "finish/late" if late else "finish/to spare",
        f"days {'too late' if late else 'to spare'} at the end of the programme",
        "last date - date asked for" if late else "date asked for - last date",
        f"{max(ends, asked)} - {min(ends, asked)}",
        abs(ends - asked),
        0,
        "days",
        FILE,
        (date_key(key),),
        (given(calendar, "ready by", says, asked, "days"),),
    )


def _dates_in_words(job: Job) -> str:
    dates = job.sequence.dates
    words = [f"{label} {figures.day(dates[key])}" for key, label in (("walk_on", "walk on it from"),) if key in dates]
    return f" You can {words[0]}." if words else ""


def moisture(job: Job) -> Iterator[Finding]:
    """A test to come for each room of a fill that is mixed with water and covered."""
    if not job.fill.mixed or job.outside:
        return
    before = job.sequence.dates.get("test_not_before")
    when = f" Test not before {figures.day(before)}." if before else ""
    rule, air = cm_limit(job.binder, job.heated), air_limit()
    tests = [w for w in job.sequence.waiting if w.key == "test_not_before"]
    more = (date_key(max(tests, key=lambda w: (w.date, w.pour == 0)).event),) if tests else ()
    for room in job.survey.rooms:
        yield found(
            "stop",
            "moisture-open",
            f"Residual moisture of {room.name} not tested: do not cover.{when}",
            where=room.name,
            limit=limited(rule, "most residual moisture under a covering"),
            unit=rule.unit,
            source=rule.source,
            more=more,
            cures=(
                f"test it: {mm(rule.value)} {rule.unit} at most (or {mm(air.value)} % RH in a hygrometer box)",
                "wait, and test again",
            ),
            place=job.project.fills.marks.of("use"),
        )


CHECKS = (frost, rain, sun_and_wind, start_day, finish_in_time, moisture)
