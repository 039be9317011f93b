"""Faults of doorways that join two rooms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.project.guess import likely_word
from packgen.project.room_model import Opening, Room
from packgen.project.walk import room_of, square, steps
from packgen.trade.plausible import plausible


def doorways(rooms: Sequence[Room], openings: Sequence[Opening]) -> Iterable[Fault]:
    """Both sides of a joined doorway are openings of two rooms, about as wide, in walls that run side by side."""
    for o in openings:
        if o.same_doorway_as is None:
            if o.wall_thickness is not None and not any(_names(p, o) for p in openings):
                says = (
                    f"{o.name}: a wall thickness is asked where 'same doorway as' names the opening on the other side"
                )
                yield Fault(o.marks.of("wall thickness"), "doorway", says)
            continue
        yield from _joined(rooms, openings, o)


def _names(o: Opening, other: Opening) -> bool:
    return o.same_doorway_as is not None and o.same_doorway_as.casefold() == other.name.casefold()


def _joined(rooms: Sequence[Room], openings: Sequence[Opening], o: Opening) -> Iterable[Fault]:
    place = o.marks.of("same doorway as")
    others = [p for p in openings if p is not o and _names(o, p)]
    if len(others) != 1:
        says = f"{o.name}: there {'is no opening' if not others else 'are two openings'} called '{o.same_doorway_as}'"
        guess = likely_word(o.same_doorway_as or "", [p.name for p in openings if p is not o])
        yield Fault(place, "doorway", says, guess if not others else None)
        return
    other = others[0]
    here, there = room_of(rooms, o.room), room_of(rooms, other.room)
    if here is None or there is None:
        return
    if here is there:
        says = f"{o.name}: '{other.name}' is in the same room, '{here.name}': a doorway joins two"
        yield Fault(place, "doorway", says)
    elif o.wall_thickness is None and other.wall_thickness is None:
        says = f"{o.name}: how thick is the wall between '{here.name}' and '{there.name}'?"
        yield Fault(place, "doorway", says, "wall thickness: 120")
    elif abs(o.width - other.width) > plausible("outline", "doorway_mm"):
        says = (
            f"{o.name} is {plain(o.width)} wide and '{other.name}' {plain(other.width)}: are they two sides of one "
            "doorway?"
        )
        yield Fault(o.marks.of("width"), "doorway", says, plain(other.width))
    else:
        yield from _side_by_side(here, there, o, other)


def _side_by_side(here: Room, there: Room, o: Opening, other: Opening) -> Iterable[Fault]:
    """In two right-angled rooms the walls of a doorway run against each other, with wall 1 of both the same way."""
    if not (square(here) and square(there)) or max(o.in_wall, 0) > len(here.walls) or other.in_wall > len(there.walls):
        return
    (ax, ay), (bx, by) = steps(here.walls)[o.in_wall - 1], steps(there.walls)[other.in_wall - 1]
    if (ax, ay) == (-bx, -by):
        return
    ways = steps(here.walls)
    wanted = steps(there.walls)
    turned = next(k for k in range(4) if _turned((bx, by), k) == (-ax, -ay))
    first = next((n for n, way in enumerate(wanted, 1) if _turned(way, turned) == ways[0]), None)
    says = (
        f"{o.name}: the walls of '{here.name}' and '{there.name}' beside this doorway do not run side by side on the "
        f"plan. Wall 1 of both rooms has to run the same way"
    )
    says += (
        f": begin the walk of '{here.name}' so that it does"
        if first is None
        else (f": begin the walk of '{there.name}' with what is now its wall {first}")
    )
    yield Fault(o.marks.of("in"), "doorway", says)


def _turned(way: tuple[int, int], quarters: int) -> tuple[int, int]:
    x, y = way
    for _ in range(quarters):
        x, y = -y, x
    return (x, y)
