"""Checks of feet: on pipes, too heavily loaded, or on insulation that they would crush."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import FILE, ON_PLAN, PRACTICE, By, Given
from packgen.heights.kit_range import choose_parts, kit_range
from packgen.layout.model import FootClash
from packgen.project.given import given
from packgen.quantities.model import FootForce
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.layout_rules import layout_rules
from packgen.trade.limits import limit


def foot_on_pipe(job: Job) -> Iterator[Finding]:
    """Feet on a service or nearer than the clear distance: one finding a service and kind."""
    for run in job.layout.services:
        clashes = job.clashes.get(run.name, [])
        stops = run.heating and not any(c.saddle for c in clashes)
        on = [c for c in clashes if stops and c.gap_mm < 0]
        near = [c for c in clashes if not stops or c.gap_mm >= 0]
        if on:
            yield _feet(job, run.name, on, True)
        if near:
            yield _feet(job, run.name, near, False)


def _feet(job: Job, service: str, clashes: list[FootClash], stops: bool) -> Finding:
    worst = min(clashes, key=lambda c: (c.gap_mm, c.node))
    names = figures.listed([c.node for c in clashes])
    standing = any(c.gap_mm < 0 for c in clashes)
    verb = "on" if standing else "too near to"
    who = f"Leg {names} would stand" if len(clashes) == 1 else f"{many(len(clashes), 'leg')} would stand"
    tail = "" if len(clashes) == 1 else f": {names}"
    moves = [c.move_mm for c in clashes if c.move_mm is not None]
    cures = []
    better = job.layout.better_first_lines
    if better:
        left = "no foot stands on a pipe" if better[2] == 0 else f"{many(better[2], 'foot', 'feet')} still on pipes"
        typed = f"first lines: {{along wall 1: {mm(better[0])}, from wall 1: {mm(better[1])}}}"
        cures.append(f"write {typed} under kit: then {left}")
    if moves:
        typed = f"move feet off pipes: {math.ceil(max(moves))}"
        cures.append(f"move each along its rail, {mm(max(moves))} at most ({typed})")
    cures += ["a rigid saddle that does not press the pipe (saddle: yes), set with the pipe under pressure"]
    if not stops:
        cures.append("leave the leg out where the rail's span allows it")
    wanted = worst.reach_mm + (0.0 if stops else layout_rules().near_service)
    file_service = job.service(service)
    return found(
        "stop" if stops else "caution",
        "foot-on-pipe",
        f"{who} {verb} {service}{tail}.",
        where=f"{service}, {worst.node}" if len(clashes) == 1 else service,
        number=Given(f"from the foot of {worst.node} to the middle of {service}", worst.distance_mm, "mm", ON_PLAN),
        limit=By(wanted, f"reach/{service}" if stops else f"reach/{service}/clear"),
        unit="mm",
        source=PRACTICE,
        cures=cures,
        place=file_service.marks.of("name") if file_service else None,
    )


def saddle_room(job: Job) -> Iterator[Finding]:
    """Feet on the kit's saddle whose leg cannot be set so short."""
    saddle, kit = job.project.kit.saddle, kit_range(job.project.kit)
    if saddle is None:
        return
    legs = {leg.node: leg for leg in job.heights.legs}
    nodes = dict.fromkeys(c.node for c in job.layout.foot_clashes if c.saddle and c.node in legs)
    low = [legs[n] for n in nodes if choose_parts(legs[n].leg_mm - saddle.height, kit).parts == "does not fit"]
    if low:
        worst = min(low, key=lambda leg: (leg.leg_mm, leg.node))
        names = figures.listed([leg.node for leg in low])
        yield found(
            "stop",
            "saddle-no-room",
            f"At {worst.node} rail top to base is {mm(worst.leg_mm)}; a saddle {mm(saddle.height)} high leaves no leg "
            f"that can be set. {many(len(low), 'leg')}: {names}.",
            where=worst.node if len(low) == 1 else names,
            number=By(worst.leg_mm, f"node/{worst.node}/leg"),
            limit=given(job.project.kit.shortest_leg, "shortest", "shortest leg", kit.shortest),
            unit="mm",
            source=FILE,
            cures=("a lower saddle", "move the foot along its rail", "raise the finished level"),
            place=saddle.marks.of("height"),
        )


