"""Standing cautions for people: printed whenever their trigger is true; a stop only where said."""

from __future__ import annotations

import re
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import PRACTICE, Source
from packgen.project.given import given
from packgen.review.figure import limited
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.grid_rules import grid_rule
from packgen.trade.human import human, vibration_points
from packgen.trade.waiting import waiting_rule


def _plant(job: Job, *words: str) -> str | None:
    """The first item of the plant, present in some number, whose name holds one of the words."""
    pattern = re.compile(r"\b(" + "|".join(words) + r")", re.IGNORECASE)
    return next((p.item for p in job.project.plant if p.number > 0 and pattern.search(f"{p.item} {p.power}")), None)


def _caution(code: str, says: str, where: str, source: Source | str, *cures: str) -> Finding:
    return found("caution", code, says, where=where, source=source, cures=cures)


def cement(job: Job) -> Iterator[Finding]:
    if job.fill.cement:
        yield _caution(
            "cement-burn",
            "Wet cement burns without hurting at first. Gloves, knee board; wash at once; never kneel in it.",
            "mixing place and bays",
            human("cement").source,
            "waterproof gloves, long sleeves, knee boards, clean water to wash and for eyes",
        )


def dust(job: Job) -> Iterator[Finding]:
    stone = any(word in job.project.base.kind.lower() for word in ("concrete", "slab", "screed", "stone"))
    if job.fill.mixed or stone or _plant(job, "saw", "grinder", "breaker", "cutter"):
        silica = human("silica")
        yield _caution(
            "silica-dust",
            "Cut wet or with extraction. Shut the doors. No dry sweeping of cement and stone dust.",
            "cutting and mixing place",
            f"{mm(silica.value)} {silica.unit}, {silica.source}",
            "wet cutting or extraction, dust mask FFP3, vacuum instead of a broom",
        )


def heavy(job: Job) -> Iterator[Finding]:
    lift, often = human("lift"), human("lift_often")
    bags = max((p.bags for p in job.sequence.pours), default=0)
    stairs = any("stair" in o.leads_to.lower() or "landing" in o.leads_to.lower() for o in job.project.openings)
    if not (job.fill.bag.mass >= lift.value or bags > human("bags_a_session").value or stairs):
        return
    if job.fill.mixed:
        bucket = human("mortar_bucket").value
        kg = figures.number(bucket * job.fill.fresh_density / 1000)
        more = f" A {mm(bucket)} L bucket of it is {kg} kg."
    else:
        more = ""
    yield _caution(
        "lifting",
        f"{many(bags, 'bag')} of {mm(job.fill.bag.mass)} kg on one day{', up the stairs' if stairs else ''}. "
        f"{mm(lift.value)} kg is the guideline close to the body; {mm(often.value)} at two lifts a minute.{more}",
        "store and way in",
        lift.source,
        "two persons or a trolley",
        "delivery near the work, half bags, breaks",
    )


def electricity(job: Job) -> Iterator[Finding]:
    item = _plant(job, "mixer", "whisk", "pump", "lamp", "saw") or ("mixer" if job.fill.mixed else None)
    if item and job.fill.mixed:
        rcd = human("rcd")
        yield _caution(
            "electric-wet",
            f"RCD {mm(rcd.value)} {rcd.unit}, leads off the wet floor, 110 V or battery where you can.",
            item,
            rcd.source,
            "test the RCD before the first batch",
        )


def mixer(job: Job) -> Iterator[Finding]:
    item = _plant(job, "mixer", "whisk", "paddle")
    if item:
        yield _caution(
            "mixer",
            "Switch off and unplug before a hand or scraper goes in. No loose sleeves.",
            item,
            PRACTICE,
            "plug in sight of the one who cleans",
        )


def burners(job: Job) -> Iterator[Finding]:
    """A burner without a flue or an engine indoors is a stop; an electric heater a caution."""
    item = _plant(
        job, "petrol", "diesel", "propane", "butane", "gas heater", "paraffin", "burner", "generator", "engine"
    )
    if item and not job.outside:
        plant = next(p for p in job.project.plant if p.item == item)
        yield found(
            "stop",
            "co-heater",
            f"{item}: no flue-less burner and no engine indoors. It fills the room with a gas nobody smells.",
            where=item,
            source=PRACTICE,
            cures=("electric heat or machines", "put it outside, and write down who sees to that"),
            place=plant.marks.start,
        )
    elif _plant(job, "heater"):
        yield _caution(
            "co-heater",
            "No flue-less burner and no engine indoors. Alarm with a battery in the room.",
            _plant(job, "heater") or "",
            PRACTICE,
            "electric heat only",
        )


