"""Readings as a level line would have given them: the error of the two-peg test taken off, undersides turned round."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import half_up
from packgen.core.plane import Point
from packgen.project.room_model import Laser
from packgen.project.two_peg import two_peg
from packgen.project.work_model import Levels, Reading, SetUp, Sight

Kind = Literal["start", "spot", "under", "again", "leave", "close"]
ERROR_DIGITS = 2  # mm per m, as printed and carried on
METRE_DIGITS = 2


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading of a set-up. below_line_mm: how far its point lies below the line as it was read, less than 0 above.

    distance_m   from the laser; None where the file does not tell
    """

    kind: Kind
    point: str
    below_line_mm: float
    distance_m: float | None
    record: Sight | Reading


def error_per_m(laser: Laser | None) -> float | None:
    """How much the line rises in a metre of sight, mm, to the decimals printed; None where no test is given."""
    test = laser.two_peg_test if laser else None
    if test is None or test.end_to_a == test.end_to_b:
        return None
    found = two_peg(
        test.a_from_middle,
        test.b_from_middle,
        test.a_from_end,
        test.b_from_end,
        test.end_to_a / 1000,
        test.end_to_b / 1000,
    )
    return half_up(found.error_per_m, ERROR_DIGITS)


def taken(levels: Levels, setup: SetUp) -> Iterator[Taken]:
    """Every reading of a set-up in booking order."""
    columns, rows = dict(levels.columns_at), dict(levels.rows_at)
    spots = {r.spot: (columns.get(r.column), rows.get(r.row)) for s in levels.setups for r in s.readings}

    def metres(point: str, said: float | None) -> float | None:
        if said is not None:
            return half_up(said / 1000, METRE_DIGITS)
        x, y = spots.get(point, (None, None))
        return _apart(setup.stands_at, x, y)

    def sight(kind: Kind, s: Sight, below: float) -> Taken:
        return Taken(kind, s.point, below, metres(s.point, s.distance), s)

    yield sight("start", setup.start_on, setup.start_on.below_line_mm)
    for r in setup.readings:
        where = _apart(setup.stands_at, columns.get(r.column), rows.get(r.row))
        yield Taken("spot", r.spot, float(r.value), where, r)
    for s in setup.upside_down:
        yield sight("under", s, -float(s.reading))
    ends: tuple[tuple[Kind, Sight | None], ...] = (
        ("again", setup.read_again),
        ("leave", setup.leave_on),
        ("close", setup.close_on),
    )
    for kind, end in ends:
        if end is not None:
            yield sight(kind, end, end.below_line_mm)


def _apart(at: Point | None, x: float | None, y: float | None) -> float | None:
    if at is None or x is None or y is None:
        return None
    return half_up(math.dist(at, (x, y)) / 1000, METRE_DIGITS)


def corrected(below_line_mm: float, error: float | None, distance_m: float | None) -> float:
    """The reading that a level line would have given, whole mm as a staff is read.

    reading - error per metre x distance  [mm]

    >>> corrected(1390, 0.5, 90), corrected(-722, 0.5, 4)
    (1345.0, -724.0)
    """
    if error is None or distance_m is None:
        return below_line_mm
    return half_up(below_line_mm - error * distance_m)


def true_setups(levels: Levels, laser: Laser | None) -> tuple[SetUp, ...]:
    """The set-ups with each reading as the depth of its point below a level line (above it: less than 0).

    Where no sight is turned round and the line needs no correction these are the set-ups of the file themselves.
    """
    error = error_per_m(laser)
    return tuple(_true(levels, s, error) for s in levels.setups)


def _true(levels: Levels, setup: SetUp, error: float | None) -> SetUp:
    ends = [s for s in (setup.start_on, setup.read_again, setup.leave_on, setup.close_on) if s is not None]
    if error is None and not setup.upside_down and all(s.staff == "upright" for s in ends):
        return setup
    update: dict[str, object] = {}
    cells: list[Reading] = []
    under: list[Sight] = []
    names = {"start": "start_on", "again": "read_again", "leave": "leave_on", "close": "close_on"}
    for t in taken(levels, setup):
        value = corrected(t.below_line_mm, error, t.distance_m)
        if isinstance(t.record, Reading):
            cells.append(t.record.model_copy(update={"value": value}))
            continue
        turned = t.record.model_copy(update={"reading": value, "staff": "upright"})
        if t.kind == "under":
            under.append(turned)
        else:
            update[names[t.kind]] = turned
    return setup.model_copy(update={**update, "readings": tuple(cells), "upside_down": tuple(under)})
