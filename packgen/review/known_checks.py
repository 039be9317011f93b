"""Checks of how well the base is known where legs stand: steps in it, and legs far from any reading."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.figures import plain
from packgen.core.finding import Finding
from packgen.core.stepped import step_distance
from packgen.core.worked import ON_PLAN, PRACTICE, Given, Worked
from packgen.project.given import given
from packgen.review.figure import counted, limited
from packgen.review.job import Job, many
from packgen.review.say import found
from packgen.trade.limits import Limit, limit


def steps_parted(job: Job) -> Iterator[Finding]:
    """Steps in the base: parted from wall to wall, read on both sides, no leg with a foot on the edge."""
    for step in job.survey.steps:
        (ax, ay), (bx, by) = step.line.a, step.line.b
        where = f"step from {job.taped((ax, ay))} to {job.taped((bx, by))}"
        if step.state != "parts":
            why = (
                "ends in mid-room, so nobody can tell which reading belongs to which side"
                if step.state == "ends inside"
                else "has a side on which nobody has read the base"
            )
            cure = "carry it on to a wall or to another step" if step.state == "ends inside" else "read the base there"
            yield found(
                "stop",
                "step-unread",
                f"The {where} {why}: the base is taken to run on across it.",
                where="base",
                source=PRACTICE,
                cures=(cure, "take the step out of the file, if there is none"),
                place=step.place,
            )
            continue
        radius = job.project.kit.foot.diameter / 2
        on_it = [n.id for n in job.layout.nodes if step_distance(n.at, [step.line]) < radius]
        if step.on_it or on_it:
            read = f"{figures.listed(step.on_it)} {'was' if len(step.on_it) == 1 else 'were'} read on it; " * bool(
                step.on_it
            )
            legs = f"{many(len(on_it), 'leg')} would stand on its edge: {figures.listed(on_it)}" if on_it else ""
            yield found(
                "caution",
                "on-a-step",
                f"The {where}: {(read + legs).rstrip('; ')}. A foot stands on one side, and a reading belongs to one.",
                where=figures.listed(on_it or list(step.on_it)),
                source=PRACTICE,
                cures=(
                    "move the first lines",
                    "read beside the step",
                    "a stiff plate over the edge, bedded on both sides",
                ),
                place=step.place,
            )


def base_known(job: Job) -> Iterator[Finding]:
    """Legs far from any reading: their length is guessed. Far too many of them: the survey is too thin.

    Legs are told from `reading_reach` modules on. Only those beyond the outermost readings or farther than
    `reading_far` count towards a stop, so that a survey on every second line passes.
    """
    module, legs = job.project.kit.module, job.heights.legs
    reach, far = limit("reading_reach"), limit("reading_far")
    share, least = limit("thin_share"), limit("least_readings")
    guessed = [leg for leg in legs if leg.reading_distance_mm > reach.value * module + 1e-6]
    lost = [leg for leg in guessed if leg.known == "beyond" or leg.reading_distance_mm > far.value * module + 1e-6]
    readings = len(job.survey.levels.points)
    place = job.project.levels.marks.of("setups")
    if readings < least.value or len(lost) > share.value * len(legs):
        yield found(
            "stop",
            "survey-too-thin",
            f"The base was read at {many(readings, 'spot')} for {many(len(legs), 'leg')}; {len(lost)} of them stand "
            "where nobody has read it.",
            where=figures.listed([leg.node for leg in lost]) or "base",
            number=counted("legs where nobody has read the base", len(lost), "legs"),
            limit=_share_line(share, len(legs)),
            unit="legs",
            source=share.source,
            cures=(f"read the base at {_spots(job, [leg.node for leg in lost] or [leg.node for leg in guessed])}",),
            place=place,
        )
    elif guessed:
        worst = max(guessed, key=lambda leg: leg.reading_distance_mm)
        node = job.nodes[worst.node]
        yield found(
            "caution",
            "base-between-readings",
            f"{many(len(guessed), 'leg')} of {len(legs)} {'stands' if len(guessed) == 1 else 'stand'} far from any "
            f"reading of the base: their lengths are guessed. Read it once more at "
            f"{job.taped(node.at)} ({node.id}).",
            where=figures.listed([leg.node for leg in guessed]),
            number=Given(f"from {node.id} to the nearest reading", worst.reading_distance_mm, "mm", ON_PLAN),
            limit=_reach_line(job, reach),
            unit="mm",
            source=reach.source,
            cures=("more readings between the others", "have longer legs and extensions at hand when setting"),
            place=place,
        )


def _share_line(share: Limit, legs: int) -> Worked:
    return Worked(
        "survey/legs unread at most",
        "legs that may stand where nobody has read the base",
        "share of the legs, rounded down",
        f"floor({plain(share.value)} x {legs})",
        figures.round_down(share.value * legs),
        0,
        "legs",
        share.source,
        (),
        (limited(share, "share of the legs"), counted("legs", legs, "legs")),
    )


def _reach_line(job: Job, reach: Limit) -> Worked:
    module = job.project.kit.module
    return Worked(
        "survey/reach of a reading",
        "how far from a reading the base is known",
        "modules x module",
        f"{plain(reach.value)} x {plain(module)}",
        reach.value * module,
        1,
        "mm",
        reach.source,
        (),
        (limited(reach, "modules from a reading"), given(job.project.kit, "module", "module of the grid", module)),
    )


def _spots(job: Job, names: list[str]) -> str:
    """A few places to read, in numbers that a tape finds."""
    spots = [f"{n} ({job.taped(job.nodes[n].at)})" for n in names[:3]]
    return figures.listed(spots) + (f" and {len(names) - 3} more" if len(names) > 3 else "")


CHECKS = (steps_parted, base_known)