def vibration(job: Job) -> Iterator[Finding]:
    item = _plant(job, "breaker", "saw", "whisk", "grinder", "drill", "hammer")
    if item:
        action = human("vibration_action")
        points = figures.number(vibration_points(action.value, 8.0))
        yield _caution(
            "noise-vibration",
            f"Points so far ____ of {points}. Points are 2 x a x a x hours, a from the tool's plate.",
            item,
            action.source,
            "short tool times, hearing protection, another person for the second half",
        )


def laser_light(job: Job) -> Iterator[Finding]:
    item = _plant(job, r"laser", r"\w*-?line laser") or next(
        (p.item for p in job.project.plant if "laser" in p.item.lower() and p.number > 0), None
    )
    if item:
        rule = human("laser_class")
        yield _caution(
            "laser-eye",
            f"Class {mm(rule.value)}: above or below eye height; do not look into it.",
            item,
            rule.source,
            "tripod away from the way in",
        )


def headroom(job: Job) -> Iterator[Finding]:
    rule = grid_rule("headroom")
    for room in job.project.rooms:
        if room.ceiling is not None and room.ceiling.lowest < rule.value:
            yield found(
                "caution",
                "headroom",
                f"{mm(room.ceiling.lowest)} at the low side: kneel, lamp, cap.",
                where=room.name,
                number=given(room.ceiling, "lowest", "ceiling at its lowest", room.ceiling.lowest),
                limit=limited(rule, rule.says),
                unit="mm",
                source=rule.source,
                cures=("mark the low side with tape",),
                place=room.ceiling.marks.of("lowest"),
            )


def trips(job: Job) -> Iterator[Finding]:
    yield _caution(
        "trip-edge",
        "Rails lie open until they are filled. Boards over the grid on the way; nobody else in.",
        "open grid",
        PRACTICE,
        "a boarded way from the door to the work, a notice on the door",
    )


def household(job: Job) -> Iterator[Finding]:
    lived = job.project.project.house_lived_in
    if lived == "yes" or (lived == "unknown" and job.project.project.reader == "site"):
        yield _caution(
            "children-pets",
            "Lock the door; hang the notice. Wet cement and open rails hurt."
            if job.fill.cement
            else "Lock the door; hang the notice. Open rails hurt.",
            "door",
            PRACTICE,
            "tell everybody in the house the dates",
        )


def alone(job: Job) -> Iterator[Finding]:
    if sum(p.number for p in job.project.crew) <= 1:
        yield _caution(
            "alone",
            "Tell somebody when you start and stop. No lifting over the guideline.",
            "every day",
            human("lift").source,
            "a telephone within reach, and agreed times",
        )


def sparks(job: Job) -> Iterator[Finding]:
    """Flame and sparks: a stop on timber, where nobody names a permit."""
    proof = job.project.base.waterproofing
    torch = proof is not None and "torch" in proof.kind.lower() and proof.done != "yes"
    item = "torch-laid sheet" if torch else _plant(job, "grinder", "torch", "cutting disc", "cut-off", "welding")
    if not item:
        return
    watch = human("fire_watch")
    says = f"{item}: permit, extinguisher, somebody watches {mm(watch.value)} minutes after."
    if job.project.base.timber:
        yield found(
            "stop",
            "hot-works",
            f"{says} The base is timber.",
            where=item,
            source=watch.source,
            cures=("a permit by whoever is in charge of the building", "cut with a hand saw or shears"),
            place=job.project.marks.of("plant"),
        )
    else:
        yield _caution("hot-works", says, item, watch.source, "cut with a hand saw or shears")


def wash_water(job: Job) -> Iterator[Finding]:
    if job.fill.mixed:
        yield _caution(
            "waste-water",
            "Wash water never into a drain or the garden: let it settle, take it away.",
            "mixing place",
            PRACTICE,
            "two tubs: one to settle in, one to wash in",
        )


def fresh_fill(job: Job) -> Iterator[Finding]:
    if job.fill.mixed:
        when = job.sequence.dates.get("load")
        until = f", {figures.day(when)}" if when else ""
        yield _caution(
            "stepladder-on-fresh",
            f"No ladder, no trolley before the load date{until}.",
            "filled bays",
            waiting_rule(job.fill.family, "load").source,
            "boards under everything that stands on it later",
        )


CHECKS = (
    cement,
    dust,
    heavy,
    electricity,
    mixer,
    burners,
    vibration,
    laser_light,
    headroom,
    trips,
    household,
    alone,
    sparks,
    wash_water,
    fresh_fill,
)
