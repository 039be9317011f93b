"""A plan becomes a case: the numbers that stand on a pupil's sheets, taken from the plan as it prints them."""

from __future__ import annotations

import random
from collections.abc import Sequence

from packgen.core.figures import half_up, plain, round_down, whole
from packgen.core.plane import Polygon, Segment, bounds, centroid, contains, pieces_inside
from packgen.exercise.model import (
    Case,
    CaseFill,
    CaseKit,
    CaseLayer,
    CasePart,
    CaseRail,
)
from packgen.exercise.pick import down_m, pick_legs, pick_spots
from packgen.exercise.setups import case_setups, needed_setups
from packgen.heights.build_up import board_materials, is_board
from packgen.heights.for_fill import with_fill
from packgen.heights.kit_range import kit_range
from packgen.heights.model import ZoneTop
from packgen.layout.model import Bay
from packgen.plan import Plan
from packgen.project.work_model import Layer, Zone
from packgen.quantities.compare import covered_days, drying_rates
from packgen.quantities.weight import zone_weights
from packgen.trade.classroom import asked

BONDS = ("adhesive", "bond", "glue", "mat", "underlay", "mortar bed")


def case_of(plan: Plan, pupil: int, seed: str, level: int, sign: str = "") -> Case:
    """The case of a plan with a backsight of the day; `level` sets how much is asked. AssertionError without one.

    sign: the plan's sign, as it stands on the sheets
    """
    today = plan.project.today
    assert today is not None, "an exercise has a backsight of the day"
    zone = main_zone(plan)
    setups = case_setups(plan.project)
    chance = random.Random(f"{seed}/asked")
    legs = pick_legs(plan, zone, setups, asked("spots", level), chance)
    spots = pick_spots(plan, zone, setups, legs, asked("spots", level), chance)
    fill_name = _zone(plan, zone).fill or plan.project.fills.use
    other_name = _other(plan, zone, fill_name) if level == 3 else None
    parts = _parts(plan, zone, fill_name)
    other = _fill(plan, zone, other_name) if other_name else None
    return Case(
        pupil=pupil,
        seed=seed,
        sign=sign,
        datum=plan.project.datum.name,
        setups=needed_setups(setups, spots),
        spots=spots,
        zone=zone.name,
        finished_mm=zone.finished_mm,
        fall_per_m=zone.fall_per_m,
        fall_words=zone.falls_in_words if zone.fall_per_m else "",
        backsight_mm=float(today.backsight),
        legs=legs,
        parts=parts[: asked("parts", level)],
        fill=_fill(plan, zone, fill_name),
        other=other,
        whole=_whole(plan, zone, parts, other) if other else None,
        rail=_rail(plan, zone),
        kit=_kit(plan),
    )


def main_zone(plan: Plan) -> ZoneTop:
    """The largest zone: the exercise is about its floor."""
    return max(plan.heights.zones, key=lambda z: sum(_area(p) for p in z.region))


def _area(p: Polygon) -> float:
    x0, y0, x1, y1 = bounds(p)
    return (x1 - x0) * (y1 - y0)


def _zone(plan: Plan, top: ZoneTop) -> Zone:
    return next(z for z in plan.project.finishes if z.zone == top.name)


# ------------------------------------------------------------------------------------ parts of the fill


def _parts(plan: Plan, zone: ZoneTop, fill: str) -> tuple[CasePart, ...]:
    """A part a pour, only the bays of this zone."""
    out: list[CasePart] = []
    bays = {b.name: b for b in plan.layout.bays}
    rows = {r.bay: r for r in plan.quantities.bays if r.zone == zone.name}
    for pour in plan.sequence.pours:
        names = [n for n in pour.bays if n in rows]
        if pour.fill not in ("", fill) or not names:
            continue
        mine = [rows[n] for n in names]
        shapes = [bays[n].shape for n in names]
        area = sum(r.area_m2 for r in mine)
        mean = sum(r.area_m2 * r.mean_depth_mm for r in mine) / area
        middle = _middle(shapes, [r.area_m2 for r in mine])
        down = down_m(zone, middle)
        drop = half_up(zone.fall_per_m * down, 1)
        out.append(
            CasePart(
                name=f"day {len(out) + 1}",
                date=pour.date,
                area_m2=half_up(area, 2),
                base_mean_mm=half_up(zone.rail_top_mm - drop - mean, 1),
                base_spots_mm=_spots_mean(plan, [bays[n] for n in names]),
                down_m=down,
                bays_l=tuple(r.volume_l for r in mine),
                bags=pour.bags if len(names) == len(pour.bays) else 0,
            )
        )
    return tuple(out)


def _middle(shapes: Sequence[Polygon], areas: Sequence[float]) -> tuple[float, float]:
    total = sum(areas)
    spots = [centroid(s) for s in shapes]
    return (
        sum(p[0] * a for p, a in zip(spots, areas, strict=True)) / total,
        sum(p[1] * a for p, a in zip(spots, areas, strict=True)) / total,
    )


