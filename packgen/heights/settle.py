"""The heights stage: from zones and the base to rail tops, legs, depths and the window of finished levels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from packgen.core.figures import round_up, whole
from packgen.core.plane import Point, Polygon, centroid, common, contains, label_point
from packgen.core.profile import levels_at
from packgen.core.surface import Depths, depths, whole_depth
from packgen.core.worked import Worked
from packgen.heights.assumed import assumed_heights
from packgen.heights.bounds import Reckoned, ZoneFacts, reckon_bounds
from packgen.heights.controls import find_controls
from packgen.heights.cover import TIDY, ZoneCover, pipe_covers, rails_over_services, zone_covers
from packgen.heights.cures import find_cures
from packgen.heights.depth_workings import depth_lines
from packgen.heights.door_lines import door_lines
from packgen.heights.doors import door_steps, edge_steps, rails_over_borders, zone_borders
from packgen.heights.kit_range import kit_range, turns_of
from packgen.heights.legs import Leg, Stand, make_legs, stand_nodes
from packgen.heights.model import Heights, LegSetting, RailOverService, ZoneHeights
from packgen.heights.near import namer
from packgen.heights.raised import raised_rails
from packgen.heights.rules import depth_rule, rule_set, screed_of
from packgen.heights.setting_order import SettingOrder, find_order
from packgen.heights.top import Ground, Tops, lay_ground, make_tops
from packgen.heights.window import make_window
from packgen.heights.workings import finished_line, node_lines, window_lines, zone_lines
from packgen.heights.zone_map import rooms_of
from packgen.layout.model import Layout
from packgen.project.given import place_of
from packgen.project.model import Project
from packgen.project.work_model import Fill, Zone
from packgen.survey.certainty import spread_line
from packgen.survey.model import Survey
from packgen.survey.read_next import read_next


@dataclass(frozen=True)
class Settled:
    """Everything that follows from one set of finished levels."""

    tops: Tops
    legs: tuple[Leg, ...]
    bay_depths: tuple[Depths, ...]
    covers: tuple[ZoneCover, ...]
    crossings: tuple[RailOverService, ...]
    zones: tuple[ZoneHeights, ...]
    bounds: tuple[tuple[tuple[Reckoned, ...], tuple[Reckoned, ...]], ...]


def find_heights(project: Project, survey: Survey, layout: Layout) -> Heights:
    """Settles the heights of a checked project. A finished level left open takes the level that is offered.

    Printed levels are whole mm and carried on: leg = rail top as printed - base as printed.
    """
    ground = lay_ground(project, survey.rooms)
    stands = stand_nodes(survey, layout.nodes)
    levels = [a if a is not None else 0.0 for a in ground.asked]
    if None in ground.asked:
        draft = _settle(project, survey, layout, ground, stands, levels)
        levels = [_open_level(draft, i) if asked is None else asked for i, asked in enumerate(ground.asked)]
    settled = _settle(project, survey, layout, ground, stands, levels)
    order = find_order(layout, survey.rooms, _planes(settled), project.kit.module)
    return _heights(project, survey, layout, settled, order)


def _open_level(draft: Settled, zone: int) -> float:
    """The level for a zone that asks for none: the one offered; where none fits, the least that the lower end asks."""
    found = next((z for z in draft.zones if z.zone == draft.tops.zones[zone].name), draft.zones[0])
    offered = found.window.offered_mm
    return offered if offered is not None else round_up(found.window.low_mm)


def _settle(
    project: Project, survey: Survey, layout: Layout, ground: Ground, stands: Sequence[Stand], levels: Sequence[float]
) -> Settled:
    kit = kit_range(project.kit)
    tops = make_tops(project, ground, levels, layout.floor)
    bay_depths = tuple(_tidy(d) for d in depths(tops.surface, survey.base, [b.shape for b in layout.bays]))
    floors = _floors(tops, layout.floor)
    fills = [fill_of(project, zone) for zone in project.finishes]
    judged_by = [(rule_set(project, fill), screed_of(fill)) for fill in fills]
    covers = zone_covers(project, layout, tops, survey.base, floors, judged_by)
    crossings = rails_over_services(project, layout, tops, survey.base)
    room_of = {r.id: r.room for r in layout.rails}
    lies_in = [tops.zone_at(room_of[c.rail], c.at) if len(tops.zones) > 1 else 0 for c in crossings]
    boarded = [fill_of(project, project.finishes[z]).board_on_top is not None for z in lies_in]
    crossings, up = raised_rails(project, layout, crossings, boarded)
    legs = make_legs(stands, tops, kit, up)
    owned = list(zip(lies_in, crossings, strict=True))
    facts = [
        _facts(project, survey, layout, tops, legs, bay_depths, covers, owned, floors, i)
        for i in range(len(tops.zones))
        if floors[i]
    ]
    bounds = tuple(reckon_bounds(project, f, kit) for f in facts)
    zones = []
    for f, (low, high) in zip(facts, bounds, strict=True):
        window = make_window(project, f, low, high, project.datum.name)
        cures = find_cures(project, f, window, survey.base, floors[f.index], kit)
        zones.append(ZoneHeights(f.zone.zone, f.zone.fill or project.fills.use, window, f.rule, f.depth, cures))
    return Settled(tops, legs, bay_depths, covers, crossings, tuple(zones), bounds)


def _tidy(found: Depths) -> Depths:
    """Depths without binary noise, so that a depth equal to its limit is equal."""
    return replace(found, least_mm=round(found.least_mm, TIDY), most_mm=round(found.most_mm, TIDY))


def _floors(tops: Tops, floor: Sequence[Polygon]) -> list[tuple[Polygon, ...]]:
    """The fill's outline within each zone."""
    if len(tops.zones) == 1:
        return [tuple(floor)]
    return [tuple(part for p in floor for r in zone.region for part in common(p, r)) for zone in tops.zones]


