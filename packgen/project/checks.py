"""Faults that need two values or more, or would make a later stage impossible. Each check names its sections."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.core.place import Marks, Place
from packgen.project import (
    closing_checks,
    doorway_checks,
    floor_checks,
    leg_checks,
    level_checks,
    rail_checks,
    room_checks,
    walk,
    wall_checks,
)
from packgen.project.figure_checks import above_zero, least_most
from packgen.project.guess import likely_word
from packgen.project.room_model import ProjectInfo, Room
from packgen.project.work_model import (
    Calendar,
    Exercise,
    Fill,
    Fills,
    Heating,
    Kit,
    Person,
    Plant,
    Rates,
)
from packgen.trade.plausible import plausible


def names_fit(project: ProjectInfo) -> Iterable[Fault]:
    longest = int(plausible("text", "longest_name"))
    logo = project.contractor.logo if project.contractor else None
    if logo is not None and project.contractor is not None:
        inside = not re.match(r"[\\\\/]|[A-Za-z]:", logo) and ".." not in re.split(r"[\\\\/]", logo)
        if not inside or not logo.lower().endswith((".png", ".svg", ".jpg", ".jpeg")):
            says = f"logo: '{logo}' is not the name of a PNG, SVG or JPEG inside the project's folder"
            yield Fault(project.contractor.marks.of("logo"), "path-outside", says)
    for key in ("name", "reference", "revision", "prepared by"):
        text = getattr(project, key.replace(" ", "_"))
        if len(text) > longest:
            says = f"{key}: the text has {len(text)} characters, and the head of a sheet has room for {longest}"
            yield Fault(project.marks.of(key), "text-too-long", says)


def layout_known(pack_layout: int) -> Iterable[Fault]:
    if pack_layout != 1:
        says = f"pack layout: {pack_layout} is not known here, only 1: was the file written for a newer packgen?"
        yield Fault(Place(1, 1), "layout-unknown", says)


def kit(kit: Kit) -> Iterable[Fault]:
    """A grid can be made of it."""
    least, most = plausible("kit", "smallest_module_mm"), plausible("kit", "largest_module_mm")
    if kit.module <= 0:
        yield Fault(
            kit.marks.of("module"),
            "not-above-zero",
            f"a module of {plain(kit.module)} makes no grid: it must be more than 0",
        )
    elif not least <= kit.module <= most:
        near = next((m for m in (kit.module * 10, kit.module * 1000, kit.module / 10) if least <= m <= most), None)
        says = f"a module of {plain(kit.module)} mm is not between {plain(least)} and {plain(most)}"
        yield Fault(kit.marks.of("module"), "module-size", says, plain(near) if near else None)
    module_fits = least <= kit.module <= most
    yield from above_zero(kit.rail.marks, "a rail", width=kit.rail.width, height=kit.rail.height)
    yield from rail_checks.rail(kit, module_fits)
    yield from leg_checks.legs(kit)
    yield from above_zero(kit.foot.marks, "a foot", diameter=kit.foot.diameter, load_limit=kit.foot.load_limit)
    if module_fits:
        for key, value in (
            ("first line from wall", kit.first_line_from_wall),
            ("edge strip", kit.edge_strip),
            ("smallest cut piece", kit.smallest_cut_piece),
        ):
            if value >= kit.module:
                says = f"{key}: {plain(value)} is not less than the module ({plain(kit.module)})"
                yield Fault(kit.marks.of(key), "more-than-module", says)
        for key, value in zip(("along wall 1", "from wall 1"), kit.starts_mm, strict=True):
            if kit.first_lines and value >= kit.module:
                says = f"{key}: {plain(value)} is not less than the module ({plain(kit.module)})"
                yield Fault(kit.first_lines.marks.of(key), "more-than-module", says)
        if kit.rail.width >= kit.module:
            yield Fault(
                kit.rail.marks.of("width"),
                "more-than-module",
                f"width: a rail of {plain(kit.rail.width)} fills the module ({plain(kit.module)})",
            )
    if kit.packing:
        for plate in kit.packing.plates:
            if plate <= 0:
                yield Fault(
                    kit.packing.marks.of("plates"),
                    "not-above-zero",
                    "packing: a plate of 0 makes no sense: it must be more than 0",
                )


def fills(fills: Fills) -> Iterable[Fault]:
    """The fills that are used are described, and their figures are possible."""
    names = [name for name, _ in fills.described]
    if not names:
        yield Fault(fills.marks.start, "fill-unknown", "no fill is described under 'fills'")
    for key, asked in (("use", (fills.use,)), ("compare", fills.compare)):
        for name in asked:
            if names and name not in names:
                says = f"'{name}' is not described under 'fills', which has {', '.join(repr(n) for n in names)}"
                yield Fault(fills.marks.of(key), "fill-unknown", says, likely_word(name, names))
    for name, fill in fills.described:
        yield from _fill(name, fill)


def _fill(name: str, fill: Fill) -> Iterable[Fault]:
    yield from above_zero(fill.bag.marks, "a bag", mass=fill.bag.mass, makes=fill.bag.makes)
    yield from above_zero(
        fill.marks, "a density", fresh_density=fill.fresh_density, hardened_density=fill.hardened_density
    )
    yield from above_zero(fill.marks, "a conductivity", conductivity=fill.conductivity)
    yield from above_zero(fill.marks, "a time", working_time=fill.working_time)
    yield from _waits(
        fill.marks, walk_on_after=fill.walk_on_after, keep_covered=fill.keep_covered, load_after=fill.load_after
    )
    if 0 < fill.bag.makes < plausible("work", "smallest_bag_l"):
        says = f"makes: a bag of {name} makes {plain(fill.bag.makes)} l: is it in litres?"
        yield Fault(fill.bag.marks.of("makes"), "too-small", says)
    for key, value in (("fresh density", fill.fresh_density), ("hardened density", fill.hardened_density)):
        if value > plausible("fill", "heaviest_kg_m3"):
            says = f"{key}: {plain(value)} kg/m3 is heavier than any fill: is there a figure too many?"
            yield Fault(fill.marks.of(key), "too-large", says)
    if fill.water:
        yield from least_most(fill.water.marks, f"water of {name}", fill.water.least, fill.water.most)
    yield from least_most(fill.thickness.marks, f"thickness of {name}", fill.thickness.least, fill.thickness.most)
    if fill.drying:
        d = fill.drying
        for value, key in ((d.first_rate, "first rate"), (d.rest_rate, "rest rate")):
            if value <= 0:
                yield Fault(d.marks.of(key), "not-above-zero", f"drying of {name}: at 0 mm per day it never dries")
            elif value < plausible("work", "slowest_drying_mm_per_day"):
                yield Fault(
                    d.marks.of(key), "too-small", f"drying of {name}: at {plain(value, 6)} mm per day it never dries"
                )
    for key, value in (("waste", fill.waste), ("settles", fill.settles)):
        if value >= 1:
            yield Fault(
                fill.marks.of(key), "not-a-share", f"{key}: {plain(value * 100)} % of {name} would leave nothing"
            )
    if fill.board_on_top:
        yield from rail_checks.board(name, fill.board_on_top)
    if fill.board_on_top and fill.board_on_top.thickness <= 0:
        yield Fault(
            fill.marks.of("board on top"),
            "not-above-zero",
            f"board on top of {name}: a board of 0 is none: write 'none'",
        )


def _waits(marks: Marks, **days: int | None) -> Iterable[Fault]:
    longest = plausible("work", "longest_wait_days")
    for name, value in days.items():
        if value is not None and value > longest:
            key = name.replace("_", " ")
            yield Fault(
                marks.of(key), "too-large", f"{key}: {value} days is longer than any job: is there a figure too many?"
            )


def legs_counted(rooms: Sequence[Room], kit: Kit) -> Iterable[Fault]:
    """Not more legs than anybody sets."""
    if kit.module < plausible("kit", "smallest_module_mm"):
        return
    legs = sum(walk.area_mm2(room) for room in rooms) / kit.module**2
    if legs > plausible("length", "most_legs"):
        says = f"a module of {plain(kit.module)} would need {plain(legs, 0)} legs: is it right, and are the walls?"
        yield Fault(kit.marks.of("module"), "too-large", says)


def heating(heating: Heating | None) -> Iterable[Fault]:
    if heating is None:
        return
    yield from _waits(heating.marks, heat_up_not_before=heating.heat_up_not_before)
    for stage in (heating.first_stage, heating.second_stage, heating.cool_down):
        if stage is not None:
            yield from _waits(stage.marks, days=stage.days)
    if heating.test_pressure:
        p = heating.test_pressure
        yield from least_most(p.marks, "test pressure", p.least, p.most)


def people(crew: Sequence[Person], plant: Sequence[Plant], rates: Rates) -> Iterable[Fault]:
    """Somebody works, and at some rate."""
    for person in crew:
        if person.number > plausible("work", "most_of_a_kind"):
            yield Fault(
                person.marks.of("number"), "too-large", f"{person.role}: {person.number} is more than any crew has"
            )
        if person.number < 1:
            yield Fault(person.marks.of("number"), "not-above-zero", f"{person.role}: 'number' must be 1 or more")
    for item in plant:
        if item.output is not None and item.output <= 0:
            yield Fault(item.marks.of("output"), "not-above-zero", f"{item.item}: an output of 0 fills nothing")
    for person in crew:
        if person.hours_a_day < plausible("work", "shortest_day_h"):
            says = f"{person.role}: a day of {plain(person.hours_a_day)} hours is too short to begin"
            yield Fault(person.marks.of("hours a day"), "too-small", says)
    for key, rate in (
        ("set grid", rates.set_grid),
        ("place fill", rates.place_fill),
        ("finish", rates.finish),
        ("lay boards", rates.lay_boards),
    ):
        if rate is not None and rate.value <= 0:
            yield Fault(rates.marks.of(key), "not-above-zero", f"{key}: at a rate of 0 the work never ends")
        elif rate is not None and rate.value < plausible("work", f"slowest_{rate.unit}_per_hour"):
            says = f"{key}: at {plain(rate.value, 6)} {rate.unit} per person hour the work never ends"
            yield Fault(rates.marks.of(key), "too-small", says)
        elif rate is not None and rate.unit != "m2" and key != "place fill":
            yield Fault(
                rates.marks.of(key), "wrong-unit", f"{key}: a rate in m2 per person hour is wanted here, not in litres"
            )


def calendar(calendar: Calendar) -> Iterable[Fault]:
    night = calendar.lowest_night_temperature
    figures = [] if night is None else [night.always, *(t for _, t in night.by_night)]
    for figure in figures:
        if figure is not None and not plausible("night", "coldest_c") <= figure <= plausible("night", "warmest_c"):
            says = f"lowest night temperature: {plain(figure)} C is no night anybody works in: is a figure wrong?"
            yield Fault(calendar.marks.of("lowest night temperature"), "too-large", says)
    if not calendar.working_days:
        yield Fault(
            calendar.marks.of("working days"), "empty", "'working days' names no day: nothing would ever be done"
        )
    if calendar.ready_by is not None and calendar.ready_by < calendar.start:
        says = f"ready by {calendar.ready_by} lies before the start on {calendar.start}"
        yield Fault(calendar.marks.of("ready by"), "end-before-start", says)
    free = [d for d in calendar.not_working if d >= calendar.start]
    if len(free) > 3 * 366:
        yield Fault(calendar.marks.of("not working"), "too-large", "'not working' names more than three years of days")


def exercise(exercise: Exercise | None) -> Iterable[Fault]:
    if exercise is None:
        return
    for key, value in (
        ("pupils", exercise.pupils),
        ("group size", exercise.group_size),
        ("versions", exercise.versions),
    ):
        if value < 1:
            yield Fault(exercise.marks.of(key), "not-above-zero", f"{key}: it must be 1 or more")
        elif value > plausible("work", "most_of_a_kind"):
            yield Fault(exercise.marks.of(key), "too-large", f"{key}: {value} is more than any class has")
    m = exercise.marks_for
    if m is not None:
        total = m.method + m.answer + m.units_and_tidiness
        if abs(total - 1) > 1e-6:
            yield Fault(
                exercise.marks.of("marks"), "marks-sum", f"the marks add up to {plain(total * 100)} %, and not to 100 %"
            )


Check = tuple[tuple[str, ...], Callable[..., Iterable[Fault]]]

# A fault of one of these leaves nothing that other checks of the section could hold on to.
FIRST = (wall_checks.walls, room_checks.rooms_named, level_checks.units)

CHECKS: tuple[Check, ...] = (
    (("project",), names_fit),
    (("pack_layout",), layout_known),
    (("rooms",), room_checks.rooms_named),
    (("rooms",), wall_checks.walls),
    (("rooms",), wall_checks.tapes),
    (("rooms",), room_checks.room_parts),
    (("rooms", "openings"), room_checks.openings_in_walls),
    (("rooms", "openings"), doorway_checks.doorways),
    (("rooms", "finishes"), floor_checks.zones),
    (("finishes", "fills"), floor_checks.zone_fills),
    (("finishes", "drains"), floor_checks.falls_to_drains),
    (("rooms", "services"), floor_checks.services),
    (("finishes", "services"), floor_checks.coil_zones),
    (("rooms", "joints"), floor_checks.joints),
    (("rooms", "base"), floor_checks.base_steps),
    (("rooms", "drains"), floor_checks.drains),
    (("kit",), kit),
    (("rooms", "kit"), legs_counted),
    (("fills",), fills),
    (("heating",), heating),
    (("crew", "plant", "rates"), people),
    (("calendar",), calendar),
    (("exercise",), exercise),
    (("levels",), level_checks.grid),
    (("rooms", "levels"), level_checks.grid_in_room),
    (("datum", "spoken"), level_checks.datum_names),
    (("datum", "levels", "spoken"), level_checks.points),
    (("levels",), level_checks.units),
    (("levels",), closing_checks.rule_complete),
    (("levels", "laser"), closing_checks.distances),
    (("datum", "levels", "laser"), closing_checks.closing),
)


def check(sections: Mapping[str, Any]) -> list[Fault]:
    """Runs every check whose sections are there; a section with a fault of its own is left out."""
    faults: list[Fault] = []
    there = dict(sections)
    for needs, run in CHECKS:
        if all(n in there for n in needs):
            found = list(run(*(there[n] for n in needs)))
            if found and run in FIRST:
                for n in needs:
                    there.pop(n)
            faults += found
    return faults
