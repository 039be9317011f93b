"""Faults of the levelling: names of rows, columns and points, units of readings, and whether the book closes."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence

from packgen.core.figures import listed, plain
from packgen.core.finding import Fault
from packgen.project.guess import likely_word
from packgen.project.kinds import Spoken
from packgen.project.room_model import Datum, Room
from packgen.project.walk import ring, room_of, square
from packgen.project.work_model import Levels, Reading, SetUp, Sight
from packgen.trade.plausible import plausible

Pairs = Sequence[tuple[str, float]]


def grid(levels: Levels) -> Iterable[Fault]:
    """No two columns or rows in one place; every cell has a column and a row, and is read once in a set-up."""
    for key, pairs in (("columns at", levels.columns_at), ("rows at", levels.rows_at)):
        what = key.split("s at")[0]
        if not pairs:
            yield Fault(levels.marks.of(key), "empty", f"'{key}' names no {what}")
            return
        read_in = levels.rooms_read("column" if what == "column" else "row")
        at: dict[tuple[float, str | None], str] = {}
        for name, mm in pairs:
            rooms = read_in[name]
            same = next((at[mm, room] for room in rooms if (mm, room) in at), None)
            if same is not None:
                says = f"{key}: {what}s {same} and {name} are both at {plain(mm)}"
                yield Fault(levels.marks.of(f"{key}/{name}"), "same-place", says)
            for room in rooms:
                at.setdefault((mm, room), name)
    for setup in levels.setups:
        yield from _cells(setup, "column", "columns at", levels.columns_at)
        yield from _cells(setup, "row", "rows at", levels.rows_at)
        seen: set[str] = set()
        twice: set[str] = set()
        for r in setup.readings:
            if r.spot in seen and r.row not in twice:
                yield Fault(r.marks.start, "read-twice", f"{r.spot} is read twice in {setup.name} (row {r.row})")
                twice.add(r.row)
            seen.add(r.spot)


def _cells(setup: SetUp, what: str, key: str, pairs: Pairs) -> Iterable[Fault]:
    known = [name for name, _ in pairs]
    told: set[str] = set()
    used = {r.column if what == "column" else r.row for r in setup.readings}
    for r in setup.readings:
        name = r.column if what == "column" else r.row
        if name not in known and name not in told:
            told.add(name)
            free = [k for k in known if k not in used]
            guess = likely_word(name, free) or _next_to(name, free)
            says = f"{what} {name} of {setup.name} is not in '{key}' ({listed(known, 'and', 12)})"
            yield Fault(r.marks.of(what), f"{what}-unknown", says, guess)


def _next_to(name: str, known: Sequence[str]) -> str | None:
    """The known name nearest in the alphabet or in number."""
    if len(name) == 1 and name.isalpha() and name.isascii():
        letters = [k for k in known if len(k) == 1 and k.isalpha()]
        return next((k for k in letters if abs(ord(k) - ord(name.upper())) <= 1), None)
    return None


def grid_in_room(rooms: Sequence[Room], levels: Levels) -> Iterable[Fault]:
    """Columns and rows lie in the room; only where there is one room, and roughly."""
    room = room_of(rooms, levels.room)
    named = [(levels.room, levels.marks, "levels"), *((s.room, s.marks, s.name) for s in levels.setups)]
    for name, marks, who in named:
        if name is not None and room_of(rooms, name) is None:
            says = f"{who}: there is no room '{name}'"
            yield Fault(marks.of("room"), "room-unknown", says, likely_word(name, [r.name for r in rooms]))
    yield from _one_room_a_spot(levels, rooms[0].name)
    if room is None or not square(room) or len(rooms) > 1:
        return
    at = ring(room)
    for key, pairs, axis in (("columns at", levels.columns_at, 0), ("rows at", levels.rows_at, 1)):
        farthest = max(c[axis] for c in at)
        last = max((mm for _, mm in pairs), default=0.0)
        if 0.8 * farthest <= last * 10 <= 1.02 * farthest:
            says = f"{key}: the last is at {plain(last)} and the room ends at {plain(farthest)}: is this in cm?"
            yield Fault(levels.marks.of(key), "cm-without-unit", says)
        for name, mm in pairs:
            if mm > farthest * 1.02 + plausible("outline", "closing_least_mm"):
                what = key.split("s at")[0]
                says = (
                    f"{key}: {what} {name} at {plain(mm)} lies outside '{room.name}', which ends at {plain(farthest)}"
                )
                slip = mm / 10 if mm / 10 <= farthest else None
                yield Fault(levels.marks.of(f"{key}/{name}"), "outside-room", says, plain(slip) if slip else None)


def _one_room_a_spot(levels: Levels, first: str) -> Iterable[Fault]:
    """A spot of one name lies in one room."""
    lies: dict[str, str] = {}
    for setup in levels.setups:
        room = levels.room_of(setup) or first
        for r in setup.readings:
            other = lies.setdefault(r.spot, room)
            if other.casefold() != room.casefold():
                says = (
                    f"{r.spot} is read in two rooms, '{other}' and '{room}': give the columns or the rows of each room "
                    "names of their own"
                )
                yield Fault(r.marks.start, "spot-in-two-rooms", says)
                break


# --------------------------------------------------------------------------------- points and units


def points(datum: Datum, levels: Levels, spoken: Spoken) -> Iterable[Fault]:
    """Every set-up starts and closes on a point whose level is known by then; the datum has one name."""
    other = _other_name(datum, spoken)
    fault = _datum_named(datum, levels, spoken, other)
    if fault:
        yield fault
    known = {*datum.known, *([other] if other and fault else [])}
    changes: list[tuple[str, str]] = []
    names: set[str] = set()
    if levels.read_as == "levels":
        return
    for setup in levels.setups:
        if setup.name in names:
            yield Fault(setup.marks.of("name"), "same-name", f"two set-ups are called '{setup.name}'")
        names.add(setup.name)
        if setup.start_on.point not in known:
            yield _unknown_point(setup, setup.start_on, "starts", known, changes, datum)
        known.update(r.spot for r in setup.readings)
        if setup.read_again and setup.read_again.point not in known:
            yield _unknown_point(setup, setup.read_again, "reads again", known, changes, datum)
        known.update(u.point for u in setup.upside_down)
        if setup.leave_on:
            known.add(setup.leave_on.point)
            changes.append((setup.name, setup.leave_on.point))
        if setup.close_on and setup.close_on.point not in known:
            yield _unknown_point(setup, setup.close_on, "closes", known, changes, datum)


def _unknown_point(
    setup: SetUp, sight: Sight, verb: str, known: set[str], changes: Sequence[tuple[str, str]], datum: Datum
) -> Fault:
    said = f"{setup.name} {verb}{'' if verb == 'reads again' else ' on'} '{sight.point}', which nobody has read before"
    guess = likely_word(sight.point, [name for _, name in changes] + list(datum.known))
    left = [f"{by} left on '{name}'" for by, name in changes if name != sight.point]
    if left:
        said += f"; {left[-1]}"
    elif verb == "starts" and guess is None and len(known) > 1:
        said += ": is 'leave on' missing in the set-up before?"
    else:
        said += f"; the datum is called '{datum.name}'"
    return Fault(sight.marks.of("point"), "point-unknown", said, guess)


def _other_name(datum: Datum, spoken: Spoken) -> str | None:
    """The one other name that all levels use, if none uses the datum's."""
    used = {s.name for s in spoken.names}
    return next(iter(used)) if len(used) == 1 and datum.name not in used else None


