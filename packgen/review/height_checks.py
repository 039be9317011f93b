"""Checks of levels and depths: the window of finished levels, depth rules, cover, rails over pipes, steps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.core.worked import FILE, By, Given
from packgen.heights.bounds import cover_given, least_given
from packgen.heights.model import Bound, DoorStep, RailOverService, ZoneHeights
from packgen.heights.place_lines import depth_key
from packgen.project.given import given
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.grid_rules import grid_rule, value

DOOR = "step at door"  # the window's rule at an inside door


def zones_judged(job: Job) -> tuple[ZoneHeights, ...]:
    """What is judged zone by zone; a plan of one zone without its own row is that zone."""
    h = job.heights
    return h.by_zone or (ZoneHeights(h.zones[0].name, job.project.fills.use, h.window, h.rule, h.depth),)


def _in_zone(job: Job, zone: str) -> str:
    return f" in {zone}" if len(job.heights.zones) > 1 else ""


def no_height_fits(job: Job) -> Iterator[Finding]:
    """The ends of the window cross: both rules are named, and what each would have to give."""
    for zone in zones_judged(job):
        window = zone.window
        if not window.at_least or not window.at_most or not window.empty:
            continue
        low, high = window.at_least[0], window.at_most[0]
        gap = figures.round_up(low.level_mm - high.level_mm)
        yield found(
            "stop",
            "no-height-fits",
            f"No finished level fits{_in_zone(job, zone.zone)}: {_rule(low)} asks for {job.level(low.level_mm)} or "
            f"more, {_rule(high)} for {job.level(high.level_mm)} or less. {mm(gap)} apart.",
            where=_in_zone(job, zone.zone).removeprefix(" in "),
            number=By(low.level_mm, f"{_window(job, zone.zone)}/at least"),
            limit=By(high.level_mm, f"{_window(job, zone.zone)}/at most"),
            unit="mm",
            source=low.source or high.source or FILE,
            cures=_giving_way(low, high, gap),
            place=zone_place(job, zone.zone, "finished level"),
        )


def level_decided(job: Job) -> Iterator[Finding]:
    """A finished level left open: the plan offers one, and somebody has to take it."""
    for top in job.heights.zones:
        if top.asked_mm is not None:
            continue
        at = job.level(top.finished_mm)
        zone = next((z for z in zones_judged(job) if z.zone == top.name), None)
        offered = zone is not None and zone.window.offered_mm is not None
        why = f" ({zone.window.why_offered})" if zone is not None and offered else ""
        yield found(
            "stop",
            "level-undecided",
            f"The finished level{_in_zone(job, top.name)} is left open. The plan "
            f"{'offers' if offered else 'is drawn with'} {at}{why}; nobody has decided yet.",
            where=_in_zone(job, top.name).removeprefix(" in "),
            source=FILE,
            cures=(f"write the level into the file: finished level: {at}",),
            place=zone_place(job, top.name, "finished level"),
            more=(f"zone/{top.name}/finished",),
        )


def _window(job: Job, zone: str) -> str:
    """What the keys of a zone's window begin with."""
    return "window" if len(job.heights.by_zone) <= 1 else f"zone/{zone}/window"


def _giving_way(low: Bound, high: Bound, gap_mm: float) -> list[str]:
    """What each of the two rules would have to give; a door gives by a ramp strip, and no fill changes a door."""
    doors = [b.place for b in (low, high) if b.rule == DOOR]
    cures = [f"let {_rule(b)} give {mm(gap_mm)}" for b in (low, high)]
    cures += [f"a ramp strip at the {door} (ramp strip: yes)" for door in doors]
    return list(dict.fromkeys(cures if len(doors) == 2 else [*cures, "another fill"]))


def _rule(bound: Bound) -> str:
    if bound.rule == DOOR:
        return f"the step at the {bound.place}"
    if not bound.place or bound.place in bound.rule:
        return bound.rule
    return f"{bound.rule} {bound.place}" if bound.place.startswith("near ") else f"{bound.rule} at {bound.place}"


def zone_place(job: Job, zone: str, key: str) -> Place | None:
    record = job.file_zone(zone)
    return record.marks.of(key) if record else None