def _facts(
    project: Project,
    survey: Survey,
    layout: Layout,
    tops: Tops,
    legs: Sequence[Leg],
    bay_depths: Sequence[Depths],
    covers: Sequence[ZoneCover],
    crossings: Sequence[tuple[int, RailOverService]],
    floors: Sequence[Sequence[Polygon]],
    index: int,
) -> ZoneFacts:
    zone = project.finishes[index]
    alone = len(tops.zones) == 1
    mine = tuple(leg for leg in legs if leg.zone == index)
    inside = [c for c in covers if c.zone == index]
    heated = {c.service for c in inside}
    pipes = [run for run in layout.services if run.name in heated]
    fill = fill_of(project, zone)
    parts = bay_depths if alone else [_tidy(d) for d in depths(tops.surface, survey.base, floors[index])]
    return ZoneFacts(
        index,
        zone,
        fill,
        tops,
        mine,
        whole_depth(parts),
        depth_rule(project, zone, fill, pipes),
        tuple(inside),
        tuple(c for zone_of, c in crossings if zone_of == index),
        tuple(r for r in survey.rooms if r in rooms_of(zone, survey.rooms)),
        namer(layout.nodes),
        project.kit,
        project.heating,
        place_of(project.base, "extra load allowed"),
    )


def fill_of(project: Project, zone: Zone) -> Fill:
    """The zone's own fill where it names one, else the job's."""
    return dict(project.fills.described).get(zone.fill or project.fills.use, project.fills.used)


def _planes(settled: Settled) -> dict[str, int]:
    """For each node the first zone with the same flat rail top as its own."""
    planes: list[tuple[float, float, float]] = []
    same: list[int] = []
    for zone, fall in zip(settled.tops.zones, settled.tops.falls, strict=True):
        slope = fall.per_m / 1000
        at_origin = zone.rail_top_mm - fall.drop((0.0, 0.0))
        plane = (round(at_origin, 6), round(slope * fall.direction[0], 9), round(slope * fall.direction[1], 9))
        planes.append(plane)
        same.append(planes.index(plane))
    return {leg.stand.node.id: same[leg.zone] for leg in settled.legs}


def _heights(project: Project, survey: Survey, layout: Layout, settled: Settled, order: SettingOrder) -> Heights:
    largest = max(range(len(settled.zones)), key=lambda i: (settled.zones[i].depth.area_mm2, -i))
    main = settled.zones[largest]
    targets = _targets(project, settled.legs)
    whole_floor = whole_depth(settled.bay_depths)
    worked, further = _worked(project, survey, layout, settled, targets, whole_floor)
    to_read = read_next(survey, [(n.id, n.at) for n in layout.nodes], project.levels.further_readings)
    worked += tuple(spread_line(f"spread/{r.node}", f"base under {r.node} known to", r.spread) for r in to_read)
    legs = tuple(_setting(leg, settled.tops, targets, order) for leg in settled.legs)
    laid = tuple((x.a, x.b, x.sets) for x in order.laid)
    return Heights(
        settled.tops.zones,
        settled.tops.surface,
        legs,
        tuple((bay.name, d) for bay, d in zip(layout.bays, settled.bay_depths, strict=True)),
        whole_floor,
        main.rule,
        main.window,
        door_steps(project, survey.rooms, settled.tops),
        pipe_covers(project, layout, settled.covers, settled.crossings),
        _spots(settled, survey, layout),
        worked,
        laid,
        order.reach.length_mm,
        find_controls(legs, laid, layout.nodes),
        settled.zones,
        edge_steps(project, survey.rooms, settled.tops),
        settled.crossings,
        zone_borders(survey.rooms, settled.tops),
        rails_over_borders(layout, settled.tops),
        settled.tops.zone_map.unclaimed,
        tuple(assumed_heights(project, order.reach)),
        further,
        to_read,
    )


