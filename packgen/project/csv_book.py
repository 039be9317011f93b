"""A level book kept in a spreadsheet: rows of point, backsight, between, foresight to set-ups."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from packgen.core.figures import listed
from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.csv_cells import CsvRow
from packgen.project.guess import likely_word, plain_key
from packgen.project.tree import Listing, Mapping, Node, Scalar

HEADS = {
    **dict.fromkeys(("set up", "setup", "station"), "set-up"),
    **dict.fromkeys(("point", "spot", "name"), "point"),
    **dict.fromkeys(("backsight", "back sight", "back", "bs"), "backsight"),
    **dict.fromkeys(
        ("between", "intermediate", "intermediate sight", "intermediate foresight", "is", "ifs"), "between"
    ),
    **dict.fromkeys(("foresight", "fore sight", "fore", "fs"), "foresight"),
    **dict.fromkeys(("distance", "sight length"), "distance"),
    "date": "date",
    **dict.fromkeys(("by", "read by"), "by"),
}
WORKED_OUT = ("rise", "fall", "height of collimation", "hpc", "level", "reduced level", "rl", "correction")
REMARKS = ("remark", "remarks", "note", "notes", "chainage")
NEEDED = ("point", "backsight", "between", "foresight")
SIGHTS = ("backsight", "between", "foresight")


@dataclass
class _SetUp:
    """A set-up while its rows are read."""

    name: Scalar
    start: Node
    start_point: str
    date: Scalar | None = None
    by: Scalar | None = None
    cells: list[Node] = field(default_factory=list)
    under: list[Node] = field(default_factory=list)
    end: tuple[str, Node] | None = None


@dataclass
class Book:
    """What reading a book needs to know: the names of columns and rows, and of the marks whose level is known."""

    columns: Sequence[str]
    rows: Sequence[str]
    marks: Sequence[str]
    faults: list[Fault]

    def fault(self, place: Place, code: str, says: str, guess: str | None = None) -> None:
        self.faults.append(Fault(place, code, says, guess))


def setups_from(rows: Sequence[CsvRow], book: Book, at: Place) -> Listing:
    """The set-ups of a level book, in the order of its rows. The first row names the columns.

    A row with a foresight and a backsight is a change point. A foresight on a mark closes there. An intermediate sight
    of less than 0 was read with the staff upside down.
    """
    if not rows:
        book.fault(at, "csv-head", f"{at.file} is empty: its first row names the columns: {', '.join(NEEDED)}")
        return Listing(at, ())
    head = _head(rows[0], book)
    if head is None:
        return Listing(at, ())
    done: list[_SetUp] = []
    for row in rows[1:]:
        cells = {name: cell for name, cell in zip(head, row, strict=False) if name and cell}
        if any(name.split(" ")[0] in SIGHTS for name in cells):
            _read(cells, row, done, book)
    if not done and not any(f.place.file for f in book.faults):
        book.fault(Place(1, 1, at.file), "csv-row", "there is no row with a backsight: nothing was read")
    return Listing(at, tuple(_mapping(s) for s in done))


def _head(row: CsvRow, book: Book) -> list[str] | None:
    """The meaning of each column; with its unit behind the name where the head says one: 'backsight m'."""
    out: list[str] = []
    for cell in row:
        name, unit = _unit_apart(plain_key(cell))
        meant = HEADS.get(name, "")
        if not meant and name and name not in WORKED_OUT and name not in REMARKS:
            wanted = listed(sorted(set(HEADS.values())))
            says = f"'{cell}' is no column of a level book, which has {wanted}"
            book.fault(cell.place, "csv-head", says, likely_word(name, list(HEADS)))
        out.append(f"{meant} {unit}".strip() if meant in (*SIGHTS, "distance") else meant)
    known = {name.split(" ")[0] for name in out}
    lacking = [n for n in NEEDED if n not in known and n != "between"]
    if lacking:
        says = (
            f"the first row has no column {listed([repr(n) for n in lacking])}: "
            "a level book begins with 'set-up, point, backsight, between, foresight'"
        )
        book.fault(row[0].place, "csv-head", says)
        return None
    return out


def _unit_apart(name: str) -> tuple[str, str]:
    """`backsight (m)` -> backsight, m."""
    found = re.fullmatch(r"(.+?)[ ,]*[\[(]?\b(mm|cm|m)\b[\])]?", name)
    return (found[1].strip(" (["), found[2]) if found else (name, "")


def _read(cells: dict[str, Scalar], row: CsvRow, done: list[_SetUp], book: Book) -> None:
    point = cells.get("point")
    if point is None:
        book.fault(row[0].place, "csv-row", "this row has a reading and names no point")
        return
    sights = {kind: _figure(cells, kind) for kind in SIGHTS}
    back, between, fore = sights["backsight"], sights["between"], sights["foresight"]
    open_ = done[-1] if done and done[-1].end is None else None
    for kind, cell in (("between", between), ("foresight", fore)):
        if cell is not None and open_ is None:
            says = f"this {kind} reading of '{point}' stands before any backsight of its set-up"
            book.fault(cell.place, "csv-row", says)
            return
    if between is not None and open_ is not None:
        _between(point, between, cells, open_, book)
    if fore is not None and open_ is not None:
        open_.end = ("close on" if point in book.marks else "leave on", _sight(point, fore, cells))
    if back is not None:
        if done and done[-1].end is None:
            says = f"{done[-1].name} has no foresight before this backsight: a set-up ends on a change point or a mark"
            book.fault(back.place, "csv-row", says)
        name = cells.get("set-up")
        if name is None or any(name == s.name for s in done):
            name = Scalar(f"S{len(done) + 1}", back.place)
        start = _sight(point, back, cells if fore is None else {})
        done.append(_SetUp(name, start, str(point), cells.get("date"), cells.get("by")))


def _figure(cells: dict[str, Scalar], kind: str) -> Scalar | None:
    """The reading with the unit that the column's head gives it."""
    for unit in ("", " mm", " cm", " m"):
        cell = cells.get(f"{kind}{unit}")
        if cell is not None:
            return Scalar(f"{cell}{unit}", cell.place, label=f"{kind} of {cells.get('point', '')}")
    return None


