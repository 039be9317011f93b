"""The top of every zone, and the rail tops as one surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.plane import Point, Polygon, bounds, box, common, without
from packgen.core.surface import FAR_MM, Facet, Surface
from packgen.heights.build_up import build_up
from packgen.heights.fall import FallLine, fall_line
from packgen.heights.model import BuildUp, ZoneTop
from packgen.heights.zone_map import ZoneMap, map_zones
from packgen.project.model import Project
from packgen.survey.model import RoomOutline
from packgen.survey.sinks import Sink, up_mm


@dataclass(frozen=True)
class Tops:
    """Zones in the file's order with all that belongs to each, and the rail tops as a surface."""

    zones: tuple[ZoneTop, ...]
    falls: tuple[FallLine, ...]
    zone_map: ZoneMap
    surface: Surface

    def zone_at(self, room: str, at: Point) -> int:
        return self.zone_map.zone_at(room, at)

    def finished(self, zone: int, at: Point) -> float:
        """Finished level of a zone at a place, mm."""
        return self.zones[zone].finished_mm - self.falls[zone].drop(at)

    def rail_top(self, zone: int, at: Point) -> float:
        """Rail top of a zone at a place, mm."""
        return self.finished(zone, at) - self.zones[zone].build_up.finish_mm


@dataclass(frozen=True)
class Ground:
    """What does not depend on the finished levels: where zones lie, how they fall, their layers."""

    zone_map: ZoneMap
    falls: tuple[FallLine, ...]
    build_ups: tuple[BuildUp, ...]
    asked: tuple[float | None, ...]  # at the line where the fall starts


def lay_ground(project: Project, rooms: Sequence[RoomOutline]) -> Ground:
    """Zones on the plan, falls and layers; a level asked for away from the start of its fall is carried there."""
    zone_map = map_zones(project, rooms)
    falls = tuple(
        fall_line(z, rooms, region, project.drains)
        for z, region in zip(project.finishes, zone_map.regions, strict=True)
    )
    asked = tuple(
        None if z.finished_level.level is None else z.finished_level.level + f.per_m / 1000 * f.at
        for z, f in zip(project.finishes, falls, strict=True)
    )
    return Ground(zone_map, falls, tuple(build_up(z) for z in project.finishes), asked)


def make_tops(project: Project, ground: Ground, levels: Sequence[float], floor: Sequence[Polygon]) -> Tops:
    """Zone tops at the given finished levels. `floor`: the fill's outline, which the surface has to cover."""
    zones = tuple(
        ZoneTop(
            zone.zone,
            region,
            build,
            level,
            level - build.finish_mm,
            fall.per_m,
            fall.direction,
            fall.start,
            fall.words,
            asked,
            fall.sink,
        )
        for zone, region, build, level, fall, asked in zip(
            project.finishes,
            ground.zone_map.regions,
            ground.build_ups,
            levels,
            ground.falls,
            ground.asked,
            strict=True,
        )
    )
    return Tops(zones, ground.falls, ground.zone_map, _surface(zones, ground.zone_map, floor))


def _surface(zones: Sequence[ZoneTop], zone_map: ZoneMap, floor: Sequence[Polygon]) -> Surface:
    if len(zone_map.rooms) == 1:
        cells = zone_map.rooms[0].cells(FAR_MM)
        return Surface(tuple(_facet(zones[zone], box(*cell)) for zone, cell in cells))
    facets, covered = [], []
    for room in zone_map.rooms:
        reach = max(abs(c) for c in (*bounds(room.outline), *room.xs, *room.ys)) + 1_000
        for zone, cell in room.cells(reach):
            for part in common(room.outline, box(*cell)):
                facets.append(_facet(zones[zone], part))
                covered.append(part)
    for outline in floor:
        for part in without(outline, covered):
            facets.append(_facet(zones[_beside(part, zone_map)], part))
    return Surface(tuple(facets))


def _beside(part: Polygon, zone_map: ZoneMap) -> int:
    """The zone of the room nearest to a piece of floor outside all rooms, such as a filled door reveal."""
    x0, y0, x1, y1 = bounds(part)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)

    def far(outline: Polygon) -> float:
        a0, b0, a1, b1 = bounds(outline)
        return max(a0 - middle[0], middle[0] - a1, 0.0) + max(b0 - middle[1], middle[1] - b1, 0.0)

    return min(zone_map.rooms, key=lambda r: far(r.outline)).zone_at(middle)


def _facet(zone: ZoneTop, part: Polygon) -> Facet:
    slope = zone.fall_per_m / 1000
    if zone.sink is not None:
        return _plane_to(zone, zone.sink, part, slope)
    (dx, dy), (x, y) = zone.direction, zone.falls_from
    return Facet(part.shell, zone.rail_top_mm + slope * (x * dx + y * dy), 0.0 - slope * dx, 0.0 - slope * dy)


def _plane_to(zone: ZoneTop, sink: Sink, part: Polygon, slope: float) -> Facet:
    """The plane on one side of a drain: up along x and along y from the drain's nearest end."""
    x0, y0, x1, y1 = bounds(part)
    side = sink.side(((x0 + x1) / 2, (y0 + y1) / 2))
    at_origin = zone.rail_top_mm - slope * up_mm(sink, zone.falls_from)
    rise = [0.0, 0.0]
    for k in (0, 1):
        if side[k]:
            rise[k] = slope * side[k]
            at_origin -= rise[k] * (sink.high[k] if side[k] > 0 else sink.low[k])
    return Facet(part.shell, at_origin, rise[0], rise[1])
