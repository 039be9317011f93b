"""Checks of water: wet rooms, work outside, falls, drains, sills, and fills that do not belong there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from packgen.core import figures
from packgen.core.figures import plain
from packgen.core.finding import Finding
from packgen.core.plane import contains
from packgen.core.worked import FILE, ON_PLAN, PRACTICE, By, Given, Source, Worked
from packgen.heights.doors import channel_at
from packgen.heights.model import ZoneTop
from packgen.heights.reckon import level_sum, term
from packgen.project.given import given
from packgen.review.figure import limited, none
from packgen.review.job import Job, mm
from packgen.review.say import found
from packgen.survey.doors import wall_number
from packgen.trade.grid_rules import grid_rule, value
from packgen.trade.limits import limit

WET_NAMES = re.compile(r"\b(bath\w*|shower\w*|wet\w*|laundry|wash\w*|toilet|wc|sauna)\b", re.IGNORECASE)
BY_LEVELS = Source("sill and finished level at the door", known="calculated")
SAME_COLUMN_MM = 100.0  # readings that lie in one line down the fall
LONG_ENOUGH_MM = 1000.0  # shorter lines of readings say nothing about a fall


def wet_room(job: Job) -> Iterator[Finding]:
    """A wet zone without waterproofing named; a name that sounds wet where the file does not say."""
    proof = job.project.base.waterproofing
    for zone in job.project.finishes:
        if zone.wet == "yes" and not job.outside and not (proof and proof.done == "yes" and proof.kind):
            yield found(
                "stop",
                "wetroom-open",
                f"Screed is not waterproof. What keeps the water in the {zone.zone}?",
                where=zone.zone,
                source=PRACTICE,
                cures=("plan and name the layer (base: waterproofing: done, kind): where, turned up how far, collars",),
                place=zone.marks.of("wet"),
            )
        elif zone.wet == "unknown" and not job.outside and WET_NAMES.search(f"{zone.zone} {zone.room or ''}"):
            yield found(
                "caution",
                "wet-unknown",
                f"Is {zone.zone} a wet room? The file does not say, and it is planned as a dry one.",
                where=zone.zone,
                source=FILE,
                cures=("write wet: yes or wet: no under the zone",),
                place=zone.marks.start,
            )


def outside_waterproofing(job: Job) -> Iterator[Finding]:
    proof = job.project.base.waterproofing
    if not job.outside or (proof and proof.done == "yes" and proof.protection_mat_under_the_feet == "yes"):
        return
    what = (
        "not done, as far as the file says" if not (proof and proof.done == "yes") else "without a mat under the feet"
    )
    yield found(
        "stop",
        "outside-waterproof-open",
        f"Feet stand on the waterproofing: test it and lay the mat first. It is {what}.",
        where="base",
        source=limit("terrace_fall").source,
        cures=("lay the protection mat, and write it down", "do the waterproofing, and flood it as a test"),
        place=proof.marks.start if proof else job.project.base.marks.of("waterproofing"),
    )


def fall_of_surface(job: Job) -> Iterator[Finding]:
    """Outside, and in wet zones that fall or drain: the fall asked for against the rule of the place."""
    for zone in job.heights.zones:
        record = job.file_zone(zone.name)
        wet = record is not None and record.wet == "yes"
        if not job.outside and not (wet and (zone.fall_per_m > 0 or job.project.drains)):
            continue
        rule = limit("terrace_fall") if job.outside else limit("wet_fall")
        place = record.marks.of("fall") if record else None
        if zone.fall_per_m < rule.value:
            yield found(
                "stop",
                "fall-wrong",
                f"{zone.name} falls {mm(zone.fall_per_m)} per metre; {mm(rule.value)} is asked for.",
                where=zone.name,
                number=given(record.fall, "per metre", f"fall of {zone.name}", zone.fall_per_m, "mm per metre")
                if record
                else Given(f"fall of {zone.name}", zone.fall_per_m, "mm per metre"),
                limit=limited(rule, "least fall"),
                unit="mm per metre",
                source=rule.source,
                cures=(f"a fall of {mm(rule.value)} per metre or more, {_way(job)}",),
                place=place,
            )
        elif job.outside and (door := _door_downhill(job, zone)):
            yield found(
                "stop",
                "fall-wrong",
                f"{zone.name} falls towards the {door}: water would run to the house.",
                where=door,
                source=rule.source,
                cures=("turn the fall round, away from the house",),
                place=place,
            )


def _way(job: Job) -> str:
    """Which way water is led: outside away from the house, inside to what takes it."""
    if job.outside:
        return "away from the house"
    return "towards the drain" if job.project.drains else "towards a drain, which the file does not have yet"


def _door_downhill(job: Job, zone: ZoneTop) -> str | None:
    record = job.file_zone(zone.name)
    if record is None or record.fall.to_wall is None:
        return None
    to = wall_number(record.fall.to_wall)
    doors = [d for r in job.survey.rooms for d in r.doors if wall_number(d.wall) == to]
    return next((d.name for d in doors), None)


def _channel_at(job: Job, door: str) -> bool:
    """Whether a channel lies along the door."""
    room = next(r for r in job.survey.rooms if any(d.name == door for d in r.doors))
    return channel_at(room, job.doors[door], value("channel_at_door"))


@dataclass(frozen=True, slots=True)
class BaseFall:
    """How the base falls along one line of readings, mm per metre, and the readings at which water stands."""

    per_m: float
    first: str
    last: str
    holds_water: tuple[str, ...]
    length_mm: float


def base_falls(job: Job, zone: ZoneTop) -> tuple[BaseFall, ...]:
    """The base along each line of readings down the fall of a zone; () for a level zone or scattered readings."""
    dx, dy = zone.direction
    if (dx, dy) == (0.0, 0.0):
        return ()
    lines: dict[int, list[tuple[float, float, str]]] = {}
    for p in job.survey.levels.points:
        if any(contains(part, (p.x_mm, p.y_mm), SAME_COLUMN_MM) for part in zone.region):
            across, down = p.x_mm * dy - p.y_mm * dx, p.x_mm * dx + p.y_mm * dy
            lines.setdefault(round(across / SAME_COLUMN_MM), []).append((down, p.level_mm, p.id))
    out = []
    for _, line in sorted(lines.items()):
        line.sort()
        length = line[-1][0] - line[0][0]
        if length >= LONG_ENOUGH_MM:
            low = tuple(name for k, (_, level, name) in enumerate(line) if any(z > level for _, z, _ in line[k + 1 :]))
            out.append(BaseFall((line[0][1] - line[-1][1]) / length * 1000, line[0][2], line[-1][2], low, length))
    return tuple(out)


def _fall_line(job: Job, worst: BaseFall) -> Worked:
    """How the base falls from one reading to another; rising it falls by nothing."""
    level = {p.id: p.level_mm for p in job.survey.levels.points}
    metres = figures.half_up(worst.length_mm / 1000, 6)
    over, _, side = level_sum([term(level[worst.first]), term(-level[worst.last])], 2)
    numbers = f"({over}) / {plain(metres, 6)}"
    return Worked(
        f"fall of the base/{worst.first}-{worst.last}",
        f"fall of the base from {worst.first} to {worst.last}",
        "height of the first over the last / distance" + ("" if side == "mm above" else "; nothing, as it rises"),
        numbers if side == "mm above" else f"max(0, 0 - {numbers})",
        figures.half_up(max(0.0, worst.per_m), 3),
        3,
        "mm per metre",
        PRACTICE,
        (f"level/{worst.first}", f"level/{worst.last}"),
        (Given(f"from {worst.first} to {worst.last}", metres, "m", ON_PLAN),),
    )


def fall_of_base(job: Job) -> Iterator[Finding]:
    """Outside: what the waterproofing below the mortar does with water."""
    rule = limit("terrace_fall")
    for zone in job.heights.zones if job.outside else ():
        lines = base_falls(job, zone)
        hollows = [name for line in lines for name in line.holds_water]
        low = [line for line in lines if line.per_m < rule.value]
        if not low and not hollows:
            continue
        worst = min(lines, key=lambda line: line.per_m)
        steep = max(lines, key=lambda line: line.per_m)
        if worst.per_m < 0:
            falls = f"the base rises from {worst.first} to {worst.last}"
        elif figures.number(worst.per_m, 1) == figures.number(steep.per_m, 1):
            falls = f"the base falls {figures.number(worst.per_m, 1)} per metre"
        else:
            falls = f"the base falls {figures.number(worst.per_m, 1)} to {figures.number(steep.per_m, 1)} per metre"
        hollow = f", with a hollow at {figures.listed(hollows)}" if hollows else ""
        yield found(
            "caution",
            "fall-of-base-low",
            f"Below the mortar water stands: {falls}{hollow}; {mm(rule.value)} is asked for.",
            where=hollows[0] if hollows else f"{worst.first} to {worst.last}",
            number=_fall_line(job, worst),
            limit=limited(rule, "least fall"),
            unit="mm per metre",
            source=rule.source,
            cures=("a layer to falls under the waterproofing", "an outlet at the hollow", "accept it in writing"),
            place=job.project.base.marks.of("waterproofing"),
        )


def sill_outside(job: Job) -> Iterator[Finding]:
    """Height of the sill, or of the floor inside, over the surface outside."""
    for door in job.heights.doors if job.outside else ():
        channel = _channel_at(job, door.door)
        rule = grid_rule("outside_drop_channel" if channel else "outside_drop")
        drop = door.meets_mm - door.finished_mm
        if drop >= rule.value:
            continue
        stands = f"stands {mm(drop)} above" if drop > 0 else "lies no higher than"
        yield found(
            "caution",
            "threshold-low-outside",
            f"Splash water can enter at the {door.door}: its sill {stands} the surface outside; {mm(rule.value)} is "
            f"wanted{' with a channel' if channel else ''}.",
            where=door.door,
            number=By(drop, f"door/{door.door}")
            if drop > 0
            else none(f"sill of the {door.door} above the surface outside", "mm", BY_LEVELS),
            limit=limited(rule, rule.says),
            unit="mm",
            source=rule.source,
            cures=("a channel along the door",) * (not channel) + ("lower the surface outside",),
            place=job.doors[door.door].place,
        )


CHECKS = (wet_room, outside_waterproofing, fall_of_surface, fall_of_base, sill_outside)
