"""Checks of zones: steps and rails at their borders, floor that belongs to none."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.plane import centroid
from packgen.core.worked import FILE, By
from packgen.heights.model import Border
from packgen.review.height_checks import step_given, zone_place
from packgen.review.job import Job, many, mm
from packgen.review.say import found


def zone_borders(job: Job) -> Iterator[Finding]:
    """Where two zones meet with a step, and rails that run over a border at which the rail tops differ."""
    limit = job.project.limits.step_without_ramp_strip
    steps: dict[tuple[str, str], Border] = {}
    for border in job.heights.borders:
        pair = border.first, border.second
        if pair not in steps or abs(border.step_mm) > abs(steps[pair].step_mm):
            steps[pair] = border
    for border in steps.values():
        if abs(border.step_mm) <= limit:
            continue
        turn = "above" if border.step_mm > 0 else "below"
        yield found(
            "caution",
            "step-between-zones",
            f"Where they meet, {border.second} is {mm(abs(border.step_mm))} {turn} {border.first}; {mm(limit)} is "
            "allowed without a strip.",
            where=f"border of {border.first} and {border.second}",
            number=By(abs(border.step_mm), f"border/{job.heights.borders.index(border) + 1}"),
            limit=step_given(job, limit),
            unit="mm",
            source=FILE,
            cures=("a bevelled strip along the border", "bring the two finished levels together"),
            place=zone_place(job, border.second, "finished level"),
        )
    if job.heights.border_rails:
        names = figures.listed(job.heights.border_rails)
        yield found(
            "stop",
            "rail-over-border",
            f"{many(len(job.heights.border_rails), 'rail')} would run over the border of two zones whose rail tops "
            f"differ: {names}. A rail is straight: it cannot be at two heights.",
            where=names,
            source=FILE,
            cures=(
                "end the rail at the border, a leg each side",
                "bring the two rail tops together",
            ),
            place=zone_place(job, job.heights.zones[-1].name, "finished level"),
        )


def floor_unclaimed(job: Job) -> Iterator[Finding]:
    if not job.heights.unclaimed:
        return
    at = job.near(centroid(job.heights.unclaimed[0]))
    yield found(
        "stop",
        "floor-unclaimed",
        f"{many(len(job.heights.unclaimed), 'part')} of the floor round {at} belongs to no zone: nobody has said how "
        "high it shall be.",
        where=at,
        source=FILE,
        cures=("let the zones under finishes cover the whole room",),
        place=job.project.finishes[-1].marks.of("covers"),
    )


CHECKS = (zone_borders, floor_unclaimed)
