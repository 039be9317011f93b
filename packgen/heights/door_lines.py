"""The arithmetic of steps at openings, at things that stay, and where zones meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.plane import Point
from packgen.core.worked import FILE, ON_PLAN, Given, Worked
from packgen.heights.doors import door_levels, zone_borders
from packgen.heights.place_lines import Sum
from packgen.heights.reckon import level_sum, term
from packgen.heights.top import Tops
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.room_model import Drain, Obstacle, Opening
from packgen.survey.doors import wall_number
from packgen.survey.model import Door, RoomOutline


def door_lines(project: Project, rooms: Sequence[RoomOutline], tops: Tops) -> Iterator[Worked]:
    """What each opening meets and the step there; the step at things that stay; the steps between zones."""
    openings = {o.name: o for o in project.openings}
    stays: dict[str, Obstacle | Drain] = {drain_name(d): d for d in project.drains}
    stays |= {o.name: o for r in project.rooms for o in r.obstacles}
    for room in rooms:
        for door in room.doors:
            if door.meets_mm is not None:
                yield _meets(door, door.meets_mm, openings.get(door.name), project.datum.name)
                zone, at = _worst(room, door, door.meets_mm, tops)
                meets = Sum((term(door.meets_mm),), (f"door/{door.name}/meets",), ())
                yield _step(f"door/{door.name}", f"step at {door.name}", project, tops, zone, at, meets)
                if door.sill_mm is not None and door.floor_there_mm is not None:
                    file = openings.get(door.name)
                    yield _step(
                        f"door/{door.name}/beyond",
                        f"step to the floor beyond {door.name}",
                        project,
                        tops,
                        zone,
                        at,
                        Sum((term(door.floor_there_mm),), (), (_beyond(door.name, door.floor_there_mm, file),)),
                    )
        for cut in room.cut_outs:
            if cut.top_mm is not None:
                top = cut.top_mm
                spots = [(tops.zone_at(room.name, c), c) for c in cut.shape.shell]
                zone, at = max(spots, key=lambda s: round(abs(tops.finished(*s) - top), 6))
                found = Sum((term(top),), (), (_top(cut.name, top, stays.get(cut.name)),))
                yield _step(f"edge/{cut.name}", f"step at {cut.name}", project, tops, zone, at, found)
    for n, border in enumerate(zone_borders(rooms, tops), 1):
        names = [z.name for z in tops.zones]
        first, second = names.index(border.first), names.index(border.second)
        ends = (border.line.a, border.line.b)
        at = max(ends, key=lambda p: abs(tops.finished(second, p) - tops.finished(first, p)))
        name = f"step from {border.first} to {border.second}"
        yield _step(f"border/{n}", name, project, tops, second, at, finished_sum(project, tops, first, at))


def drain_name(drain: Drain) -> str:
    """The name that a drain's cut-out bears."""
    return drain.name or (f"channel along wall {wall_number(drain.along)}" if drain.along is not None else drain.kind)


def _top(name: str, top: float, file: Obstacle | Drain | None) -> Given:
    says = f"top of {name}"
    return given(file, "top", says, abs(top)) if file is not None else Given(says, abs(top))


def _beyond(name: str, level_mm: float, file: Opening | None) -> Given:
    says = f"floor beyond {name}"
    return given(file, "floor there", says, abs(level_mm)) if file is not None else Given(says, abs(level_mm))


def _meets(door: Door, meets: float, file: Opening | None, datum: str) -> Worked:
    key = "floor there" if door.sill_mm is None else "sill"
    says = f"{'floor beyond' if key == 'floor there' else 'sill of'} {door.name}"
    numbers, size, side = level_sum([term(meets)], 0 if float(meets).is_integer() else 1)
    figure = given(file, key, says, size) if file is not None else Given(says, size)
    return Worked(
        f"door/{door.name}/meets",
        says,
        "as the file gives it",
        numbers,
        size,
        0 if float(meets).is_integer() else 1,
        f"{side} {datum}",
        FILE,
        given=(figure,),
    )


def _worst(room: RoomOutline, door: Door, meets: float, tops: Tops) -> tuple[int, Point]:
    """Zone and end of the opening at which the step is largest."""
    ends = [(zone, at) for (zone, _), at in zip(door_levels(room, door, tops), (door.line.a, door.line.b), strict=True)]
    return max(ends, key=lambda e: round(abs(tops.finished(*e) - meets), 6))


def finished_sum(project: Project, tops: Tops, zone: int, at: Point) -> Sum:
    """The finished level of a zone at a place as a sum."""
    top, fall = tops.zones[zone], tops.falls[zone]
    file = project.finishes[zone]
    level = file.finished_level.level
    as_asked = level is not None and abs(level - top.finished_mm) <= 1e-9
    says = f"finished level of {top.name}"
    start = Sum(
        (term(top.finished_mm),),
        () if as_asked else (f"zone/{top.name}/finished",),
        (given(file.finished_level, "level", says, abs(top.finished_mm)),) if as_asked else (),
    )
    metres = half_up(fall.along(at) / 1000, 6)
    if fall.per_m == 0 or metres == 0:
        return start
    return start.and_then(
        Sum(
            ((f"{plain(fall.per_m)} x {plain(abs(metres), 6)}", -fall.per_m * metres),),
            (),
            (
                given(file.fall, "per metre", f"fall of {top.name}, mm in a metre", fall.per_m, ""),
                Given("from where the fall starts to there", abs(metres), "m", ON_PLAN),
            ),
        )
    )


def _step(key: str, name: str, project: Project, tops: Tops, zone: int, at: Point, meets: Sum) -> Worked:
    found = finished_sum(project, tops, zone, at).and_then(meets.turned())
    exact = found.total
    digits = next((d for d in (0, 1, 2) if abs(half_up(exact, d) - exact) < 5e-7), 3)
    numbers, size, side = level_sum(found.terms, digits)
    way = "" if size == 0 else ", up into the room" if side == "mm above" else ", down into the room"
    return Worked(
        key,
        f"{name}{way}",
        "finished level there less what it meets",
        numbers,
        size,
        digits,
        "mm",
        FILE,
        found.needs,
        found.given,
    )
