"""Checks of joints: of the building, of the screed, in doorways and between heating circuits."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.core.plane import (
    Point,
    Polygon,
    Segment,
    area,
    band,
    bounds,
    crossing,
    label_point,
    pairs,
    segment_distance,
    without,
)
from packgen.core.worked import ON_PLAN, Given
from packgen.layout.joints import placed
from packgen.layout.model import JointLine
from packgen.review.figure import counted, none
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.grid_rules import value
from packgen.trade.limits import FieldRule, field_faults, field_rule, limit
from packgen.trade.tables import source

CUT_MM = 1.0  # width of a joint that the file draws without one, so that it parts the field
REACH_MM = 25.0  # joints are clipped at the edge of the floor; the strip beyond is bridged
CRUMB_MM2 = 1e4  # a hundredth of a square metre beside a joint is a crumb of drawing, not a field


def joints_crossed(job: Job) -> Iterator[Finding]:
    """Rails across a joint; and, at a joint of the building, bays that would be filled across it."""
    for number in sorted({j.number for j in job.layout.joints}):
        lines = [j for j in job.layout.joints if j.number == number]
        rails = sorted({c.rail for c in job.layout.joint_crossings if c.other == f"joint {number}"})
        structural = lines[0].kind == "structural"
        bays = bays_across(job, lines) if structural else []
        if structural and (rails or bays):
            what = " and ".join(
                [many(len(rails), "rail")] * bool(rails) + [f"the fill of {many(len(bays), 'bay')}"] * bool(bays)
            )
            yield found(
                "stop",
                "structural-joint-crossed",
                f"Joint {number} is a structural joint: the joint of the building must go through the floor, same line "
                f"and width. {what[0].upper()}{what[1:]} would bridge it: {figures.listed(rails or bays)}.",
                where=f"joint {number}",
                number=counted(f"rails and bays across joint {number}", len(rails) + len(bays), "crossings"),
                limit=none("what may cross a joint of the building", "crossings", source("limits", "door_joint")),
                unit="crossings",
                source=source("limits", "door_joint"),
                cures=(
                    "stop rails and fill each side of it, with a stop end and a joint profile of its width",
                    "move a line of rails beside it",
                ),
                place=_joint_place(job, number),
            )
        elif structural:
            yield found(
                "caution",
                "structural-joint-open",
                f"Joint {number} is a structural joint: rails and fill stop at it. Keep it open, same line and width, "
                "through foil, strip, fill and covering.",
                where=f"joint {number}",
                source=source("limits", "door_joint"),
                cures=("a joint profile of its width, set before filling", "a stop end on each side of it"),
                place=_joint_place(job, number),
            )
        elif rails:
            yield found(
                "stop",
                "movement-joint-crossed",
                f"{figures.listed(rails)} {'crosses' if len(rails) == 1 else 'cross'} movement joint {number}: cut the "
                "rail, a leg each side.",
                where=f"joint {number}",
                number=counted(f"rails across joint {number}", len(rails), "rails"),
                limit=none("rails that may cross a movement joint", "rails", source("limits", "door_joint")),
                unit="rails",
                source=source("limits", "door_joint"),
                cures=("interrupt the rail at the joint, a leg each side",),
                place=_joint_place(job, number),
            )


def bays_across(job: Job, lines: list[JointLine]) -> list[str]:
    """Bays of which the joint leaves a piece on both sides."""
    out = []
    for bay in job.layout.bays:
        x0, y0, x1, y1 = bounds(bay.shape)
        for line in lines:
            (ax, ay), (bx, by) = line.line.a, line.line.b
            if max(ax, bx) <= x0 or min(ax, bx) >= x1 or max(ay, by) <= y0 or min(ay, by) >= y1:
                continue
            parts = [p for p in without(bay.shape, [_cut(line)]) if area(p) > CRUMB_MM2]
            if len(parts) > 1:
                out.append(bay.name)
                break
    return out


def _joint_place(job: Job, number: int) -> Place:
    return job.project.joints[number - 1].marks.start


def _cut(joint: JointLine, reach_mm: float = REACH_MM) -> Polygon:
    """The joint as a narrow strip, lengthened into the perimeter strip so that it parts the floor."""
    (ax, ay), (bx, by) = joint.line.a, joint.line.b
    d = joint.line.length_mm
    ux, uy = (bx - ax) / d * reach_mm, (by - ay) / d * reach_mm
    return band(Segment((ax - ux, ay - uy), (bx + ux, by + uy)), max(joint.width_mm, CUT_MM))


def fields(job: Job) -> tuple[Polygon, ...]:
    """The floor as its joints part it."""
    cuts = [_cut(j) for j in job.layout.joints if j.line.length_mm > 0]
    parts = [p for floor in job.layout.floor for p in (without(floor, cuts) if cuts else (floor,))]
    return tuple(p for p in parts if area(p) > CRUMB_MM2)


def joint_missing(job: Job) -> Iterator[Finding]:
    """Fields of screed larger than the rule set; doorways and re-entrant corners of a heated screed without a joint."""
    if not job.screed or job.outside:
        return
    rule = field_rule(job.binder, job.heated)
    wrong: dict[str, list[Polygon]] = {}
    for part in fields(job):
        long, short, size = _sides(part)
        for first in field_faults(short, long, size, rule)[:1]:
            wrong.setdefault(first, []).append(part)
    for fault, parts in wrong.items():
        yield _too_large(job, fault, parts, rule)
    if job.heated:
        yield from _doorways(job)
        yield from _corners(job)


def _sides(field: Polygon) -> tuple[float, float, float]:
    """The long and the short side of the box round a field, m, and its area, m²."""
    x0, y0, x1, y1 = bounds(field)
    return max(x1 - x0, y1 - y0) / 1e3, min(x1 - x0, y1 - y0) / 1e3, area(field) / 1e6


def _too_large(job: Job, fault: str, parts: list[Polygon], rule: FieldRule) -> Finding:
    """The fields at fault alike as one finding; the figure is that of the worst."""
    screed = "heated screed" if job.heated else "screed"

    def figure(part: Polygon) -> float:
        long, short, size = _sides(part)
        return {"area": size, "side": long, "ratio": long / short}[fault]

    worst = max(parts, key=figure)
    what, unit, most = {
        "area": ("area", "m²", rule.area_m2),
        "side": ("side", "m", rule.side_m),
        "ratio": ("long side to short side", "times", rule.ratio or 0.0),
    }[fault]
    long, short, size = _sides(worst)
    says = {
        "area": f"{figures.number(size, 2)} m² in one field; {mm(rule.area_m2)} is the most for a {screed}.",
        "side": f"A field {figures.number(long, 2)} m long; {mm(rule.side_m)} is the most for a {screed}.",
        "ratio": f"A field {figures.number(long, 2)} by {figures.number(short, 2)} m: the long side should be at most "
        f"{mm(rule.ratio or 0)} times the short one.",
    }[fault]
    at = [job.near(label_point(p)) for p in parts]
    if len(parts) > 1:
        says += f" {len(parts)} such fields: round {figures.listed(at)}."
    return found(
        "stop" if job.heated and fault != "ratio" else "caution",
        "joint-missing",
        says,
        where=f"{'field' if len(parts) == 1 else 'fields'} round {figures.listed(at)}",
        number=Given(f"{what} of the field", figure(worst), unit, ON_PLAN),
        limit=Given(f"greatest {what} of a field of {screed}", most, unit, rule.source),
        unit=unit,
        source=rule.source,
        cures=("a movement joint on a line across the field", "another fill"),
        place=job.project.joints[0].marks.start if job.project.joints else job.project.fills.marks.of("use"),
    )


def _doorways(job: Job) -> Iterator[Finding]:
    near = limit("doorway_depth").value
    joints = [placed(j, job.survey.rooms) for j in job.project.joints]
    for room in job.survey.rooms:
        for door in room.doors:
            middle = ((door.line.a[0] + door.line.b[0]) / 2, (door.line.a[1] + door.line.b[1]) / 2)
            if door.outside or any(segment_distance(middle, j) <= near for j in joints):
                continue
            yield found(
                "stop",
                "joint-missing",
                f"No movement joint in the {door.name}: a heated screed needs one in every doorway.",
                where=door.name,
                source=source("limits", "door_joint"),
                cures=("a movement joint along the door line, entered under joints",),
                place=door.place,
            )


def _corners(job: Job) -> Iterator[Finding]:
    """Corners that stick into a field of a heated screed and have no joint running from them."""
    for part in fields(job):
        corners = [p for p in reentrant(part) if not _at_joint(job, p)]
        if corners:
            at = job.near(corners[0])
            yield found(
                "caution",
                "joint-missing",
                f"A corner sticks into the heated field near {at} with no joint from it: cracks start there.",
                where=at,
                source=source("limits", "door_joint"),
                cures=("a movement joint from the corner across the field",),
                place=job.project.joints[0].marks.start if job.project.joints else None,
            )


def reentrant(p: Polygon) -> list[Point]:
    """Corners of the outline at which the floor goes round more than half a turn, beside sides that count."""
    sides = pairs(p.shell)
    turn = 1 if sum(a[0] * b[1] - b[0] * a[1] for a, b in sides) > 0 else -1
    out = []
    for (a, b), (_, c) in zip(sides, [*sides[1:], sides[0]], strict=True):
        cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        if cross * turn < 0 and min(math.dist(a, b), math.dist(b, c)) > limit("corner_side").value:
            out.append(b)
    return out


def _at_joint(job: Job, at: Point) -> bool:
    near = job.project.kit.edge_strip + value("at_wall") + REACH_MM
    return any(segment_distance(at, j.line) <= near for j in job.layout.joints)


def pipe_through_joint(job: Job) -> Iterator[Finding]:
    """Heating pipes that go through a movement joint, drawn or on their way from the manifold."""
    joints = [j for j in job.layout.joints if j.kind == "movement"]
    for run in job.layout.services:
        if not run.heating:
            continue
        ways = list(run.stretches) + _lead(job, run.name, run.stretches)
        crossed = sorted({j.number for j in joints for s in ways if crossing(s, j.line)})
        if crossed:
            sleeve = limit("sleeve")
            service = job.service(run.name)
            yield found(
                "caution",
                "pipe-through-joint",
                f"{run.name} goes through movement joint {figures.listed([str(n) for n in crossed])}: only in a sleeve "
                f"about {mm(sleeve.value)} long.",
                where=f"{run.name}, joint {crossed[0]}",
                source=sleeve.source,
                cures=("a sleeve over each pipe at the joint", "lead the pipe round the end of the joint"),
                place=service.marks.start if service else None,
            )


def _lead(job: Job, name: str, stretches: tuple[Segment, ...]) -> list[Segment]:
    """The straight way from the nearest manifold to the circuit's first bend."""
    spots = [s.at for s in job.layout.services if "manifold" in s.kind.lower() and s.at is not None]
    ends = [p for s in stretches for p in (s.a, s.b)]
    if not spots or not ends:
        return []
    start, end = min(((m, e) for m in spots for e in ends), key=lambda pair: math.dist(*pair))
    return [Segment(start, end)] if start != end else []


CHECKS = (joints_crossed, joint_missing, pipe_through_joint)