def _targets(project: Project, legs: Sequence[Leg]) -> dict[str, tuple[float, int]]:
    """Today's backsight and the target reading of each node; empty where the file does not give the day's set-up."""
    if project.today is None:
        return {}
    back = project.today.backsight
    return {leg.stand.node.id: (back, whole(back - leg.rail_top_mm)) for leg in legs}


def _setting(leg: Leg, tops: Tops, targets: Mapping[str, tuple[float, int]], order: SettingOrder) -> LegSetting:
    node, turn = leg.stand.node, order.turns[leg.stand.node.id]
    made = leg.choice.made
    adds = made.adds_mm if leg.choice.extensions else 0.0
    return LegSetting(
        node=node.id,
        zone=tops.zones[leg.zone].name,
        base_mm=leg.base_mm,
        known=leg.stand.known,
        reading_distance_mm=leg.stand.reading_distance_mm,
        rail_top_mm=leg.rail_top_mm,
        leg_mm=leg.leg_mm,
        parts=leg.choice.parts,
        extensions=leg.choice.extensions,
        packing_mm=leg.choice.packing_mm,
        fits=leg.choice.parts != "does not fit",
        short_by_mm=int(round_up(leg.choice.outside_mm)),
        target_mm=targets[node.id][1] if node.id in targets else None,
        master=turn.set_with == "laser",
        order=turn.order,
        depth_mm=leg.depth_mm,
        set_with=turn.set_with,
        along=turn.along,
        base_spread_mm=leg.stand.spread_mm,
        raised_mm=leg.raised_mm,
        leg_kind=made.leg,
        extension_kind=made.extension if leg.choice.extensions else "",
        adds_mm=adds,
        turns=turns_of(leg.leg_mm - adds - leg.choice.packing_mm, made) if leg.choice.outside_mm == 0 else None,
    )


def _spots(settled: Settled, survey: Survey, layout: Layout) -> tuple[tuple[Point, float], ...]:
    """Depth at the middle of every bay, in layout order."""
    at = [_middle(b.shape) for b in layout.bays]
    above, below = levels_at(settled.tops.surface, at), levels_at(survey.base, at)
    return tuple((p, high - low) for p, high, low in zip(at, above, below, strict=True))


def _middle(shape: Polygon) -> Point:
    """A place well inside a bay: between its four corners, else its middle where that lies in it."""
    if len(shape.shell) == 4 and not shape.holes:
        return sum(x for x, _ in shape.shell) / 4, sum(y for _, y in shape.shell) / 4
    middle = centroid(shape)
    return middle if contains(shape, middle) else label_point(shape)


def _worked(
    project: Project,
    survey: Survey,
    layout: Layout,
    settled: Settled,
    targets: Mapping[str, tuple[float, int]],
    whole_floor: Depths,
) -> tuple[tuple[Worked, ...], tuple[Worked, ...]]:
    """The lines that are printed, and those that they need."""
    datum, tops = project.datum.name, settled.tops
    lines = [line for zone, z in zip(tops.zones, project.finishes, strict=True) for line in zone_lines(zone, z, datum)]
    further: list[Worked] = []
    for found, (low, high) in zip(settled.zones, settled.bounds, strict=True):
        prefix = "" if len(settled.zones) == 1 else f"zone/{found.zone}/"
        ends, rest = window_lines(found.zone, low, high, prefix, datum)
        lines += ends
        further += rest
        zone, file = next(p for p in zip(tops.zones, project.finishes, strict=True) if p[0].name == found.zone)
        finished = finished_line(zone, file, found.window, prefix, datum)
        further += [finished] if finished else []
    lines += node_lines(settled.legs, targets, tops, survey.base, survey.levels.points, project)
    lines += depth_lines(layout.bays, settled.bay_depths, whole_floor, tops.surface, survey.base)
    further += door_lines(project, survey.rooms, tops)
    return tuple(lines), tuple(further)
