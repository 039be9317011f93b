"""Which diagonals of a room are taped: those that fix its shape first, then those that prove it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.plane import Point, Segment, is_simple, pieces_inside, ring_area
from packgen.project.rigid import missing_diagonals
from packgen.project.room_model import Room, Tape
from packgen.project.walk import square
from packgen.survey.fieldwork_model import TapeToTake
from packgen.survey.model import RoomOutline
from packgen.trade.survey import measuring

Pair = tuple[int, int]
SEEN_MM = 1.0  # a tape is straight from corner to corner when all but this lies over the floor


def tapes_to_take(room: Room, outline: RoomOutline) -> tuple[TapeToTake, ...]:
    """Tapes the file has, tapes without which the shape is not fixed, tapes that check; by corner numbers from 1."""
    out = [TapeToTake(int(t.start), int(t.end), "check", float(t.length)) for t in room.check_tapes]
    have = {_sorted(t.start, t.end) for t in out}
    seen = _seen(outline)
    needed = [] if square(room) else _needed(room, outline, seen)
    out += [TapeToTake(*pair, "needed") for pair in needed]
    have |= set(needed)
    out += [TapeToTake(*pair, "check") for pair in _checks(room, outline, seen, have, bool(needed))]
    return tuple(out)


def _seen(outline: RoomOutline) -> list[Pair]:
    """Pairs of corners between which a tape can be pulled, the longest first."""
    at, n = outline.corners, len(outline.corners)
    found = []
    for i in range(n):
        for j in range(i + 2, n):
            if (i, j) == (0, n - 1):
                continue
            line = Segment(at[i], at[j])
            over = sum(s.length_mm for p in outline.floor for s in pieces_inside(p, line))
            if line.length_mm > 0 and over >= line.length_mm - SEEN_MM:
                found.append((-line.length_mm, (i + 1, j + 1)))
    return [pair for _, pair in sorted(found)]


def _needed(room: Room, outline: RoomOutline, seen: Sequence[Pair]) -> list[Pair]:
    """Diagonals that fix the shape, of those a tape can follow where these suffice."""
    tapes = list(room.check_tapes)
    missing = missing_diagonals(room.walls, tapes)
    chosen: list[Pair] = []
    reachable = set(seen)
    first = [p for p in missing if p in reachable]
    rest = [p for p in _triangles(outline.corners) if p in reachable and p not in first]
    for pair in (*first, *rest, *(p for p in missing if p not in reachable)):
        if not missing:
            break
        tape = Tape.model_construct(start=pair[0], end=pair[1], length=1.0)
        left = missing_diagonals(room.walls, [*tapes, tape])
        if len(left) < len(missing):
            chosen.append(pair)
            tapes.append(tape)
            missing = left
    return chosen


def _checks(room: Room, outline: RoomOutline, seen: Sequence[Pair], have: set[Pair], loose: bool) -> list[Pair]:
    """Further tapes: until each corner of a square room is held by one, and some are spare where corners are skew."""
    spare = measuring().spare_tapes
    out: list[Pair] = []
    held = {c for pair in have for c in pair}
    for pair in seen:
        if pair in have:
            continue
        if square(room):
            if len(have) + len(out) >= 2 and set(pair) <= held:
                continue
        elif outline.spare_tapes * (not loose) + len(out) >= spare:
            break
        out.append(pair)
        held |= set(pair)
    return out


def _sorted(a: int, b: int) -> Pair:
    return (min(a, b), max(a, b))


def _triangles(corners: Sequence[Point]) -> list[Pair]:
    """Diagonals that cut the room into triangles: ears clipped one after the other. None of a ring that crosses."""
    if not is_simple(corners):
        return []
    left = list(range(len(corners)))
    out: list[Pair] = []
    while len(left) > 3:
        for k in range(len(left)):
            a, b, c = left[k - 1], left[k], left[(k + 1) % len(left)]
            ear = [corners[a], corners[b], corners[c]]
            if ring_area(ear) > 0 and not any(_within(corners[o], ear) for o in left if o not in (a, b, c)):
                out.append(_sorted(a + 1, c + 1))
                del left[k]
                break
        else:
            return out
    return out


def _within(p: Point, ear: Sequence[Point]) -> bool:
    whole = abs(ring_area(ear))
    parts = sum(abs(ring_area([p, ear[i - 1], ear[i]])) for i in range(3))
    return math.isclose(whole, parts, rel_tol=1e-9)