def foot_load(job: Job) -> Iterator[Finding]:
    """Feet that carry more than the file says they are good for."""
    over = [f for f in job.quantities.feet if f.limit_kn is not None and f.force_kn > f.limit_kn]
    if not over:
        return
    worst, names = _worst_foot(over, "force_kn")
    yield found(
        "stop",
        "foot-load",
        f"Leg {worst.node} would carry {figures.number(worst.force_kn, 2)} kN; its foot is good for "
        f"{figures.number(worst.limit_kn or 0.0, 2)}.{names}",
        where=figures.listed([f.node for f in over]),
        number=By(worst.force_kn, f"node/{worst.node}/force"),
        limit=given(job.project.kit.foot, "load limit", "what a foot is good for", worst.limit_kn or 0.0, "kN"),
        unit="kN",
        source=FILE,
        cures=("a smaller module", "an extra leg between", "a lighter fill"),
        place=job.project.kit.foot.marks.of("load limit"),
    )


def foot_pressure(job: Job) -> Iterator[Finding]:
    """Feet or pads that press more on insulation than it bears for good."""
    bears = job.project.base.insulation_carries
    if bears is None or not under_the_legs(job):
        return
    over = [f for f in job.quantities.feet if f.pressure_kpa > bears]
    if not over:
        return
    worst, names = _worst_foot(over, "pressure_kpa")
    side = figures.round_up((worst.force_kn / bears) ** 0.5 * 1000 / 10) * 10
    yield found(
        "stop",
        "foot-pressure",
        f"Under {worst.node} the foot presses {figures.number(worst.pressure_kpa)} kPa on insulation that bears "
        f"{mm(bears)} for good.{names}",
        where=figures.listed([f.node for f in over]),
        number=By(worst.pressure_kpa, f"node/{worst.node}/pressure"),
        limit=given(job.project.base, "insulation carries", "what the insulation bears for good", bears, "kPa"),
        unit="kPa",
        source=limit("foam_carries").source,
        cures=(
            f"stiff pads of {figures.number(side)} x {figures.number(side)} or more under the feet (base: pads)",
            "solid blocks through the insulation under each foot",
        ),
        place=job.project.base.marks.of("insulation carries"),
    )


def _worst_foot(feet: list[FootForce], by: str) -> tuple[FootForce, str]:
    worst = max(feet, key=lambda f: (getattr(f, by), f.node))
    return worst, "" if len(feet) == 1 else f" {many(len(feet), 'leg')} in all."


def under_the_legs(job: Job) -> bool:
    """Whether the feet stand on insulation, as far as the file says."""
    said = job.project.base.insulation.lower()
    return said not in ("none", "no") and not ("under the slab" in said or "below the slab" in said)


def insulation_unknown(job: Job) -> Iterator[Finding]:
    base = job.project.base
    if not under_the_legs(job) or base.insulation_carries is not None:
        return
    carries = mm(limit("foam_carries").value)
    yield found(
        "stop",
        "insulation-unknown",
        "Nobody knows how much the insulation under the feet bears for good: a foot is small and foam is soft.",
        where="base",
        source=limit("foam_carries").source,
        cures=(
            "open up at one spot and look what the feet would stand on",
            f"the board's own long-term bearing value (insulation carries); a common foam board bears about {carries}"
            " kPa",
        ),
        place=base.marks.of("insulation"),
    )


CHECKS = (foot_on_pipe, saddle_room, foot_load, foot_pressure, insulation_unknown)
