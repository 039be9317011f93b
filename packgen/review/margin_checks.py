"""Limits that are kept with little to spare: within 2 mm, 5 % of a load or a day. Equal to the limit passes."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.core.worked import FILE, By, Figure, Source
from packgen.heights.bounds import cover_given, least_given, longest_given
from packgen.heights.kit_range import kit_range
from packgen.heights.place_lines import depth_key
from packgen.project.given import given
from packgen.review.codes import CODES
from packgen.review.figure import none
from packgen.review.height_checks import step_given, zones_judged
from packgen.review.job import Job, mm
from packgen.review.load_checks import allowed_given, dry_figure, worst_dry
from packgen.review.say import found
from packgen.review.survey_checks import misclosure_figure
from packgen.review.weather_checks import late_line, ready_on
from packgen.trade.limits import limit


def _close(
    of: str,
    says: str,
    where: str,
    number: Figure,
    allowed: Figure,
    unit: str,
    source: Source | str,
    place: Place | None,
) -> Finding:
    """`of` is the code whose limit is meant: its gate is where a small slip would bite."""
    return found(
        "caution",
        "little-left",
        says,
        where=where,
        number=number,
        limit=allowed,
        unit=unit,
        source=source,
        cures=("check this place first, before anything depends on it",),
        place=place,
        gate=CODES[of].gate,
    )


def _left(margin_mm: float) -> str:
    return f"{mm(margin_mm)} to spare" if margin_mm > 0.049 else "nothing to spare"


def depths(job: Job) -> Iterator[Finding]:
    near = limit("margin_mm").value
    for zone in zones_judged(job):
        low, high = zone.depth.least_mm - zone.rule.least_mm, zone.rule.most_mm - zone.depth.most_mm
        fill = dict(job.project.fills.described).get(zone.fill) or job.fill
        if 0 <= low <= near:
            yield _close(
                "depth-too-small",
                f"Round {job.near(zone.depth.least_at)} the fill is {mm(zone.depth.least_mm)}; "
                f"{mm(zone.rule.least_mm)} is the least: {_left(low)}.",
                job.near(zone.depth.least_at),
                By(zone.depth.least_mm, depth_key(zone.depth.least_at)),
                least_given(zone.rule, fill),
                "mm",
                zone.rule.source,
                fill.marks.of("thickness"),
            )
        if 0 <= high <= near:
            yield _close(
                "depth-too-great",
                f"At {job.near(zone.depth.most_at)} the fill is {mm(zone.depth.most_mm)}; the bag allows "
                f"{mm(zone.rule.most_mm)}: {_left(high)}.",
                job.near(zone.depth.most_at),
                By(zone.depth.most_mm, depth_key(zone.depth.most_at)),
                given(fill.thickness, "most", "greatest depth of the fill", zone.rule.most_mm),
                "mm",
                FILE,
                fill.marks.of("thickness"),
            )


def covers(job: Job) -> Iterator[Finding]:
    near = limit("margin_mm").value
    for cover in job.heights.covers:
        if cover.needed_mm is not None and 0 <= (left := cover.cover_mm - cover.needed_mm) <= near:
            service = job.service(cover.service)
            yield _close(
                "pipe-cover-small",
                f"Over {cover.service} near {job.near(cover.at)} the cover is {mm(cover.cover_mm)}; "
                f"{mm(cover.needed_mm)} is needed: {_left(left)}.",
                f"{cover.service}, {job.near(cover.at)}",
                By(cover.cover_mm, f"cover/{cover.service}"),
                cover_given(job.project.heating, cover.needed_mm, job.heights.rule),
                "mm",
                FILE,
                service.marks.of("outside") if service else None,
            )


def legs(job: Job) -> Iterator[Finding]:
    """The shortest and the longest leg of the job, where they fit but only just."""
    kit = job.project.kit
    near, parts = limit("margin_mm").value, kit_range(kit)
    fitting = [leg for leg in job.heights.legs if leg.fits]
    if not fitting:
        return
    place = job.project.kit.marks.of("leg")
    least = min(fitting, key=lambda leg: (leg.leg_mm, leg.node))
    most = max(fitting, key=lambda leg: (leg.leg_mm, leg.node))
    for leg, end, word in ((least, parts.shortest, "shortest"), (most, parts.longest, "longest")):
        left = abs(leg.leg_mm - end)
        if left <= near:
            yield _close(
                "leg-out-of-range",
                f"At {leg.node} the leg is {leg.leg_mm}; {mm(end)} is the {word} that can be set: {_left(left)}.",
                leg.node,
                By(leg.leg_mm, f"node/{leg.node}/leg"),
                given(kit.shortest_leg, "shortest", "shortest leg", end)
                if word == "shortest"
                else longest_given(kit, parts),
                "mm",
                FILE,
                place,
            )


def crossings(job: Job) -> Iterator[Finding]:
    near = limit("margin_mm").value
    for run in job.layout.services:
        mine = [c for c in job.crossings.get(run.name, ()) if not c.raised_mm]  # a raised rail is raised to fit
        tight = min(mine, key=lambda c: c.free_mm, default=None)
        if tight is not None and 0 <= tight.free_mm <= near:
            service = job.service(run.name)
            yield _close(
                "pipe-blocks-rail",
                f"{run.name} needs {mm(tight.needed_mm)} under rail {tight.rail}; there are {mm(tight.depth_mm)}: "
                f"{_left(tight.free_mm)}.",
                f"{run.name}, {tight.rail}",
                By(tight.depth_mm, depth_key(tight.at)),
                By(tight.needed_mm, f"under rail/{run.name}"),
                "mm",
                FILE,
                service.marks.of("outside") if service else None,
            )


def steps(job: Job) -> Iterator[Finding]:
    """Steps are small themselves: only one that equals its limit is told."""
    for door in job.judged_doors:
        if abs(door.step_mm) == door.limit_mm and door.limit_mm > 0:
            yield _close(
                "step-at-door",
                f"At the {door.door} the step is {mm(abs(door.step_mm))}, and {mm(door.limit_mm)} is allowed: nothing "
                "to spare.",
                door.door,
                By(abs(door.step_mm), f"door/{door.door}"),
                step_given(job, door.limit_mm),
                "mm",
                FILE,
                job.opening(door.door).marks.of("name"),
            )


def misclosure(job: Job) -> Iterator[Finding]:
    """Like steps: told only where it equals what is allowed."""
    book = job.survey.levels
    if book.misclosure_mm is not None and abs(book.misclosure_mm) == book.allowed_mm > 0:
        yield _close(
            "misclosure-large",
            f"The levels close {mm(abs(book.misclosure_mm))} {'high' if book.misclosure_mm > 0 else 'low'}, and "
            f"{mm(book.allowed_mm)} is allowed: nothing to spare.",
            job.datum,
            misclosure_figure(job, abs(book.misclosure_mm)),
            given(job.project.levels, "largest misclosure", "largest misclosure allowed", book.allowed_mm),
            "mm",
            FILE,
            job.project.levels.marks.of("largest misclosure"),
        )


def loads(job: Job) -> Iterator[Finding]:
    share, w, dry = limit("margin_load").value, job.quantities.weight, worst_dry(job)
    place = job.project.base.marks.of("extra load allowed")
    if w.allowed_dry_kn_m2 is not None and (1 - share) * w.allowed_dry_kn_m2 <= dry <= w.allowed_dry_kn_m2:
        yield _close(
            "load-over-allowed",
            f"This floor would weigh {figures.number(dry, 2)} kN on a square metre; "
            f"{figures.number(w.allowed_dry_kn_m2, 2)} is allowed: little to spare.",
            w.worst_at,
            dry_figure(job),
            allowed_given(job, w.allowed_dry_kn_m2),
            "kN/m²",
            "engineer's number in the project file",
            place,
        )
    feet = [f for f in job.quantities.feet if f.limit_kn and (1 - share) * f.limit_kn <= f.force_kn <= f.limit_kn]
    if feet:
        worst = max(feet, key=lambda f: (f.force_kn, f.node))
        yield _close(
            "foot-load",
            f"Leg {worst.node} would carry {figures.number(worst.force_kn, 2)} kN; its foot is good for "
            f"{figures.number(worst.limit_kn or 0.0, 2)}: little to spare.",
            worst.node,
            By(worst.force_kn, f"node/{worst.node}/force"),
            given(job.project.kit.foot, "load limit", "what a foot is good for", worst.limit_kn or 0.0, "kN"),
            "kN",
            FILE,
            job.project.kit.foot.marks.of("load limit"),
        )


def deadline(job: Job) -> Iterator[Finding]:
    wanted, ready = job.project.calendar.ready_by, ready_on(job)
    if wanted is None or ready is None:
        return
    left = (wanted - ready[0]).days
    if 0 <= left <= limit("margin_days").value:
        spare = "no day" if left == 0 else "one day"
        yield _close(
            "finish-too-late",
            f"Ready by {figures.day(wanted)} is asked for; the plan ends on {figures.day(ready[0])} ({ready[1]}): "
            f"{spare} to spare.",
            "programme",
            late_line(job, wanted, ready),
            none("days to spare that are needed", "days"),
            "days",
            FILE,
            job.project.calendar.marks.of("ready by"),
        )


CHECKS = (depths, covers, legs, crossings, steps, misclosure, loads, deadline)