def _datum_named(datum: Datum, levels: Levels, spoken: Spoken, other: str | None) -> Fault | None:
    if other is None:
        return None
    places = [s.place for s in spoken.names if s.name == other]
    sights = [s for u in levels.setups for s in (u.start_on, u.leave_on, u.close_on) if s]
    places += [s.marks.of("point") for s in sights if s.point == other]
    if len(places) < 2:
        return None
    lines = listed([str(n) for n in sorted({p.line for p in places})])
    says = f"the datum is called '{datum.name}', but the levels speak of '{other}' (lines {lines}): which is it?"
    return Fault(datum.marks.of("name"), "datum-name", says, other)


def datum_names(datum: Datum, spoken: Spoken) -> Iterable[Fault]:
    """Every level is measured from the datum by its name."""
    if _other_name(datum, spoken) and len(spoken.names) > 1:
        return
    for name, _ in datum.other_marks:
        if name == datum.name:
            says = f"'{name}' is the datum itself: a mark of that name cannot have another level"
            yield Fault(datum.marks.of(f"other marks/{name}"), "same-name", says)
    for s in spoken.names:
        if s.name != datum.name:
            says = f"{s.key}: '{s.level}' is measured from '{s.name}', and the datum is called '{datum.name}'"
            yield Fault(s.place, "datum-name", says, s.level.replace(s.name, datum.name))


