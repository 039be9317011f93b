"""Checks of the base: old coverings, damp, membrane, boards, joists, the layer between base and fill."""

from __future__ import annotations

import re
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import PRACTICE
from packgen.project.given import given
from packgen.review.figure import days_between, limited
from packgen.review.job import Job, mm
from packgen.review.say import found
from packgen.trade.limits import damp_limit, limit
from packgen.trade.tables import source

GONE = ("taken up", "removed", "gone", "lifted", "stripped")


def concrete(job: Job) -> bool:
    kind = job.project.base.kind.lower()
    return (
        any(word in kind for word in ("concrete", "slab", "screed", "beam and block")) and not job.project.base.timber
    )


def asbestos(job: Job) -> Iterator[Finding]:
    """An old covering, there or taken up or unknown, in a house not known to be younger than the ban, unsampled."""
    base, ban = job.project.base, limit("asbestos_year")
    if base.old_covering.lower() == "none":
        return
    years = [int(y) for y in re.findall(r"\b(1[89]\d\d|20\d\d)\b", base.built or "")]
    if years and min(years) > ban.value:
        return
    sampled = base.asbestos
    if sampled and sampled.sample == "yes" and sampled.report:
        return
    what = (
        "Nobody knows what covered this floor"
        if base.old_covering == "unknown"
        else f"Old covering: {base.old_covering}"
    )
    age = f"built {base.built}" if base.built else "nobody knows when the house was built"
    yield found(
        "stop",
        "asbestos-unknown",
        f"{what}; {age}; no sample. Old tiles and glue can hold asbestos: do not scrape, grind or drill. Have a sample "
        "looked at.",
        where="base",
        source=source("limits", "hsg264"),
        cures=(
            "have a sample taken by a person competent for it, and looked at by a laboratory",
            f"say when the house was built, if that is after {figures.number(ban.value)} (base: built)",
        ),
        place=base.marks.of("old covering"),
    )


def old_covering(job: Job) -> Iterator[Finding]:
    said = job.project.base.old_covering.lower()
    if said in ("none", "unknown") or any(word in said for word in GONE):
        return
    yield found(
        "stop",
        "old-covering-left",
        f"Old covering: {job.project.base.old_covering}. Feet do not stand on carpet, loose tile or soft vinyl.",
        where="base",
        source=PRACTICE,
        cures=("take it up, after the asbestos question", "have the base accepted in writing as it is"),
        place=job.project.base.marks.of("old covering"),
    )


def damp(job: Job) -> Iterator[Finding]:
    """The base's damp against the limit under a covering; missing, old or too high."""
    base, reading = job.project.base, job.project.base.damp_reading
    place = base.marks.of("damp reading")
    if reading.state == "not needed" and (base.timber or job.outside or job.project.project.reader == "class"):
        return
    measure = "measure it: hygrometer box or a sample, and write value, method and date"
    if reading.state != "read" or reading.value is None:
        if base.on_ground:
            yield found(
                "stop",
                "damp-base",
                "Nobody has measured how damp the slab on the ground is.",
                where="base",
                source=damp_limit("% RH", "cement", False).source,
                cures=(measure, "a membrane on top of the slab"),
                place=place,
            )
        return
    rule = damp_limit(reading.unit or "% RH", "cement", False)
    when = job.first_pour or job.sequence.started
    age = limit("damp_reading_age")
    if reading.value > rule.value:
        yield found(
            "stop",
            "damp-base",
            f"The base is at {mm(reading.value)} {rule.unit}; {mm(rule.value)} is the most under a covering.",
            where="base",
            number=given(base, "damp reading", "damp of the base as read", reading.value, rule.unit),
            limit=limited(rule, "most damp of a base under a covering"),
            unit=rule.unit,
            source=rule.source,
            cures=("a membrane on top of it, joined to the walls' own", "dry it, and read again"),
            place=place,
        )
    elif reading.date is None or (when - reading.date).days > age.value or reading.date > when:
        days = (
            "has no date" if reading.date is None else f"is {(when - reading.date).days} days old when filling starts"
        )
        if reading.date is not None and reading.date > when:
            days = "is dated after the first filling"
        yield found(
            "stop",
            "damp-base",
            f"The damp reading {days}; {mm(age.value)} days is the most.",
            where="base",
            number=None
            if reading.date is None
            else days_between("from the damp reading to the first filling", (when - reading.date).days, place),
            limit=limited(age, "greatest age of a damp reading"),
            unit="days",
            source=age.source,
            cures=("read again shortly before filling", "a membrane on top of the base"),
            place=place,
        )


