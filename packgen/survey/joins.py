"""Where rooms lie on the plan: joined through doorways, the others side by side."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from packgen.core.figures import half_up, plain
from packgen.core.plane import Point
from packgen.core.worked import Given, Source, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.room_model import Opening
from packgen.survey.doors import along, wall_number
from packgen.survey.model import Joined, RoomOutline, WallLine
from packgen.trade.survey import measuring

JOINED = Source("two sides of one doorway, the wall between them", known="practice")
Draw = Callable[[int, Point], RoomOutline]


@dataclass(frozen=True, slots=True)
class Doorway:
    """One doorway from both sides; rooms by number. wall_mm: what lies between the faces of the two walls."""

    first: Opening
    first_room: int
    second: Opening
    second_room: int
    wall_mm: float


def doorways(project: Project) -> tuple[Doorway, ...]:
    """Every doorway of which the file gives both sides."""
    number = {room.name: n for n, room in enumerate(project.rooms)}
    out = []
    for o in project.openings:
        other = next((p for p in project.openings if p is not o and _same(o, p)), None)
        if other is None:
            continue
        wall = o.wall_thickness if o.wall_thickness is not None else other.wall_thickness
        homes = (number.get(p.room or "", 0) for p in (other, o))
        out.append(Doorway(other, next(homes), o, next(homes), wall or 0.0))
    return tuple(out)


def _same(o: Opening, other: Opening) -> bool:
    return o.same_doorway_as is not None and o.same_doorway_as.casefold() == other.name.casefold()


def placed_rooms(project: Project, draw: Draw) -> tuple[RoomOutline, ...]:
    """Rooms in the file's order. `draw` gives a room, by number, with its corner 1 at a place.

    A room joined to one that lies already has the middle of its side of the doorway square across the wall from the
    middle of the other side. What no doorway joins is drawn to the right of all that lies.
    """
    ways, count = doorways(project), len(project.rooms)
    lying: dict[int, RoomOutline] = {}
    used: set[int] = set()
    while len(lying) < count:
        found = next(_next_door(ways, lying, used), None)
        if found is None:
            free = next(n for n in range(count) if n not in lying)
            lying[free] = draw(free, _beside(draw(free, (0.0, 0.0)), lying))
            continue
        k, here, there = found
        used.add(k)
        lying[there] = _joined(draw, ways[k], lying[here], here, there)
    for k, way in enumerate(ways):
        if k not in used and way.first_room != way.second_room:
            lying[way.second_room] = _met_again(way, lying)
    return tuple(lying[n] for n in range(count))


def _beside(room: RoomOutline, lying: Mapping[int, RoomOutline]) -> Point:
    if not lying:
        return (0.0, 0.0)
    right = max(x for r in lying.values() for x, _ in r.ring) + measuring().gap_between_rooms_mm
    return (right - min(x for x, _ in room.ring), 0.0)


def _next_door(
    ways: Sequence[Doorway], lying: Mapping[int, RoomOutline], used: set[int]
) -> Iterator[tuple[int, int, int]]:
    """Doorways from a room that lies to one that does not: (which, from room, to room)."""
    for k, way in enumerate(ways):
        for here, there in ((way.first_room, way.second_room), (way.second_room, way.first_room)):
            if k not in used and here in lying and there not in lying:
                yield k, here, there


def _joined(draw: Draw, way: Doorway, lies: RoomOutline, here: int, there: int) -> RoomOutline:
    near, far = (way.first, way.second) if here == way.first_room else (way.second, way.first)
    loose = draw(there, (0.0, 0.0))
    at, own = _across(lies, near, way.wall_mm), _middle(loose, far)
    room = draw(there, (half_up(at[0] - own[0], 3), half_up(at[1] - own[1], 3)))
    join = Joined(far.name, near.name, lies.name, way.wall_mm, None, _out_of_parallel(lies, near, loose, far))
    lines = _lines(room, lies, join, near, far)
    return replace(room, joined=(*room.joined, join), worked=(*room.worked, *lines))


def _met_again(way: Doorway, lying: Mapping[int, RoomOutline]) -> RoomOutline:
    """A doorway between rooms that others have placed: by how much its sides miss each other."""
    first, second = lying[way.first_room], lying[way.second_room]
    miss = math.dist(_across(first, way.first, way.wall_mm), _middle(second, way.second))
    turn = _out_of_parallel(first, way.first, second, way.second)
    join = Joined(way.second.name, way.first.name, first.name, way.wall_mm, miss, turn)
    return replace(second, joined=(*second.joined, join))


def _wall(room: RoomOutline, o: Opening) -> WallLine:
    return next(w for w in room.walls if w.number == wall_number(o.in_wall))


def _middle(room: RoomOutline, o: Opening) -> Point:
    return along(_wall(room, o), o.start + o.width / 2)


def _across(room: RoomOutline, o: Opening, wall_mm: float) -> Point:
    """The place behind the wall, square from the middle of a doorway."""
    return along(_wall(room, o), o.start + o.width / 2, -wall_mm)


def _out_of_parallel(first: RoomOutline, o: Opening, second: RoomOutline, p: Opening) -> float:
    """What the walls on both sides of a doorway are out of running against each other, degrees."""
    (ax, ay), (bx, by) = (_way(_wall(first, o)), _way(_wall(second, p)))
    return math.degrees(abs(math.atan2(ax * -by - ay * -bx, ax * -bx + ay * -by)))


def _way(wall: WallLine) -> Point:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    return (bx - ax, by - ay)


def _lines(room: RoomOutline, lies: RoomOutline, join: Joined, near: Opening, far: Opening) -> Iterator[Worked]:
    """Where the room's corner 1 comes to lie, from the doorway's place in both rooms."""
    before, own = _across(lies, near, 0.0), _middle(room, far)
    for axis, way in ((0, "along wall 1"), (1, "into the room")):
        door, inside = half_up(before[axis], 1), half_up(own[axis] - room.origin[axis], 1)
        between = half_up(room.origin[axis] + inside - door, 1)
        terms = [
            (door, f"middle of the {near.name}"),
            (between, "across the wall"),
            (-inside, f"{far.name} in its room"),
        ]
        numbers = " ".join(
            f"{'-' if v < 0 else '+' if i else ''} {plain(abs(v))}".strip() for i, (v, _) in enumerate(terms)
        )
        value = half_up(door + between - inside, 1)
        if value < 0 or door < 0:
            continue
        yield Worked(
            f"{room.name}/doorway/{'xy'[axis]}",
            f"corner 1 of {room.name} on the plan, {way} of {lies.name}",
            "middle of the doorway + the wall between - the doorway's place in its own room",
            numbers,
            value,
            1,
            "mm",
            JOINED,
            given=(
                Given(terms[0][1], abs(door), source=JOINED),
                given(far if far.wall_thickness is not None else near, "wall thickness", terms[1][1], abs(between)),
                Given(terms[2][1], abs(inside), source=JOINED),
            ),
        )
