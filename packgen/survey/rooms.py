"""A room of the project file to its adjusted outline."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from packgen.core.plane import Point, Polygon, Segment, area, pairs, without
from packgen.project.model import Begun, Project
from packgen.project.room_model import Room, Tape
from packgen.project.walk import by_coordinates, located, rise_of
from packgen.survey.cut_outs import cut_outs
from packgen.survey.doors import doors_of, through_walls, wall_number
from packgen.survey.model import CheckTape, RoomOutline, WallLine
from packgen.survey.net import spots_of
from packgen.survey.outline import Adjusted, right_angled, walk_right_angled
from packgen.survey.outline_lines import outline_lines, way_round
from packgen.survey.tapes import blame_right_angled, fit_room
from packgen.survey.traverse import compass_rule, on_plan
from packgen.trade.survey import measuring


def outline_room(project: Project | Begun, room: Room, origin: Point) -> RoomOutline:
    """The room adjusted, with its cut-outs and doors, corner 1 at `origin`."""
    fit = adjusted(room)
    corners = tuple((x + origin[0], y + origin[1]) for x, y in fit.corners)
    walls = _walls(room, corners)
    shell = Polygon(tuple(p for w in walls for p in w.path))
    single = len(project.rooms) == 1
    mine = [o for o in project.openings if o.room == room.name or (o.room is None and room is project.rooms[0])]
    drains = [d for d in project.drains if (d.room or project.rooms[0].name) == room.name]
    cuts = cut_outs(room.obstacles, drains, walls, shell, origin)
    floor = without(shell, [c.shape for c in cuts])
    stays = [c for c in cuts if c.kind == "obstacle"]
    gross = area(shell)
    net = sum(area(p) for p in without(shell, [c.shape for c in stays])) if stays else gross
    tapes = tuple(_check(t, corners) for t in room.check_tapes)
    prefix = "" if single else f"{room.name}/"
    return RoomOutline(
        name=room.name,
        corners=corners,
        walls=walls,
        floor=floor,
        cut_outs=cuts,
        doors=doors_of(mine, walls, through_walls(project.openings)),
        area_m2=net / 1e6,
        gross_area_m2=gross / 1e6,
        perimeter_mm=sum(w.length_mm for w in walls),
        closing_error_mm=math.hypot(*fit.closing_xy_mm) if fit.closing_xy_mm else None,
        closing_xy_mm=fit.closing_xy_mm,
        tapes=tapes,
        wall_residuals_mm=tuple(w.taped_mm - w.line.length_mm for w in walls),
        by=fit.by,
        spare_tapes=fit.spare_tapes,
        outside=room.place == "outside" if room.place else project.outside,
        worked=outline_lines(room, fit, walls, tapes, stays, prefix, net / 1e6),
        further=(way_round(room, fit, walls, prefix),),
        measure=fit.measure,
        blamed=fit.blamed,
        origin=origin,
        would_be_mm=fit.would_be_mm,
        others=fit.others,
    )


def adjusted(room: Room) -> Adjusted:
    """Its corners by the way the room was measured, corner 1 at the origin and wall 1 along x."""
    spots = spots_of(room)
    if by_coordinates(room):
        at = tuple((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in located(room))
        return _judged(room, Adjusted(at, None, "corners by coordinates", len(room.check_tapes)))
    if room.walls[0].bearing is not None:
        walked = compass_rule([(w.length, w.bearing or 0.0) for w in room.walls])
        north, east = walked.closing_mm
        at = on_plan(walked.stations)
        return _judged(room, Adjusted(at, (north, east), "compass rule", len(room.check_tapes)))
    if not right_angled(room.walls) or spots:
        return fit_room(room.walls, room.check_tapes, spots)
    fit = walk_right_angled(room.walls, len(room.check_tapes))
    closing = math.hypot(*fit.closing_xy_mm) if fit.closing_xy_mm else 0.0
    if max([closing, *_residuals(room, fit)]) <= measuring().largest_residual_mm:
        return fit
    found = blame_right_angled(room.walls, room.check_tapes, fit.corners)
    return replace(fit, blamed=found.names, would_be_mm=found.would_be_mm)


def _residuals(room: Room, fit: Adjusted) -> list[float]:
    return [abs(_check(t, fit.corners).residual_mm) for t in room.check_tapes]


def _judged(room: Room, fit: Adjusted) -> Adjusted:
    """An outline that no tape took part in: the tapes that disagree with it are named."""
    off = [
        f"corner {t.start} to corner {t.end}"
        for t, miss in zip(room.check_tapes, _residuals(room, fit), strict=True)
        if miss > measuring().noticed_times * measuring().tape_spread_mm
    ]
    return replace(fit, blamed=tuple(off))


def _walls(room: Room, corners: Sequence[Point]) -> tuple[WallLine, ...]:
    free = {wall_number(ref) for ref in room.free_edges}
    return tuple(
        WallLine(f"wall {w.number}", int(w.number), Segment(a, b), float(w.length), w.number in free, rise_of(w))
        for w, (a, b) in zip(room.walls, pairs(corners), strict=True)
    )


def _check(tape: Tape, corners: Sequence[Point]) -> CheckTape:
    there = math.dist(corners[tape.start - 1], corners[tape.end - 1])
    return CheckTape(int(tape.start), int(tape.end), float(tape.length), there, tape.length - there, tape.marks.start)