def units(levels: Levels) -> Iterable[Fault]:
    """A reading many times off the others of its file is in another unit, or lacks a figure."""
    if levels.read_as != "staff readings":
        if not any(u.readings for u in levels.setups):
            yield Fault(levels.marks.of("setups"), "no-readings", "no set-up has any level of the base")
        return
    for cell in (r for u in levels.setups for r in u.readings if r.value < 0):
        says = f"{cell.spot}: a staff reading of {plain(cell.value)} is below 0: for levels say 'read as: levels'"
        yield Fault(cell.marks.start, "negative", says)
    sights = [(s.reading, s, u) for u in levels.setups for s in (u.start_on, u.leave_on, u.close_on) if s]
    cells = [(r.value, r, u) for u in levels.setups for r in u.readings]
    if not cells:
        yield Fault(
            levels.marks.of("setups"), "no-readings", "no set-up has any reading: how high the base lies is not known"
        )
        return
    middle = statistics.median([v for v, *_ in cells] + [v for v, *_ in sights])
    if middle < 10:
        says = f"the readings are about {plain(middle)}: that reads like metres, and readings are wanted in mm"
        yield Fault(cells[0][1].marks.start, "reading-unit", says)
        return
    for setup in levels.setups:
        rows: dict[str, list[Reading]] = {}
        for r in setup.readings:
            if r.value >= 0 and _other_unit(r.value, middle):
                rows.setdefault(r.row, []).append(r)
        for row, off in rows.items():
            yield _unit_fault(setup, row, off, middle)
    for value, sight, setup in sights:
        if _other_unit(value, middle):
            says = (
                f"{setup.name} reads {plain(value)} on '{sight.point}', and most readings are about "
                f"{plain(middle, 0)}: {_why(value, middle)}"
            )
            yield Fault(sight.marks.of("reading"), "reading-unit", says)


def _other_unit(value: float, middle: float) -> bool:
    """Far from the others, and among them when it is taken for cm or metres, or for a figure more or less."""
    if abs(value - middle) < plausible("reading", "far_mm"):
        return False
    near = plausible("reading", "near_share") * middle
    return value == 0 or any(abs(value * factor - middle) <= near for factor in (10, 1000, 0.1))


def _unit_fault(setup: SetUp, row: str, off: Sequence[Reading], middle: float) -> Fault:
    figures = listed([plain(r.value) for r in off])
    who = (
        f"row {row} of {setup.name} reads {figures}"
        if len(off) > 1
        else f"{off[0].spot} (row {row} of {setup.name}) reads {figures}"
    )
    return Fault(
        off[0].marks.start,
        "reading-unit",
        f"{who}; most others are about {plain(middle, 0)}: {_why(off[0].value, middle)}",
    )


def _why(value: float, middle: float) -> str:
    if value and 0.5 < value * 1000 / middle < 2:
        return "is this in metres?"
    if value and 0.5 < value * 10 / middle < 2:
        return "is this in cm, or is a figure missing?"
    return "is a figure missing?" if value < middle else "is there a figure too many?"