def _between(point: Scalar, cell: Scalar, cells: dict[str, Scalar], setup: _SetUp, book: Book) -> None:
    if cell.startswith(("-", "−")):
        turned = Scalar(cell.lstrip("-−"), cell.place, label=cell.label)
        setup.under.append(_sight(point, turned, cells))
        return
    split = next(
        ((c, point[len(c) :]) for c in book.columns if point.startswith(c) and point[len(c) :] in book.rows), None
    )
    if split is None:
        says = (
            f"'{point}' is no column and row of the grid (columns {listed(sorted(book.columns), most=12)}; rows "
            f"{listed(sorted(book.rows), most=12)})"
        )
        book.fault(point.place, "spot-unknown", says)
        return
    places = (Scalar("row", point.place), Scalar("column", point.place), Scalar("value", cell.place))
    values = (Scalar(split[1], point.place), Scalar(split[0], point.place), cell)
    setup.cells.append(Mapping(cell.place, tuple(zip(places, values, strict=True))))


def _sight(point: Scalar, reading: Scalar, cells: dict[str, Scalar]) -> Mapping:
    """A sight; one of less than 0 was read with the staff upside down."""
    entries: list[tuple[Scalar, Node]] = [(Scalar("point", point.place), point)]
    if reading.startswith(("-", "−")):
        entries.append((Scalar("staff", reading.place), Scalar("upside down", reading.place)))
        reading = Scalar(reading.lstrip("-−"), reading.place, label=reading.label)
    entries.append((Scalar("reading", reading.place), reading))
    distance = _figure(cells, "distance")
    if distance is not None:
        entries.append((Scalar("distance", distance.place), distance))
    return Mapping(point.place, tuple(entries))


def _mapping(s: _SetUp) -> Mapping:
    at = s.name.place

    def entries() -> Iterator[tuple[str, Node]]:
        yield "name", s.name
        if s.date:
            yield "date", s.date
        if s.by:
            yield "by", s.by
        yield "start on", s.start
        if s.cells:
            yield "readings", Listing(at, tuple(s.cells))
        if s.under:
            yield "upside down", Listing(at, tuple(s.under))
        if s.end is not None:
            yield s.end

    return Mapping(at, tuple((Scalar(k, at), v) for k, v in entries()))