def _spots_mean(plan: Plan, bays: Sequence[Bay]) -> float | None:
    boxes = [(bounds(b.shape), b.shape) for b in bays]
    found = [
        p.level_mm
        for p in plan.survey.levels.points
        if any(
            x0 - 1 <= p.x_mm <= x1 + 1 and y0 - 1 <= p.y_mm <= y1 + 1 and contains(shape, (p.x_mm, p.y_mm), 1.0)
            for (x0, y0, x1, y1), shape in boxes
        )
    ]
    return half_up(sum(found) / len(found), 1) if found else None


def _whole(plan: Plan, zone: ZoneTop, parts: Sequence[CasePart], other: CaseFill) -> CasePart | None:
    """The zone in one go, filled with the other fill at the same finished level."""
    rows = [r for r in plan.quantities.bays if r.zone == zone.name]
    if not rows or zone.fall_per_m:
        return None
    bays = {b.name: b for b in plan.layout.bays}
    area = sum(r.area_m2 for r in rows)
    mean = sum(r.area_m2 * r.mean_depth_mm for r in rows) / area
    higher = sum(mm for _, mm in zone.build_up.layers) - sum(layer.mm for layer in other.layers)
    return CasePart(
        name="whole floor",
        date=parts[0].date if parts else plan.sequence.started,
        area_m2=half_up(area, 2),
        base_mean_mm=half_up(zone.rail_top_mm - mean, 1),
        base_spots_mm=_spots_mean(plan, [bays[r.bay] for r in rows]),
        down_m=0.0,
        bays_l=tuple(float(whole(r.area_m2 * (r.mean_depth_mm + higher))) for r in rows),
        bags=0,
    )


# ------------------------------------------------------------------------------------ fills and layers


def _other(plan: Plan, zone: ZoneTop, used: str) -> str | None:
    """Another fill to compare with; None where the zone names its own fill, falls, or nothing is compared."""
    if _zone(plan, zone).fill is not None or zone.fall_per_m:
        return None
    return next((n for n in plan.project.fills.compare if n != used), None)


def _fill(plan: Plan, zone: ZoneTop, name: str) -> CaseFill:
    project = plan.project
    used = name == (_zone(plan, zone).fill or project.fills.use)
    with_it = project if used else with_fill(project, plan.survey, plan.layout, name)
    fill = dict(project.fills.described)[name]
    layers = next(z for z in with_it.finishes if z.zone == zone.name).layers
    materials = board_materials(project)
    return CaseFill(
        name=name,
        kind=fill.kind,
        layers=tuple(_layer(layer, materials) for layer in layers),
        layers_kg_m2=half_up(zone_weights(with_it)[zone.name].layers_kg_m2, 1),
        bag_l=fill.bag.makes,
        bag_kg=fill.bag.mass,
        water_l=(fill.water.least, fill.water.most) if fill.water else None,
        waste=fill.waste,
        settles=fill.settles,
        fresh_kg_m3=fill.fresh_density,
        hardened_kg_m3=fill.hardened_density,
        covered_days=covered_days(fill) if fill.mixed else None,
        drying=drying_rates(project, fill),
    )


def _layer(layer: Layer, materials: tuple[str, ...]) -> CaseLayer:
    name = layer.name.casefold()
    board = is_board(layer, materials)
    return CaseLayer(layer.name, layer.thickness, board, not board and any(word in name for word in BONDS))


def _kit(plan: Plan) -> CaseKit:
    kit = plan.project.kit
    found = kit_range(kit)
    adds = kit.extensions[0].adds if kit.extensions else 0.0
    return CaseKit(found.ranges, found.packings, adds, kit.rail.height, kit.mass)


def _rail(plan: Plan, zone: ZoneTop) -> CaseRail | None:
    """A rail that runs from wall to wall, whose length follows from the room and two strips; None where none does."""
    strip = plan.project.kit.edge_strip
    for rail in plan.layout.rails:
        room = next(r for r in plan.survey.rooms if r.name == rail.room)
        (x0, y0), (x1, y1) = rail.start, rail.end
        d = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        if d == 0 or room.cut_outs:
            continue
        ux, uy = (x1 - x0) / d, (y1 - y0) / d
        far = 1000 * room.perimeter_mm / 1000
        line = Segment((x0 - ux * far, y0 - uy * far), (x1 + ux * far, y1 + uy * far))
        found = pieces_inside(Polygon(room.ring), line)
        if len(found) == 1 and rail.length_mm == round_down(half_up(found[0].length_mm, 1) - 2 * strip):
            between = half_up(found[0].length_mm, 1)
            if plain(between).isdigit():
                return CaseRail(rail.line, between, strip)
    return None