def depth_rules(job: Job) -> Iterator[Finding]:
    """Smallest and greatest depth of each zone against the larger of the file's and the published rule."""
    for zone in zones_judged(job):
        d, rule = zone.depth, zone.rule
        fill = dict(job.project.fills.described).get(zone.fill) or job.fill
        place = fill.marks.of("thickness")
        if d.least_mm < rule.least_mm:
            short = figures.round_up(rule.least_mm - d.least_mm)
            yield found(
                "stop",
                "depth-too-small",
                f"Round {job.near(d.least_at)} {_would_be(d.least_mm)}; {mm(rule.least_mm)} is the least "
                f"for {zone.fill}.{_bays_under(job, rule.least_mm)}",
                where=job.near(d.least_at),
                number=By(d.least_mm, depth_key(d.least_at)),
                limit=least_given(rule, fill),
                unit="mm",
                source=rule.source,
                cures=(
                    f"take {mm(short)} off the base there",
                    f"raise the finished level {mm(short)}",
                    "another fill, with a smaller least depth",
                ),
                place=place,
            )
        if d.most_mm > rule.most_mm:
            over = figures.round_up(d.most_mm - rule.most_mm)
            yield found(
                "stop",
                "depth-too-great",
                f"At {job.near(d.most_at)} the fill would be {mm(d.most_mm)}; the bag allows {mm(rule.most_mm)}.",
                where=job.near(d.most_at),
                number=By(d.most_mm, depth_key(d.most_at)),
                limit=given(fill.thickness, "most", "greatest depth of the fill", rule.most_mm),
                unit="mm",
                source=FILE,
                cures=(
                    f"build the base up there by {mm(over)} first",
                    "a second layer, if the bag's sheet allows one",
                    "another fill, with a greater depth",
                ),
                place=place,
            )


def _bays_under(job: Job, least_mm: float) -> str:
    bays = [name for name, d in job.heights.bay_depths if d.least_mm < least_mm]
    return f" {many(len(bays), 'bay')} too thin: {figures.listed(bays)}." if len(bays) > 1 else ""


def pipe_cover(job: Job) -> Iterator[Finding]:
    """Cover over each pipe at its tightest place."""
    for cover in job.heights.covers:
        if cover.needed_mm is None or cover.cover_mm >= cover.needed_mm:
            continue
        short = figures.round_up(cover.needed_mm - cover.cover_mm)
        service = job.service(cover.service)
        yield found(
            "stop",
            "pipe-cover-small",
            f"Over {cover.service} near {job.near(cover.at)} the cover is {mm(cover.cover_mm)}; "
            f"{mm(cover.needed_mm)} is needed. {mm(short)} short.",
            where=f"{cover.service}, {job.near(cover.at)}",
            number=By(cover.cover_mm, f"cover/{cover.service}"),
            limit=cover_given(job.project.heating, cover.needed_mm, job.heights.rule),
            unit="mm",
            source=FILE
            if job.project.heating and job.project.heating.least_cover_over_pipe
            else job.heights.rule.cover or FILE,
            cures=(
                f"take {mm(short)} off a hump in the base there",
                f"raise the finished level {mm(short)}",
                "a lower support under the pipe, or a thinner pipe",
            ),
            place=service.marks.of("outside") if service else None,
        )


def pipe_blocks_rail(job: Job) -> Iterator[Finding]:
    """Rails that do not pass over a service: one finding a service, the tightest crossing named."""
    for run in job.layout.services:
        tight = [c for c in job.crossings.get(run.name, ()) if c.free_mm < 0]
        if not tight:
            continue
        worst = min(tight, key=lambda c: c.free_mm)
        service = job.service(run.name)
        yield found(
            "stop",
            "pipe-blocks-rail",
            f"{run.name} needs {mm(worst.needed_mm)} under rail {worst.rail}; there are {mm(worst.depth_mm)}."
            f"{_more_crossings(tight)}",
            where=f"{run.name}, {figures.listed(sorted({c.rail for c in tight}))}",
            number=By(worst.depth_mm, depth_key(worst.at)),
            limit=By(worst.needed_mm, f"under rail/{run.name}"),
            unit="mm",
            source=grid_rule("over_service").source,
            cures=_over_service_cures(job, figures.round_up(-worst.free_mm)),
            place=service.marks.of("outside") if service else None,
        )


def rail_raised(job: Job) -> Iterator[Finding]:
    """Rails raised locally over a service: boards take it up, if somebody sees to it."""
    for run in job.layout.services:
        up = [c for c in job.crossings.get(run.name, ()) if c.raised_mm]
        if not up:
            continue
        most = max(up, key=lambda c: (c.raised_mm, c.rail))
        rails = figures.listed(sorted({c.rail for c in up}))
        yield found(
            "caution",
            "rail-raised",
            f"Rail {most.rail} is raised {mm(most.raised_mm)} where {run.name} passes below it; the fill is struck off "
            f"on it, so the boards rise there. {many(len(up), 'crossing')}: {rails}.",
            where=f"{run.name}, {rails}",
            source=FILE,
            cures=(
                "plane or pack the boards to a long even slope there",
                f"raise the whole zone by {mm(most.raised_mm)}",
            ),
            place=job.project.kit.marks.of("raise rail locally"),
        )


