"""Joints clipped to the floor, and which rails still lie across one."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from packgen.core.plane import Point, Polygon, Segment, crossing, edge_distance, pieces_inside
from packgen.layout.model import Crossing, JointLine, Rail
from packgen.project.room_model import Joint
from packgen.survey.model import RoomOutline
from packgen.trade.grid_rules import value


def joint_lines(joints: Sequence[Joint], rooms: Sequence[RoomOutline], strip_mm: float) -> dict[str, list[JointLine]]:
    """The joints of each room, numbered as in the file. An end near the wall is the wall."""
    found: dict[str, list[JointLine]] = {room.name: [] for room in rooms}
    for number, joint in enumerate(joints, 1):
        line = placed(joint, rooms)
        for room in rooms:
            for part in room.floor:
                whole = _reaching(line, part, strip_mm + value("at_wall"))
                for piece in pieces_inside(part, whole):
                    found[room.name].append(JointLine(number, joint.kind, piece, joint.width, joint.note))
    return found


def placed(joint: Joint, rooms: Sequence[RoomOutline]) -> Segment:
    """The joint in the plan: its places are measured from corner 1 of its room, the first where it names none."""
    x, y = next((room.origin for room in rooms if room.name == joint.room), (0.0, 0.0))
    (ax, ay), (bx, by) = joint.start, joint.end
    return Segment((ax + x, ay + y), (bx + x, by + y))


def _reaching(line: Segment, floor: Polygon, near_mm: float) -> Segment:
    """The joint lengthened at each end that lies within `near_mm` of an edge of the floor."""
    length = line.length_mm
    if length == 0:
        return line
    ux, uy = (line.b[0] - line.a[0]) / length, (line.b[1] - line.a[1]) / length

    def moved(at: Point, out: float) -> Point:
        if edge_distance(floor, at) > near_mm:
            return at
        return (at[0] + out * near_mm * ux, at[1] + out * near_mm * uy)

    return Segment(moved(line.a, -1), moved(line.b, 1))


def rails_across(rails: Iterable[Rail], joints: Sequence[JointLine]) -> tuple[Crossing, ...]:
    """Rails that lie across a joint: none, as long as every rail was cut there."""
    out = []
    for rail in rails:
        for joint in joints:
            if _apart(rail, joint):
                continue
            at = crossing(Segment(rail.start, rail.end), joint.line)
            if at is not None:
                out.append(Crossing(rail.id, f"joint {joint.number}", at))
    return tuple(out)


def _apart(rail: Rail, joint: JointLine) -> bool:
    """Whether the boxes round both do not even touch."""
    return any(
        max(rail.start[k], rail.end[k]) < min(joint.line.a[k], joint.line.b[k])
        or min(rail.start[k], rail.end[k]) > max(joint.line.a[k], joint.line.b[k])
        for k in (0, 1)
    ) or math.isclose(joint.line.length_mm, 0)