def membrane(job: Job) -> Iterator[Finding]:
    base = job.project.base
    if not base.on_ground or base.membrane == "yes" or (base.membrane == "not needed" and job.outside):
        return
    yield found(
        "stop",
        "no-membrane",
        f"Membrane: {base.membrane}. Nothing keeps ground water out of this floor.",
        where="base",
        source=PRACTICE,
        cures=("a membrane over the whole base, joined to the walls' own, before strip and rails",),
        place=base.marks.of("membrane"),
    )


def green_concrete(job: Job) -> Iterator[Finding]:
    age, least = job.project.base.age, limit("green_concrete")
    if not concrete(job) or (age is not None and age >= least.value):
        return
    says = "Nobody knows the age of the concrete" if age is None else f"The concrete is {mm(age)} days old"
    yield found(
        "caution",
        "base-green",
        f"{says}. Concrete younger than {mm(least.value)} days still shrinks and gives off water.",
        where="base",
        number=None if age is None else given(job.project.base, "age", "age of the concrete", age, "days"),
        limit=limited(least, "age from which concrete has done most of its shrinking"),
        unit="days",
        source=least.source,
        cures=("find out its age", "wait"),
        place=job.project.base.marks.of("age"),
    )


def boards(job: Job) -> Iterator[Finding]:
    base = job.project.base
    if not base.timber:
        return
    said = base.boards.condition if base.boards else "unknown"
    if _fast(said):
        return
    yield found(
        "stop",
        "boards-loose",
        f"Boards of the base: {said}. Screw them down before anything stands on them.",
        where="base",
        source=PRACTICE,
        cures=('screw or replace them, and write down: condition: "sound, screwed down"',),
        place=base.boards.marks.of("condition") if base.boards else base.marks.of("boards"),
    )


def _fast(said: str) -> bool:
    words = said.lower()
    fixed = re.search(r"\b(screwed|nailed|glued|fixed)\b", words)
    return "sound" in words and fixed is not None and not re.search(r"\b(not|un\w*|loose|some|partly)\b", words)


def joists(job: Job) -> Iterator[Finding]:
    """Services that the file says are let into the joists."""
    notch, hole = limit("notch_depth"), limit("hole_depth")
    for service in job.project.services:
        if not job.project.base.timber or "joist" not in service.lies_on.lower():
            continue
        depth = job.project.base.joists.depth if job.project.base.joists else None
        rule = (
            f"{mm(notch.value * depth)} deep at most for a notch, {mm(hole.value * depth)} across for a hole on the "
            "centre line"
            if depth
            else f"a notch may be {mm(notch.value)} of the joist's depth"
        )
        yield found(
            "stop",
            "joists-notched",
            f"{service.name} is let into the joists ({service.lies_on}), and nobody has said that they bear "
            f"it: {rule}.",
            where=service.name,
            source=notch.source,
            cures=("ask a structural engineer", "lay it on the boards instead"),
            place=service.marks.of("lies on"),
        )


def separating_layer(job: Job) -> Iterator[Finding]:
    """A screed on rails lies on foil and away from the walls: both have to stand in the file."""
    said = f"{job.fill.kind} {job.fill.why_least}".lower()
    bonded = re.search(r"\bbonded\b", said) is not None
    if not (job.screed or job.project.heating is not None) or bonded or job.outside:
        return
    base, strip = job.project.base, job.project.kit.edge_strip
    layer = (base.separating_layer or "").lower()
    missing = ["the foil under the fill (base: separating layer)"] * (layer in ("", "none", "no", "unknown"))
    missing += ["the edge strip (kit: edge strip)"] * (strip < (limit("heated_edge").value if job.heated else 1))
    if missing:
        yield found(
            "stop",
            "separating-layer-missing",
            f"Foil and edge strip come before anything else. Not in the file: {figures.listed(missing)}.",
            where="base",
            source=source("limits", "bs_8204"),
            cures=("enter what is laid, and lay it",),
            place=base.marks.of("separating layer"),
        )


def foil_on_timber(job: Job) -> Iterator[Finding]:
    layer = (job.project.base.separating_layer or "").lower()
    if not job.project.base.timber or not re.search(r"\b(polyethylene|plastic|polythene|pe foil|foil|vinyl)\b", layer):
        return
    if re.search(r"\b(breath\w*|vapour-open|vapour open|open to vapour)\b", layer):
        return
    yield found(
        "caution",
        "foil-on-timber",
        "Plastic foil on boards can trap damp: use a layer that breathes.",
        where="base",
        source=PRACTICE,
        cures=("a vapour-open separating layer",),
        place=job.project.base.marks.of("separating layer"),
    )


CHECKS = (
    asbestos,
    old_covering,
    damp,
    membrane,
    green_concrete,
    boards,
    joists,
    separating_layer,
    foil_on_timber,
)