def _more_crossings(tight: list[RailOverService]) -> str:
    return f" {many(len(tight), 'crossing')} too tight." if len(tight) > 1 else ""


def _over_service_cures(job: Job, short_mm: float) -> tuple[str, ...]:
    interrupt = f"interrupt the rail, with a leg each side not more than {mm(value('leg_at_cut_end'))} from the cut end"
    rest = (interrupt, "move the grid so that the rail runs beside it", "chase the pipe into the base")
    if short_mm <= value("raise_rail_most"):
        locally = f"raise the rail there, which boards take up (raise rail locally: {mm(short_mm)})"
        boarded = job.fill.board_on_top is not None and job.project.kit.raise_rail_locally is None
        return (f"raise the whole zone by {mm(short_mm)}", *([locally] if boarded else []), *rest)
    return rest


def step_at_door(job: Job) -> Iterator[Finding]:
    """Steps at the doors of the inside over the limit."""
    for door in job.judged_doors:
        if abs(door.step_mm) <= door.limit_mm:
            continue
        opening = job.opening(door.door)
        strip = opening.ramp_strip == "yes"
        turn = "above" if door.step_mm > 0 else "below"
        meets = "sill" if opening.sill is not None else "floor there"
        yield found(
            "caution" if strip else "stop",
            "step-at-door",
            f"At the {door.door} the floor would be {mm(abs(door.step_mm))} {turn} the {meets}; "
            f"{mm(door.limit_mm)} is allowed without a strip{', and a ramp strip is planned' if strip else ''}.",
            where=door.door,
            number=By(abs(door.step_mm), f"door/{door.door}"),
            limit=step_given(job, door.limit_mm),
            unit="mm",
            source=FILE,
            cures=(*_other_level(job, door), "a ramp strip at this door (ramp strip: yes)"),
            place=opening.marks.of("name"),
        )


def step_given(job: Job, limit_mm: float) -> Given:
    return given(job.project.limits, "step without ramp strip", "step allowed without a ramp strip", limit_mm)


def _other_level(job: Job, door: DoorStep) -> tuple[str, ...]:
    """The level with the smallest worst step over all doors, and the steps it leaves (J9)."""
    doors = job.judged_doors
    met = [d.meets_mm for d in doors]
    middle = math.floor((min(met) + max(met)) / 2)  # a tie goes to the lower
    if len(doors) < 2 or min(met) == max(met):
        return (f"finished level {job.level(door.meets_mm)} at this door: no step",)
    steps = [f"{mm(abs(middle - d.meets_mm))} at the {d.door}" for d in doors]
    over = [d.door for d in doors if abs(middle - d.meets_mm) > d.limit_mm]
    strips = f", with a ramp strip at {figures.listed([f'the {name}' for name in over])}" if over else ""
    return (f"finished level {job.level(middle)}: steps {figures.listed(steps)}{strips}",)


def step_at_obstacle(job: Job) -> Iterator[Finding]:
    """Things that stay and have a top: their edge is treated as a door."""
    stays = {o.name for room in job.project.rooms for o in room.obstacles}
    for edge in job.heights.edges:
        if edge.door not in stays or abs(edge.step_mm) <= edge.limit_mm:
            continue
        turn = "below" if edge.step_mm < 0 else "above"
        yield found(
            "caution",
            "step-at-obstacle",
            f"The floor would be {mm(abs(edge.step_mm))} {turn} the {edge.door}; {mm(edge.limit_mm)} is allowed at an "
            "edge that people cross.",
            where=edge.door,
            number=By(abs(edge.step_mm), f"edge/{edge.door}"),
            limit=step_given(job, edge.limit_mm),
            unit="mm",
            source=FILE,
            cures=("a bevelled strip along its edge", f"finished level {job.level(edge.meets_mm)}: no step"),
            place=_obstacle_place(job, edge.door),
        )


def _obstacle_place(job: Job, name: str) -> Place | None:
    obstacles = [o for room in job.project.rooms for o in room.obstacles if o.name == name]
    return obstacles[0].marks.of("top") if obstacles else None


CHECKS = (
    no_height_fits,
    level_decided,
    depth_rules,
    pipe_cover,
    pipe_blocks_rail,
    rail_raised,
    step_at_door,
    step_at_obstacle,
)


def _would_be(depth_mm: float) -> str:
    """The depth in words, also where the base leaves none."""
    if depth_mm < 0:
        return f"the base stands {mm(-depth_mm)} above the rail top and no fill fits"
    return f"the fill would be {mm(depth_mm)}"
