"""Faults of rooms, ceilings, obstacles and openings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.core.plane import Polygon, area, box, common, is_simple
from packgen.project.guess import likely_word
from packgen.project.room_model import Opening, Room, Wall
from packgen.project.walk import ring, room_of, square
from packgen.trade.plausible import plausible


def rooms_named(rooms: Sequence[Room]) -> Iterable[Fault]:
    """Two rooms of one name cannot be told apart."""
    for n, room in enumerate(rooms):
        if any(room.name.casefold() == other.name.casefold() for other in rooms[:n]):
            yield Fault(room.marks.of("name"), "same-name", f"two rooms are called '{room.name}'")


def room_parts(rooms: Sequence[Room]) -> Iterable[Fault]:
    """Ceiling and obstacles."""
    for room in rooms:
        c = room.ceiling
        if c and c.highest is not None and c.lowest > c.highest:
            says = (
                f"the ceiling is lowest at {plain(c.lowest)} and highest at {plain(c.highest)}: are the two exchanged?"
            )
            yield Fault(c.marks.of("lowest"), "least-above-most", says)
        for o in room.obstacles:
            if o.shape == "rectangle":
                if o.start is None or o.end is None:
                    yield Fault(
                        o.marks.start,
                        "missing-key",
                        f"{o.name} is a rectangle and needs 'from' and 'to': two opposite corners",
                    )
                elif o.start[0] == o.end[0] or o.start[1] == o.end[1]:
                    yield Fault(
                        o.marks.of("to"), "no-size", f"{o.name} has no size: 'from' and 'to' are opposite corners"
                    )
                elif square(room) and len(room.walls) > 3 and not _meets(room, box(*o.start, *o.end)):
                    yield Fault(o.marks.of("from"), "outside-room", f"{o.name} lies outside '{room.name}'")
            elif o.at is None or o.diameter is None:
                yield Fault(
                    o.marks.start, "missing-key", f"{o.name} is a circle and needs 'at' (its middle) and 'diameter'"
                )


def _meets(room: Room, part: Polygon) -> bool:
    at = ring(room)
    if not is_simple(at):
        return True
    return sum(area(p) for p in common(Polygon(tuple(at)), part)) > 0


def openings_in_walls(rooms: Sequence[Room], openings: Sequence[Opening]) -> Iterable[Fault]:
    """Every opening lies in one wall of one room, and no two overlap."""
    names = [r.name for r in rooms]
    for n, opening in enumerate(openings):
        room = room_of(rooms, opening.room)
        if room is None:
            if opening.room is None:
                says = f"there are {len(rooms)} rooms: say in which one the {opening.name} is: 'room: {names[0]}'"
                yield Fault(opening.marks.start, "room-not-said", says)
            else:
                says = f"the {opening.name} is in '{opening.room}', and there is no such room"
                yield Fault(opening.marks.of("room"), "room-unknown", says, likely_word(opening.room, names))
            continue
        count = len(room.walls)
        wall = next((w for w in room.walls if w.number == opening.in_wall), None)
        if wall is None:
            says = f"the {opening.name} is in wall {opening.in_wall}, and '{room.name}' has walls 1 to {count}"
            yield Fault(opening.marks.of("in"), "wall-unknown", says)
            continue
        if wall.curve is not None:
            says = (
                f"the {opening.name} is in wall {wall.number}, which is curved: walk the doorway as a straight wall of "
                "its own"
            )
            yield Fault(opening.marks.of("in"), "door-outside-wall", says)
            continue
        yield from _fits(opening, wall)
        for other in openings[:n]:
            together = other.in_wall == opening.in_wall and room_of(rooms, other.room) is room
            if together and other.start < opening.start + opening.width and opening.start < other.start + other.width:
                says = f"the {opening.name} and the {other.name} overlap in wall {opening.in_wall}"
                yield Fault(opening.marks.of("from"), "openings-overlap", says)


def _fits(opening: Opening, wall: Wall) -> Iterable[Fault]:
    length, end = wall.length, opening.start + opening.width
    if opening.width <= 0:
        yield Fault(opening.marks.of("width"), "not-above-zero", f"the {opening.name} is 0 wide")
    elif opening.width < (least := plausible("length", "narrowest_opening_mm")):
        near = next(
            (w for w in (opening.width * 10, opening.width * 100, opening.width * 1000) if least <= w <= length), None
        )
        says = f"the {opening.name} is {plain(opening.width)} mm wide, and nobody goes through less than {plain(least)}"
        yield Fault(opening.marks.of("width"), "too-small", says, plain(near) if near else None)
    elif opening.width > length + plausible("outline", "touch_mm"):
        says = f"the {opening.name} ({plain(opening.width)}) is wider than wall {wall.number} ({plain(length)})"
        yield Fault(opening.marks.of("width"), "door-outside-wall", says)
    elif end > length + plausible("outline", "touch_mm"):
        says = (
            f"the {opening.name} runs from {plain(opening.start)} to {plain(end)} (width "
            f"{plain(opening.width)}), beyond "
            f"the end of wall {wall.number} ({plain(length)})"
        )
        yield Fault(opening.marks.of("from"), "door-outside-wall", says)
