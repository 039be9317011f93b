"""Openings on the adjusted outline."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from packgen.core.plane import Point, Segment
from packgen.project.room_model import Opening
from packgen.survey.model import Door, WallLine
from packgen.trade.survey import measuring

OUTDOORS = ("garden", "terrace", "yard", "balcony", "outside", "patio", "street")


def leads_outside(opening: Opening) -> bool:
    """An opening leads outside when the word says so, or when the floor beyond lies far below its sill."""
    if any(word in opening.leads_to.lower() for word in OUTDOORS):
        return True
    if opening.sill is None or opening.floor_there is None:
        return False
    return bool(opening.sill - opening.floor_there > measuring().drop_outside_mm)


def wall_number(ref: object) -> int:
    """The number in a wall's name: "wall 3" is 3."""
    return int(str(ref).split()[-1])


def along(wall: WallLine, from_mm: float, into_mm: float = 0.0) -> Point:
    """The place so far along a wall from its start and so far into the room."""
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    d = math.dist(wall.line.a, wall.line.b)
    ux, uy = (bx - ax) / d, (by - ay) / d
    return (ax + ux * from_mm - uy * into_mm, ay + uy * from_mm + ux * into_mm)


def through_walls(openings: Sequence[Opening]) -> dict[str, float]:
    """Thickness of the wall at each opening of which the file gives both sides, by the opening's name, mm."""
    out: dict[str, float] = {}
    for o in openings:
        for p in openings:
            if o.same_doorway_as is not None and o.same_doorway_as.casefold() == p.name.casefold():
                thick = o.wall_thickness if o.wall_thickness is not None else p.wall_thickness
                out[o.name] = out[p.name] = thick or 0.0
    return out


def doors_of(openings: Sequence[Opening], walls: Sequence[WallLine], through: Mapping[str, float]) -> tuple[Door, ...]:
    """The openings of one room, from and to measured along their wall in walking direction.

    through: thickness of the wall at the openings that lead into another room of the plan
    """
    by_number = {w.number: w for w in walls}
    out = []
    for o in openings:
        wall = by_number[wall_number(o.in_wall)]
        line = Segment(along(wall, o.start), along(wall, o.start + o.width))
        behind = through.get(o.name)
        outside = leads_outside(o) and behind is None
        out.append(Door(o.name, wall.name, line, o.leads_to, o.sill, o.floor_there, outside, o.marks.start, behind))
    return tuple(out)
