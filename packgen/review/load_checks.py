"""Checks of weight: dry for good, fresh with people and bags, and whose word there is that the structure carries it.

packgen never says that a structure can carry a load; it holds the plan's weight against the number in the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import FILE, By, Given
from packgen.project.given import given
from packgen.review.figure import limited
from packgen.review.job import Job
from packgen.review.say import found
from packgen.trade.amounts import amount_rule
from packgen.trade.limits import limit


def needs_engineer(job: Job) -> bool:
    """Joists, suspended slabs, and every base that does not say that it lies on the ground."""
    base = job.project.base
    ground = base.on_ground or (re.search(r"\bground\b", base.kind.lower()) is not None and not base.suspended)
    return base.suspended or not ground


def worst_dry(job: Job) -> float:
    """The heavier of the mean and the worst square metre, kN/m², as printed."""
    w = job.quantities.weight
    return figures.half_up(max(w.dry_kn_m2, w.worst_dry_kn_m2), 2)


def dry_figure(job: Job) -> By:
    """The same with the line it comes from."""
    w = job.quantities.weight
    return By(worst_dry(job), "weight/dry/force" if w.dry_kn_m2 >= w.worst_dry_kn_m2 else "weight/worst/dry")


def allowed_given(job: Job, allowed: float) -> Given:
    return given(job.project.base, "extra load allowed", "extra load allowed", allowed, "kN/m²")


def beyond_key(job: Job, door: str) -> str:
    """Key of the line of the step to the floor beyond an opening, which may have a sill of its own between."""
    return f"door/{door}" if job.doors[door].sill_mm is None else f"door/{door}/beyond"


def load_over_allowed(job: Job) -> Iterator[Finding]:
    w, dry = job.quantities.weight, worst_dry(job)
    if w.allowed_dry_kn_m2 is None or dry <= w.allowed_dry_kn_m2:
        return
    at = w.worst_at if w.worst_dry_kn_m2 > w.dry_kn_m2 else ""
    yield found(
        "stop",
        "load-over-allowed",
        f"This floor would weigh {figures.number(dry, 2)} kN on a square metre{f' at {at}' if at else ''}; "
        f"{figures.number(w.allowed_dry_kn_m2, 2)} is allowed.",
        where=at,
        number=dry_figure(job),
        limit=allowed_given(job, w.allowed_dry_kn_m2),
        unit="kN/m²",
        source="engineer's number in the project file",
        cures=("a lighter fill", "a thinner fill", "a new letter of the engineer, with its number in the file"),
        place=job.project.base.marks.of("extra load allowed"),
    )


def load_while_working(job: Job) -> Iterator[Finding]:
    w = job.quantities.weight
    fresh = figures.half_up(max(w.fresh_with_people_kn_m2, w.worst_fresh_kn_m2 + w.people_kn_m2), 2)
    at_mean = w.fresh_with_people_kn_m2 >= w.worst_fresh_kn_m2 + w.people_kn_m2
    if w.allowed_working_kn_m2 is None or fresh <= figures.half_up(w.allowed_working_kn_m2, 2):
        return
    yield found(
        "stop",
        "load-while-working",
        f"Wet fill and people together: {figures.number(fresh, 2)} kN on a square metre; "
        f"{figures.number(w.allowed_working_kn_m2, 2)} is allowed.",
        where=w.worst_at,
        number=By(fresh, "weight/working" if at_mean else "weight/worst/working"),
        limit=By(w.allowed_working_kn_m2, "weight/allowed working"),
        unit="kN/m²",
        source=amount_rule("people").source,
        cures=("fill in stages", "a lighter fill", "props designed by the engineer"),
        place=job.project.base.marks.of("extra load allowed"),
    )


def engineer_open(job: Job) -> Iterator[Finding]:
    """No letter, a letter without name, date or number, or a plan heavier than the letter."""
    base, dry = job.project.base, worst_dry(job)
    if not needs_engineer(job):
        return
    letter = base.engineer
    carries = "the joists" if base.timber else "the slab"
    weights = f"dry {figures.number(dry, 2)} kN/m², fresh {figures.number(job.quantities.weight.fresh_kn_m2, 2)} kN/m²"
    why = ""
    if letter is None or letter.confirmed != "yes":
        why = f"Nobody has said that {carries} can carry this: {weights}."
    elif letter.letter is None or letter.date is None:
        why = f"The file says that an engineer confirmed the load, and names no letter with its date: {weights}."
    elif letter.date > job.project.project.date:
        why = f"The engineer's letter is dated {figures.day(letter.date)}, after the date of this plan."
    elif letter.for_load is None and base.extra_load_allowed is None:
        why = f"The letter {letter.letter} stands in the file without the load it allows on {carries}: {weights}."
    elif letter.for_load is not None and dry > letter.for_load:
        why = f"The letter {letter.letter} covers {figures.number(letter.for_load, 2)} kN/m²; the plan needs " + (
            f"{figures.number(dry, 2)}."
        )
    if why:
        yield found(
            "stop",
            "engineer-open",
            why,
            where="base",
            number=dry_figure(job),
            limit=given(letter, "for", "load of the engineer's letter", letter.for_load, "kN/m²")
            if letter and letter.for_load is not None
            else None,
            unit="kN/m²",
            source="NHBC Standards 2022, 6.4.8: additional loads on joists are for an engineer",
            cures=(f"ask a structural engineer, giving {weights}", "a lighter fill, and then ask"),
            place=letter.marks.start if letter else base.marks.of("kind"),
        )


def stack(job: Job) -> Iterator[Finding]:
    """How many bags may stand on one square metre, where the weight is limited."""
    bags = job.quantities.weight.bags_per_m2
    if bags is None:
        return
    where = "along the bearing wall, none at a stair opening"
    says = (
        f"Not more than {bags} {'bag' if bags == 1 else 'bags'} on any square metre, {where}."
        if bags > 0
        else "No bags may be stacked on this floor: store them elsewhere and bring them one by one."
    )
    yield found(
        "caution",
        "stack-too-heavy",
        says,
        where="store",
        number=By(bags, "weight/bags"),
        limit=By(bags, "weight/bags"),
        unit="bags per m²",
        source=FILE,
        cures=("spread the bags", "have them delivered day by day"),
        place=job.project.base.marks.of("extra load allowed"),
    )


def stair_edge(job: Job) -> Iterator[Finding]:
    """A drop of more than half a metre beside the work, where nobody says that it is guarded."""
    drop = limit("open_drop")
    for room in job.project.rooms:
        if room.guard_at_edge in ("yes", "not needed"):
            continue
        for name, down in _drops(job, room.name):
            if down is None or down > drop.value:
                deep = f", {figures.number(down)} deep" if down is not None else ""
                yield found(
                    "stop",
                    "stair-edge-open",
                    f"Open edge at the {name}{deep}: fit a guard rail before anyone works beside it.",
                    where=name,
                    number=None if down is None else By(down, beyond_key(job, name)),
                    limit=limited(drop, "drop from which an edge is guarded") if down is not None else None,
                    unit="mm" if down is not None else "",
                    source=drop.source,
                    cures=("fit a guard, and write it down (guard at edge: yes)", "bar the way to the edge"),
                    place=room.marks.of("guard at edge"),
                )


def _drops(job: Job, room: str) -> Iterator[tuple[str, float | None]]:
    outline = next(r for r in job.survey.rooms if r.name == room)
    for cut in outline.cut_outs:
        if cut.kind == "obstacle" and re.search(r"\bstair", cut.name.lower()):
            yield cut.name, None
    for door in outline.doors:
        if door.floor_there_mm is not None:
            step = next((d.finished_mm for d in job.heights.doors if d.door == door.name), None)
            if step is not None:
                yield door.name, max(0.0, step - door.floor_there_mm)


CHECKS = (load_over_allowed, load_while_working, engineer_open, stack, stair_edge)
