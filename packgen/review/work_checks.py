"""Checks of the order of work: batches and working time, open edges, ways out, hours, papers that grow old."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import FILE, PRACTICE, By
from packgen.project.given import given
from packgen.review.figure import counted, days_between, none
from packgen.review.job import Job, many, mm
from packgen.review.say import found


def working_time(job: Job) -> Iterator[Finding]:
    """Age of a batch when its bay is finished against the working time of the bag."""
    fills = dict(job.project.fills.described)
    for batch in job.sequence.batches:
        fill = fills.get(batch.fill, job.fill)
        if batch.minutes is None or fill.working_time is None or batch.minutes <= fill.working_time:
            continue
        fewer = max(1, int(batch.bags * fill.working_time / batch.minutes))
        yield found(
            "stop",
            "working-time",
            f"One batch is {figures.number(batch.minutes)} minutes old when its bay is finished, and the bag allows "
            f"{mm(fill.working_time)}: mix {many(fewer, 'bag')}.",
            where="mixing place",
            number=By(batch.minutes, f"batch/{batch.fill}/age"),
            limit=given(fill, "working time", f"working time of {batch.fill}", fill.working_time, "min"),
            unit="minutes",
            source="bag's sheet in the project file",
            cures=("smaller batches", "more people who place and finish", "smaller bays"),
            place=fill.marks.of("working time"),
        )


def open_edges(job: Job) -> Iterator[Finding]:
    """Free edges that nobody says are closed; and doors and channels where the plan puts a stop end."""
    for room in job.project.rooms:
        closed = room.edge_profile and room.edge_profile.lower() not in ("none", "no", "unknown")
        if room.free_edges and not closed:
            walls = figures.listed([f"wall {n}" for n in room.free_edges])
            yield found(
                "stop",
                "edge-bay-open",
                f"Close the free edge at {walls} before filling, or the fill runs out. The file names no edge profile.",
                where=walls,
                source=PRACTICE,
                cures=("an edge profile or upright board, entered as edge profile under the room",),
                place=room.marks.of("free edges"),
            )
    doors = [d.name for r in job.survey.rooms for d in r.doors]
    channels = [c.name for r in job.survey.rooms for c in r.cut_outs if c.kind != "obstacle"]
    if doors or channels:
        names = figures.listed([f"the {name}" for name in (*doors, *channels)])
        yield found(
            "caution",
            "edge-bay-open",
            f"At {names} the fill would run out: set an upright board or foam there before the bays beside it.",
            where=figures.listed([*doors, *channels]),
            source=PRACTICE,
            cures=("an upright board on the rail, fixed, and foam behind it",),
            place=job.project.openings[0].marks.start if job.project.openings else None,
        )


def long_days(job: Job) -> Iterator[Finding]:
    for pour in job.sequence.pours:
        if pour.ends_at <= pour.work_ends_at + 1e-6:
            continue
        stop = pour.earlier_stops[0].says if pour.earlier_stops else ""
        yield found(
            "caution",
            "day-too-long",
            f"Day {pour.number} ends {figures.clock(pour.ends_at)}, and work ends {figures.clock(pour.work_ends_at)}."
            + (f" Stop earlier: {stop}." if stop else ""),
            where=f"day {pour.number}",
            number=By(figures.half_up(pour.ends_at, 2), f"pour/{pour.number}/end"),
            limit=By(figures.half_up(pour.work_ends_at, 2), f"pour/{pour.number}/work ends"),
            unit="hours after midnight",
            source=FILE,
            cures=("an earlier stop line", "more people", "a later end, agreed beforehand"),
            place=job.project.crew[0].marks.start if job.project.crew else None,
        )


def trapped(job: Job) -> Iterator[Finding]:
    bays = job.sequence.trapped
    if bays:
        yield found(
            "stop",
            "trapped",
            f"Nobody could leave over dry ground from {figures.listed(bays)}.",
            where=figures.listed(bays),
            number=counted("bays that nobody could leave over dry ground", len(bays), "bays"),
            limit=none("bays that may be so", "bays"),
            unit="bays",
            source=FILE,
            cures=("another start", "a second door", "a stop line, and the rest on a day when the first is walkable"),
            place=job.project.openings[0].marks.start if job.project.openings else job.project.rooms[0].marks.start,
        )


def escape(job: Job) -> Iterator[Finding]:
    """Rooms that people behind them walk through."""
    for room in job.survey.rooms:
        inside = [d for d in room.doors if not d.outside]
        if room.outside or len(inside) < 2:
            continue
        said = {d.name: job.opening(d.name).others_behind for d in inside}
        unknown = [name for name, word in said.items() if word == "unknown"]
        through = [name for name, word in said.items() if word == "yes"]
        if through or len(unknown) > 1:
            names = figures.listed([f"the {n}" for n in through or unknown])
            who = "there are some behind" if through else "nobody says whether there are any behind"
            yield found(
                "stop",
                "escape-blocked",
                f"People behind {room.name} could not get out over open grid or wet fill: {who} {names}.",
                where=room.name,
                source=PRACTICE,
                cures=("another way out for them, agreed and written down", "hours at which nobody is there"),
                place=job.opening((through or unknown)[0]).marks.of("others behind"),
            )


def way_in(job: Job) -> Iterator[Finding]:
    """The way out of a later pour over fill that is not walkable by then."""
    walk = job.fill.walk_on_after
    if not job.fill.mixed or walk is None:
        return
    filled = {bay: pour for pour in job.sequence.pours for bay in pour.bays}
    for pour in job.sequence.pours:
        crossed = {
            bay
            for turn in pour.turns
            for bay in turn.way_out
            if bay in filled and filled[bay].date < pour.date and (pour.date - filled[bay].date).days < walk
        }
        if crossed:
            yield found(
                "caution",
                "curing-conflict",
                f"The way in on {figures.day(pour.date)} crosses fill that is not walkable yet: "
                f"{figures.listed(sorted(crossed))}.",
                where=figures.listed(sorted(crossed)),
                number=counted("bays on the way that are not walkable yet", len(crossed), "bays"),
                limit=none("bays that may be so", "bays"),
                unit="bays",
                source=FILE,
                cures=("another way in", f"wait until it is {walk} days old"),
                place=job.project.calendar.marks.of("start"),
            )


def out_of_date(job: Job) -> Iterator[Finding]:
    fills = dict(job.project.fills.described)
    for name in dict.fromkeys(p.fill or job.project.fills.use for p in job.sequence.pours):
        bag = fills.get(name, job.fill).bag
        last = max(p.date for p in job.sequence.pours if (p.fill or job.project.fills.use) == name)
        if bag.use_before is not None and bag.use_before < last:
            yield found(
                "caution",
                "cement-out-of-date",
                f"The bags of {name} are to be used before {figures.day(bag.use_before)}, and the last day of filling "
                f"is {figures.day(last)}.",
                where="store",
                number=days_between(
                    f"from {figures.day(bag.use_before)} to the last day of filling",
                    (last - bag.use_before).days,
                    bag.marks.of("use before"),
                ),
                limit=none("days after the date on the bag", "days"),
                unit="days",
                source="cement loses its chromium reducer with age: dated bags",
                cures=("new bags",),
                place=bag.marks.of("use before"),
            )


def old_backsight(job: Job) -> Iterator[Finding]:
    """Targets are printed from a backsight that was read before this plan was made."""
    today = job.project.today
    if today is not None and today.date < job.project.project.date:
        yield found(
            "caution",
            "paper-old",
            f"The backsight {mm(today.backsight)} is from {figures.day(today.date)}, before the date of this plan: the "
            "targets hold for that set-up only.",
            where="datum",
            number=days_between(
                "from the backsight to the date of the plan",
                (job.project.project.date - today.date).days,
                today.marks.of("date"),
            ),
            limit=none("days that a backsight may be old", "days"),
            unit="days",
            source=PRACTICE,
            cures=("read the backsight on the day, and enter it under today",),
            place=today.marks.of("date"),
        )


CHECKS = (working_time, open_edges, long_days, trapped, escape, way_in, out_of_date, old_backsight)
