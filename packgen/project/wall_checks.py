"""Faults of walls, corners and check tapes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Literal

from packgen.core.figures import listed, plain
from packgen.core.finding import Fault
from packgen.core.plane import is_simple
from packgen.project import outline_checks
from packgen.project.rigid import missing_diagonals
from packgen.project.room_model import Room, Tape, Wall
from packgen.project.walk import area_mm2, corners, figures_slip, located, ring, square, steps, tape_limit
from packgen.trade.plausible import plausible


def walls(rooms: Sequence[Room]) -> Iterable[Fault]:
    """The walls of each room go once round it."""
    for room in rooms:
        yield from (
            [*_wall_numbers(room), *_wall_lengths(room), *outline_checks.coordinates(room)]
            or [*outline_checks.curves(room), *outline_checks.angles(room), *outline_checks.bearings(room)]
            or [*outline_checks.located_outline(room)]
            or [*_turns(room)]
            or [*_closing(room)]
            or [*_crossing(room)]
            or [*_too_large(room)]
        )


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


def _too_large(room: Room) -> Iterable[Fault]:
    square_metres = area_mm2(room) / 1e6
    if square_metres > plausible("length", "largest_floor_m2"):
        says = f"'{room.name}' would have {plain(square_metres, 0)} m²: are there figures too many in its walls?"
        yield Fault(room.walls[0].marks.of("length"), "too-large", says)


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


def _turns(room: Room) -> Iterable[Fault]:
    """Once round a right-angled room is four more turns to the right than to the left."""
    if not square(room):
        return
    right = sum(w.turn == "right" for w in room.walls)
    left = sum(w.turn == "left" for w in room.walls)
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
        f"the walls of '{room.name}' turn right {right} and left {left} times, and once "
        "round a room is four more "
        f"to the right than to the left (right turns: {much}): is a turn wrong, or a wall missing?"
    )
    wrong = [w for w in room.walls if w.turn != "straight" and _closes(_turned(room, w))]
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
    right, left = (sum(w.turn == side for w in room.walls) for side in ("right", "left"))
    return right - left == 4 and not [*_closing(room)] and is_simple(corners(room))


def _closing(room: Room) -> Iterable[Fault]:
    if not square(room):
        yield from _polygon_closes(room)
        return
    ways = steps(room.walls)
    around = sum(w.length for w in room.walls)
    limit = max(plausible("outline", "closing_least_mm"), around / 1000 * plausible("outline", "closing_per_metre_mm"))
    for axis in (0, 1):
        miss = sum(w.length * s[axis] for w, s in zip(room.walls, ways, strict=True))
        if abs(miss) <= limit:
            continue
        along = [(w, s[axis]) for w, s in zip(room.walls, ways, strict=True) if s[axis]]
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
    return bool(spans) and all(abs(taped - span) <= tape_limit(span) for taped, span in spans)


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
    if square(room) and not is_simple(ring(room)):
        says = f"the walls of '{room.name}' cross each other: a turn or a length is wrong"
        yield Fault(room.walls[0].marks.start, "outline-crosses", says)


# --------------------------------------------------------------------------------- check tapes


def tapes(rooms: Sequence[Room]) -> Iterable[Fault]:
    """Check tapes against an outline that holds; free edges."""
    for room in rooms:
        yield from (
            [*_tape_corners(room), *outline_checks.offsets(room)]
            or [*_tapes_against_walls(room)]
            or [*_shape_fixed(room)]
        )
        yield from _free_edges(room)


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


def _tapes_against_walls(room: Room) -> Iterable[Fault]:
    at = corners(room) if square(room) else located(room)
    if not at:
        yield from _tapes_too_long(room)
        return
    off = []
    for tape in room.check_tapes:
        wanted = math.dist(at[tape.start - 1], at[tape.end - 1])
        if abs(tape.length - wanted) > tape_limit(wanted):
            off.append((tape, wanted))
    crooked = len(off) > 1 and len(off) == len(room.check_tapes) and all(abs(t.length - w) < 0.05 * w for t, w in off)
    for tape, wanted in off:
        says = (
            f"'{_called(tape)}' is {plain(tape.length)} and does not agree with the walls, which "
            f"give {plain(wanted, 0)} "
            f"(allowed {plain(tape_limit(wanted), 0)}): measure it again"
        )
        if crooked:
            says += ", or say 'skew' for the corners that are not square"
        slip = figures_slip(tape.length, wanted, tape_limit(wanted))
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
            if tape.length > most + tape_limit(most) or tape.length < least - tape_limit(least):
                bound = f"at most {plain(most)}" if tape.length > most else f"at least {plain(least)}"
                says = (
                    f"'{_called(tape)}' is {plain(tape.length)}, and the walls between these corners "
                    f"allow {bound}: measure it again"
                )
                yield Fault(tape.marks.of("length"), "tape-disagrees", says)
                break


def _shape_fixed(room: Room) -> Iterable[Fault]:
    if square(room) or located(room):
        return
    line = room.base_line
    spots = [(o.corner, line.start, line.end) for o in room.offsets] if line else []
    spots += [(c.number, 1, 2) for c in room.corners if c.number > 1]
    wanted = missing_diagonals(room.walls, room.check_tapes, spots)
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
