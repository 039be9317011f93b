"""Sentences of the class sheets about one case: situation, givens, conventions, rules."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import level, listed, plain
from packgen.exercise.model import Blank, Case, CaseFill, CaseSetUp
from packgen.exercise.settings import Settings
from packgen.plan import Plan
from packgen.survey.model import RoomOutline


def situation(plan: Plan, case: Case, settings: Settings, book_alone: bool = False) -> tuple[str, ...]:
    """The task in short sentences. book_alone: levels are asked and nothing that is built on them."""
    project = plan.project
    room = room_of(plan, case)
    walls = listed([plain(w.taped_mm) for w in room.walls], "and", 30)
    others = f" Zone {case.zone} only." if len(plan.heights.zones) > 1 else ""
    aim = f"{project.project.aim[:1].upper()}{project.project.aim[1:]}." if project.project.aim else ""
    read = {r.spot for s in project.levels.setups for r in s.readings}
    spots = f"The base was read at {len(read)} places from " + (
        f"{len(case.setups)} positions of the laser." if len(case.setups) > 1 else "one position of the laser."
    )
    given = "The levels of the base are given." if not case.setups else spots
    day = f"Set heights by today's backsight: {plain(case.backsight_mm)} on {case.datum}."
    built = (
        ()
        if book_alone
        else (
            f"The finished floor is to lie {finished(case)}.",
            f"Rails every {plain(project.kit.module)}, first line {plain(project.kit.first_line_from_wall)} from the "
            f"wall; fill: {case.fill.name}.",
            day,
        )
    )
    return tuple(
        line
        for line in (
            "" if book_alone else aim,
            f"Room {room.name}: walls in walking order {walls}.{others}",
            given,
            *built,
        )
        if line
    )


def room_of(plan: Plan, case: Case) -> RoomOutline:
    """The room in which the legs are asked."""
    asked = {leg.node for leg in case.legs}
    names = [n.room for n in plan.layout.nodes if n.id in asked]
    return next((r for r in plan.survey.rooms if r.name in names[:1]), plan.survey.rooms[0])


def finished(case: Case) -> str:
    """Where the finished floor lies, with its fall."""
    words = level(case.finished_mm, case.datum)
    return f"{words} where the fall starts, and falls {case.fall_words}" if case.fall_per_m else words


def given_rows(case: Case, level_of: int) -> tuple[tuple[str, str], ...]:
    """Name and value of everything that is given besides the readings."""
    kit = case.kit
    rows = [
        ("finished level", finished(case)),
        (f"layers, {case.fill.name}", layers(case.fill)),
    ]
    if case.other is not None:
        rows.append((f"layers, {case.other.name}", layers(case.other)))
    plain_leg = kit.ranges[0]
    rows.append(("leg, base to rail top", f"{plain(plain_leg[1])} to {plain(plain_leg[2])}"))
    for count, low, high in kit.ranges[1:]:
        name = "leg with extension" if count == 1 else f"leg with {count} extensions"
        rows.append((name, f"{plain(low)} to {plain(high)}"))
    if kit.packings:
        rows.append(("hard packing under the foot", f"{listed([plain(p) for p in kit.packings], 'or', 12)} thick"))
    rows.append(("rail", f"{plain(kit.rail_high_mm)} high"))
    rows.append((f"backsight today on {case.datum}", plain(case.backsight_mm)))
    return tuple(rows)


def layers(fill: CaseFill) -> str:
    """The layers above the rail from the top."""
    return ", ".join(f"{layer.name} {plain(layer.mm)}" for layer in fill.layers) or "none: the fill is the floor"


def fill_rows(fill: CaseFill, case: Case, with_weight: bool) -> tuple[tuple[str, str], ...]:
    """What is given of a fill."""
    rows = [("bag", f"{plain(fill.bag_kg)} kg makes {plain(fill.bag_l)} L")]
    if fill.settles:
        rows.append(("settles", f"{plain(fill.settles * 100)} %"))
    rows.append(("waste", f"{plain(fill.waste * 100)} %"))
    if fill.water_l is not None:
        rows.append(("water a bag", f"{plain(fill.water_l[0])} to {plain(fill.water_l[1])} L"))
    if with_weight:
        rows.append(("density fresh, hardened", f"{plain(fill.fresh_kg_m3)}, {plain(fill.hardened_kg_m3)} kg/m³"))
        rows.append(("layers and grid", f"{plain(fill.layers_kg_m2)} and {plain(case.kit.kg_m2)} kg/m²"))
        if fill.drying is not None:
            first, fast, slow = fill.drying
            rows.append(("keep covered", f"{fill.covered_days} days"))
            rows.append(("drying", f"first {plain(first)} mm at {plain(fast)} a day, rest at {plain(slow)} a day"))
    return tuple(rows)


def conventions(case: Case, book_alone: bool = False) -> tuple[str, ...]:
    """What is agreed, so that nobody is marked down for another good way."""
    lines = [
        f"Say heights in words: above or below {case.datum}. No minus sign.",
        "Levels to 1 mm, half up in size. A printed figure that is used again is used as printed."
        if book_alone
        else "Levels, legs and targets to 1 mm, half up in size. Depths to 0.1 mm. Litres to 1 L. Bags whole, rounded "
        "up once a pour. A printed figure that is used again is used as printed.",
        "A bigger staff reading is a lower place.",
    ]
    if any(s.misclosed for s in case.setups):
        lines.insert(
            2,
            "Misclosure: every reading taken from set-up k of N gets k/N of it, rounded to 1 mm; the last set-up takes "
            "all. Too high: take off. Too low: add.",
        )
    return tuple(lines)


def rules_of(blanks: Sequence[Blank]) -> tuple[tuple[str, str], ...]:
    """Kind and rule of what is asked, each rule once, in working order. No figure stands in them."""
    seen: dict[str, str] = {}
    for blank in blanks:
        rule = blank.rule
        if blank.kind == "correction":
            rule = "correction of set-up k of N = misclosure × k / N, the other way"
        seen.setdefault(rule, "change point" if blank.id.startswith("point/") else blank.kind)
    return tuple((kind, rule) for rule, kind in seen.items())


def first_line(case: Case, setup: CaseSetUp) -> str:
    """The example of the first height of collimation, whose sum is all given."""
    start = level(setup.start_mm or 0.0, case.datum)
    return (
        f"{setup.name} starts on {setup.start}, level 0: the backsight is the height of its line above {case.datum}."
        if not setup.start_mm
        else f"{setup.name} starts on {setup.start}, {start}."
    )
