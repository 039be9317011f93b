"""Faults of rooms and openings that need more than one value: walls, corners, tapes, doors, obstacles."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Literal

from packgen.core.figures import listed, plain
from packgen.core.finding import Fault
from packgen.core.plane import Point, Polygon, area, box, common, is_simple
from packgen.project.guess import likely_word
from packgen.project.rigid import missing_diagonals
from packgen.project.room_model import Opening, Room, Tape, Wall
from packgen.trade.plausible import plausible

AHEAD: tuple[tuple[int, int], ...] = ((1, 0), (0, 1), (-1, 0), (0, -1))  # each turn right is one further


def rooms_named(rooms: Sequence[Room]) -> Iterable[Fault]:
    """Two rooms of one name cannot be told apart."""
    for n, room in enumerate(rooms):
        if any(room.name.casefold() == other.name.casefold() for other in rooms[:n]):
            yield Fault(room.marks.of("name"), "same-name", f"two rooms are called '{room.name}'")


def walls(rooms: Sequence[Room]) -> Iterable[Fault]:
    """The walls of each room go once round it."""
    for room in rooms:
        yield from (
            [*_wall_numbers(room), *_wall_lengths(room)] or [*_turns(room)] or [*_closing(room)] or [*_crossing(room)]
        )


def tapes(rooms: Sequence[Room]) -> Iterable[Fault]:
    """Check tapes against an outline that holds; free edges."""
    for room in rooms:
        yield from [*_tape_corners(room)] or [*_tapes_against_walls(room)] or [*_shape_fixed(room)]
        yield from _free_edges(room)


def _wall_numbers(room: Room) -> Iterable[Fault]:
    if len(room.walls) < 3:
        says = (
            f"'{room.name}' has {len(room.walls)} wall{'' if len(room.walls) == 1 else 's'}: a room has three at least"
        )
        yield Fault(room.marks.of("walls"), "few-walls", says)
        return
    for wanted, wall in enumerate(room.walls, 1):
        if wall.number == wanted:
            continue
        earlier = [w.number for w in room.walls[: wanted - 1]]
        if wall.number in earlier:
            says = f"there are two walls called wall {wall.number}"
        else:
            says = (
                f"wall {wall.number} stands where wall {wanted} is wanted: walls are numbered 1, 2, 3 "
                "... in the order of the walk"
            )
        yield Fault(wall.marks.of("number"), "wall-order", says, f"wall {wanted}")
        return


def _wall_lengths(room: Room) -> Iterable[Fault]:
    longest, shortest = plausible("length", "longest_wall_mm"), plausible("length", "shortest_wall_mm")
    for wall in room.walls:
        mm = plain(wall.length)
        if wall.length > longest:
            km = wall.length / 1e6
            size = f"{plain(km)} km" if km >= 1 else f"{plain(wall.length / 1000)} m"
            says = f"wall {wall.number} is {mm} long, which is {size}: are there figures too many?"
            yield Fault(wall.marks.of("length"), "too-large", says)
        elif wall.length == 0:
            yield Fault(wall.marks.of("length"), "not-above-zero", f"wall {wall.number} is 0 long")
        elif wall.length < shortest:
            says = (
                f"wall {wall.number} is {mm}, which would be {mm} mm: did you mean {mm} m "
                f"({plain(wall.length * 1000)})?"
            )
            yield Fault(
                wall.marks.of("length"), "metres-without-unit", says, plain(wall.length * 1000) if wall.length else None
            )


def square(room: Room) -> bool:
    """Whether every corner is a plain right angle."""
    return all(w.turn in ("right", "left") and w.angle is None for w in room.walls)


def _turns(room: Room) -> Iterable[Fault]:
    """Once round a right-angled room is four more turns to the right than to the left."""
    if not square(room):
        return
    right = sum(w.turn == "right" for w in room.walls)
    left = len(room.walls) - right
    if right - left == 4:
        return
    place = room.walls[-1].marks.of("turn")
    if left - right == 4:
        says = "the walk goes round the other way: keep your LEFT hand on the wall, so that inside corners turn right"
        yield Fault(room.walls[0].marks.of("turn"), "turns", says)
        return
    more = right - left - 4
    much = f"{abs(more)} too {'many' if more > 0 else 'few'}"
    says = (
        f"the walls of '{room.name}' turn right {right} times and left {left} times, and once "
        "round a room is four more "
        f"to the right than to the left (right turns: {much}): is a turn wrong, or a wall missing?"
    )
    wrong = [w for w in room.walls if _closes(_turned(room, w))]
    if len(wrong) == 1:
        meant = "turn left" if wrong[0].turn == "right" else "turn right"
        yield Fault(
            wrong[0].marks.of("turn"), "turns", says, f"wall {wrong[0].number}: {plain(wrong[0].length)}, {meant}"
        )
    else:
        yield Fault(place, "turns", says)


def _turned(room: Room, wall: Wall) -> Room:
    """The room with the turn at the end of one wall the other way."""
    other: Literal["right", "left"] = "left" if wall.turn == "right" else "right"
    return room.model_copy(
        update={"walls": tuple(w.model_copy(update={"turn": other}) if w is wall else w for w in room.walls)}
    )


def _closes(room: Room) -> bool:
    right = sum(w.turn == "right" for w in room.walls)
    return 2 * right - len(room.walls) == 4 and not [*_closing(room)] and is_simple(corners(room))


def _steps(walls: Sequence[Wall]) -> list[tuple[int, int]]:
    heading, out = 0, []
    for wall in walls:
        out.append(AHEAD[heading % 4])
        heading += 1 if wall.turn == "right" else -1
    return out


def corners(room: Room) -> list[Point]:
    """Corners as walked, not adjusted; corner 1 first. For right-angled rooms."""
    x, y = 0.0, 0.0
    out: list[Point] = []
    for wall, (sx, sy) in zip(room.walls, _steps(room.walls), strict=True):
        out.append((x, y))
        x, y = x + wall.length * sx, y + wall.length * sy
    return out


def _closing(room: Room) -> Iterable[Fault]:
    if not square(room):
        yield from _polygon_closes(room)
        return
    steps = _steps(room.walls)
    around = sum(w.length for w in room.walls)
    limit = max(plausible("outline", "closing_least_mm"), around / 1000 * plausible("outline", "closing_per_metre_mm"))
    for axis in (0, 1):
        miss = sum(w.length * s[axis] for w, s in zip(room.walls, steps, strict=True))
        if abs(miss) <= limit:
            continue
        along = [(w, s[axis]) for w, s in zip(room.walls, steps, strict=True) if s[axis]]
        would = [(w, w.length - miss * s) for w, s in along if w.length - miss * s > 0]
        agreeing = [(w, length) for w, length in would if _tapes_agree(room, w, length)]
        slips = (
            agreeing
            if len(agreeing) == 1
            else [(w, length) for w, length in would if figures_slip(w.length, length, limit)]
        )
        named = slips if len(slips) == 1 else would
        told = " or ".join(f"wall {w.number} of {plain(length)}" for w, length in named[:4])
        says = (
            f"the walls of '{room.name}' do not close: {listed([f'wall {w.number}' for w, _ in along])} "
            f"miss by {plain(abs(miss))} (allowed {plain(limit, 0)}); they would close with {told}: measure again"
        )
        place = (slips[0][0] if len(slips) == 1 else along[-1][0]).marks.of("length")
        yield Fault(place, "outline-open", says, plain(slips[0][1]) if len(slips) == 1 else None)


def _tapes_agree(room: Room, wall: Wall, length: float) -> bool:
    """Whether all check tapes agree with the outline if this wall had that length."""
    walls = tuple(w.model_copy(update={"length": length}) if w is wall else w for w in room.walls)
    at = corners(room.model_copy(update={"walls": walls}))
    spans = [
        (t.length, math.dist(at[t.start - 1], at[t.end - 1]))
        for t in room.check_tapes
        if max(t.start, t.end) <= len(at)
    ]
    return bool(spans) and all(abs(taped - span) <= _tape_limit(span) for taped, span in spans)


def figures_slip(written: float, wanted: float, within: float) -> bool:
    """Whether a slip of the pen turns one length into the other: figures swapped or changed, a nought more or less."""
    if abs(written * 10 - wanted) <= within or abs(written / 10 - wanted) <= within:
        return True
    a = plain(written)
    swapped = [float(a[:i] + a[i + 1] + a[i] + a[i + 2 :]) for i in range(len(a) - 1) if "." not in a[i : i + 2]]
    changed = [float(a[:i] + d + a[i + 1 :]) for i in range(len(a)) for d in "0123456789" if a[i] not in ("." + d)]
    return any(abs(v - wanted) <= within / 3 for v in swapped + changed)


def _polygon_closes(room: Room) -> Iterable[Fault]:
    """A wall longer than all others together closes no room, whatever its corners."""
    around = sum(w.length for w in room.walls)
    for wall in room.walls:
        if wall.length > around - wall.length:
            says = (
                f"wall {wall.number} ({plain(wall.length)}) is longer than all other walls together "
                f"({plain(around - wall.length)})"
            )
            yield Fault(wall.marks.of("length"), "outline-open", says)


def _crossing(room: Room) -> Iterable[Fault]:
    if square(room) and not is_simple(corners(room)):
        says = f"the walls of '{room.name}' cross each other: a turn or a length is wrong"
        yield Fault(room.walls[0].marks.start, "outline-crosses", says)


# --------------------------------------------------------------------------------- check tapes


def _tape_corners(room: Room) -> Iterable[Fault]:
    count = len(room.walls)
    for tape in room.check_tapes:
        for corner in (tape.start, tape.end):
            if not 1 <= corner <= count:
                says = f"the tape goes to corner {corner}, and '{room.name}' has corners 1 to {count}"
                yield Fault(tape.marks.of("end" if corner == tape.end else "start"), "corner-unknown", says)
                break
        else:
            if tape.start == tape.end:
                yield Fault(tape.marks.of("start"), "tape-ends", f"the tape goes from corner {tape.start} to itself")
            elif tape.length <= 0:
                yield Fault(tape.marks.of("length"), "not-above-zero", f"{_called(tape)} is 0 long")


def _called(tape: Tape) -> str:
    return f"corner {tape.start} to corner {tape.end}"


def _tape_limit(length: float) -> float:
    return max(plausible("outline", "tape_least_mm"), length / 1000 * plausible("outline", "tape_per_metre_mm"))


def _tapes_against_walls(room: Room) -> Iterable[Fault]:
    if not square(room):
        yield from _tapes_too_long(room)
        return
    at = corners(room)
    off = []
    for tape in room.check_tapes:
        wanted = math.dist(at[tape.start - 1], at[tape.end - 1])
        if abs(tape.length - wanted) > _tape_limit(wanted):
            off.append((tape, wanted))
    crooked = len(off) > 1 and len(off) == len(room.check_tapes) and all(abs(t.length - w) < 0.05 * w for t, w in off)
    for tape, wanted in off:
        says = (
            f"'{_called(tape)}' is {plain(tape.length)} and does not agree with the walls, which "
            f"give {plain(wanted, 0)} "
            f"(allowed {plain(_tape_limit(wanted), 0)}): measure it again"
        )
        if crooked:
            says += ", or say 'skew' for the corners that are not square"
        slip = figures_slip(tape.length, wanted, _tape_limit(wanted))
        yield Fault(tape.marks.of("length"), "tape-disagrees", says, plain(wanted, 0) if slip else None)


def _tapes_too_long(room: Room) -> Iterable[Fault]:
    """No tape is longer than the walls between its corners, and none shorter than their difference."""
    lengths = [w.length for w in room.walls]
    for tape in room.check_tapes:
        first, last = sorted((tape.start - 1, tape.end - 1))
        one = lengths[first:last]
        other = lengths[last:] + lengths[:first]
        for way in (one, other):
            most, least = sum(way), 2 * max(way) - sum(way)
            if tape.length > most + _tape_limit(most) or tape.length < least - _tape_limit(least):
                bound = f"at most {plain(most)}" if tape.length > most else f"at least {plain(least)}"
                says = (
                    f"'{_called(tape)}' is {plain(tape.length)}, and the walls between these corners "
                    f"allow {bound}: measure it again"
                )
                yield Fault(tape.marks.of("length"), "tape-disagrees", says)
                break


def _shape_fixed(room: Room) -> Iterable[Fault]:
    if square(room):
        return
    wanted = missing_diagonals(room.walls, room.check_tapes)
    if wanted:
        named = " and ".join(f"corner {a} to corner {b}" for a, b in wanted)
        says = f"the tapes do not fix the shape of '{room.name}', which has skew corners: measure {named} as well"
        place = room.marks.of("check tapes") if room.check_tapes else room.marks.of("walls")
        yield Fault(place, "shape-not-fixed", says, f"- corner {wanted[0][0]} to corner {wanted[0][1]}: ...")


def _free_edges(room: Room) -> Iterable[Fault]:
    for wall in room.free_edges:
        if not 1 <= wall <= len(room.walls):
            says = f"'free edges' names wall {wall}, and '{room.name}' has walls 1 to {len(room.walls)}"
            yield Fault(room.marks.of("free edges"), "wall-unknown", says)


# --------------------------------------------------------------------------------- ceiling, obstacles, openings


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
    ring = corners(room)
    if not is_simple(ring):
        return True
    return sum(area(p) for p in common(Polygon(tuple(ring)), part)) > 0


def room_of(rooms: Sequence[Room], name: str | None) -> Room | None:
    """The room that something names; the only one where it names none."""
    if name is None:
        return rooms[0] if len(rooms) == 1 else None
    return next((r for r in rooms if r.name.casefold() == name.casefold()), None)


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
