"""Tables of readings as people write them, to cells with their own line and column."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packgen.core.figures import listed
from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.tree import Listing, Mapping, Node, Scalar

NOT_READ = ("-", "–", "—", "−", "--")
HEADS = {"row": "row", "rows": "row", "column": "column", "columns": "column"}
METRES = re.compile(r"[0-9][.,][0-9]{3}")

Word = tuple[str, Place]


@dataclass
class Table:
    """A table being read. `by`: what the first word of a line names; `head`: the names across."""

    setup: str
    faults: list[Fault]
    sign: str = ""  # what a level without a sign means: "+" above the datum, "-" below it, "" not said
    levels: bool = False
    told: bool = False  # that signs are missing
    by: str = ""
    head: tuple[Word, ...] = ()

    @property
    def across(self) -> str:
        return "column" if self.by == "row" else "row"

    def fault(self, place: Place, code: str, says: str, guess: str | None = None) -> None:
        self.faults.append(Fault(place, code, says, guess))


def read_table(setup: Mapping, name: str, faults: list[Fault]) -> Mapping:
    """A set-up with its table of readings as a list of {row, column, value}."""
    return _with_cells(setup, Table(name, faults))


def levels_read(levels: Mapping, faults: list[Fault]) -> Mapping:
    """`read as: levels` (each with a sign), `levels below TBM` or `levels above TBM`: no line of sight is wanted."""
    said = levels.text("read as")
    words = said.split() if said else []
    setups = levels.get("setups")
    if said is None or not words or words[0].casefold() != "levels" or not isinstance(setups, Listing):
        return levels
    sign = {"below": "-", "above": "+"}.get(words[1].casefold(), "") if len(words) > 1 else ""
    items = tuple(_levels_setup(i, sign, faults) if isinstance(i, Mapping) else i for i in setups.items)
    changed: dict[str, Node] = {
        "read as": Scalar("levels" if sign or len(words) == 1 else str(said), said.place),
        "setups": Listing(setups.place, items, setups.flow),
    }
    return Mapping(levels.place, tuple((k, changed.get(str(k), v)) for k, v in levels.entries), levels.flow)


def _levels_setup(setup: Mapping, sign: str, faults: list[Fault]) -> Mapping:
    name = setup.text("name") or "this set-up"
    done = _with_cells(setup, Table(str(name), faults, sign, True))
    if done.get("start on") is not None:
        return done
    at = setup.place
    none = Mapping(at, ((Scalar("point", at), Scalar("levels", at)), (Scalar("reading", at), Scalar("0", at))))
    return Mapping(at, (*done.entries, (Scalar("start on", at), none)), done.flow)


def _with_cells(setup: Mapping, table: Table) -> Mapping:
    entries: list[tuple[Scalar, Node]] = []
    for key, value in setup.entries:
        if key == "readings" and isinstance(value, Scalar) and value:
            value = Listing(value.place, tuple(_lines(key.place, value, table)))
        entries.append((key, value))
    return Mapping(setup.place, tuple(entries), setup.flow)


def _lines(key: Place, block: Scalar, table: Table) -> Iterator[Node]:
    if block.place.file:
        width = max((n for row in block.cells[:1] for n, cell in enumerate(row, 1) if cell), default=0)
        rows = [_table_row(row, width) for row in block.cells]
        yield from _table(rows, table)
        return
    if not block.quoted:
        says = f"the readings of {table.setup} need a '|' after 'readings:', and each row in a line of its own below"
        table.fault(key, "no-bar", says, "readings: |")
    elif not block.rows:
        says = (
            f"the readings of {table.setup} are wanted as a table: 'readings: |' and each row in a "
            "line of its own below"
        )
        table.fault(block.place, "no-table", says)
    rows = []
    for number, line in block.rows:
        if key_line := re.match(r"( *)([a-z][a-z ]*): ", line):
            says = f"'{key_line[2]}' stands in the table of {table.setup}: it starts too far in"
            table.fault(Place(number, len(key_line[1]) + 1), "indent", says)
        elif words := _words(number, line):
            rows.append(words)
    yield from _table(rows, table)


def _table_row(cells: Sequence[Scalar], width: int) -> list[Word]:
    """The cells of a row of a file, as many as its first row has names; an empty one is a place not read."""
    last = max((n for n, cell in enumerate(cells) if cell), default=-1)
    texts = [str(cell) or ("row" if n == 0 and cell.place.line == 1 else "-") for n, cell in enumerate(cells)]
    return [(text, cell.place) for text, cell in zip(texts, cells, strict=True)][: max(width, last + 1)]


def _table(rows: Sequence[list[Word]], table: Table) -> Iterator[Node]:
    metres: list[tuple[str, list[Word]]] = []
    for n, words in enumerate(rows):
        first, place = words[0]
        if first.casefold() in HEADS and not _named_row(words, table):
            table.by, table.head = HEADS[first.casefold()], tuple(words[1:])
            _head_twice(table)
            continue
        if not table.head and not _bare_head(words, list(rows[n + 1 : n + 2]), table):
            says = (
                f"the readings of {table.setup} begin with a row of names: 'row  A  B  C', then '1  1408  1409  1410'"
            )
            table.fault(place, "no-head", says)
            return
        if n == 0 and table.head == tuple(words):
            continue
        cells = words[2:] if _named_row(words, table) else words[1:]
        name = words[len(words) - len(cells) - 1]
        in_metres = [w for w in cells if METRES.fullmatch(w[0])]
        if in_metres:
            metres.append((name[0], in_metres))
        else:
            yield from _row(name, cells, table)
    if metres:
        row, figures = metres[0]
        told = listed([text for text, _ in figures])
        more = f" (and {len(metres) - 1} more like it)" if len(metres) > 1 else ""
        says = (
            f"{table.by} {row} of {table.setup} reads {told}{more}: that looks like metres, and "
            "readings are wanted in mm"
        )
        table.fault(figures[0][1], "reading-unit", says, re.sub("[.,]", "", figures[0][0]).lstrip("0"))


def _words(number: int, line: str) -> list[Word]:
    """The words of a line with their places: bars and commas between them and a remark behind them left out."""
    content = re.split(r"(?:^|\s)#", line, maxsplit=1)[0]
    glued = re.sub(r"(?<=[0-9]{3}),(?=[0-9]{3})", " ", content.replace(";", " "))
    found = [(m[0].rstrip(",:"), Place(number, m.start() + 1)) for m in re.finditer(r"[^\s|]+", glued)]
    return [word for word in found if word[0]]


def _named_row(words: list[Word], table: Table) -> bool:
    """`row 5  1489 1493 1496` under a head that is known already."""
    return bool(table.head) and words[0][0].casefold() == table.by and len(words) == len(table.head) + 2


def _bare_head(words: list[Word], below: list[list[Word]], table: Table) -> bool:
    """A first line of names without the word 'row': a fault, and read on as if it stood there."""
    if not below or len(below[0]) != len(words) + 1 or any(text[:1].isdigit() for text, _ in words):
        return False
    says = f"the first line of the table of {table.setup} begins with the word 'row'"
    table.fault(words[0][1], "no-head", says, f"row  {'  '.join(text for text, _ in words)}")
    table.by, table.head = "row", tuple(words)
    return True


def _head_twice(table: Table) -> None:
    names = [name for name, _ in table.head]
    for n, (name, place) in enumerate(table.head):
        if name in names[:n]:
            table.fault(place, "read-twice", f"{table.across} {name} stands twice in the first line of this table")
            table.head = (*table.head[:n], ("", place), *table.head[n + 1 :])


def _row(first: Word, cells: list[Word], table: Table) -> Iterator[Node]:
    named, place = first
    if len(cells) != len(table.head):
        _wrong_count(first, cells, table)
        return
    for (text, at), (name, head_at) in zip(cells, table.head, strict=True):
        if text in NOT_READ or not name:
            continue
        row, column = (named, name) if table.by == "row" else (name, named)
        row_at, column_at = (place, head_at) if table.by == "row" else (head_at, place)
        label = f"{column}{row} ({table.setup}, row {row})"
        value = _level(text, at, label, table) if table.levels else Scalar(text, at, label=label)
        if value is not None:
            yield Mapping(
                at,
                (
                    (Scalar("row", row_at), Scalar(row, row_at)),
                    (Scalar("column", column_at), Scalar(column, column_at)),
                    (Scalar("value", at), value),
                ),
            )


def _level(text: str, at: Place, label: str, table: Table) -> Scalar | None:
    """A level with its sign; without one as `read as` says."""
    plain = re.sub("[–−—]", "-", text)
    if plain[:1] in "+-":
        return Scalar(plain, at, label=label)
    if not table.sign and plain.strip("0"):
        if table.told:
            return None
        table.told = True
        says = (
            f"{label}: '{text}' may be above or below the datum: write +{text} or -{text}, or 'read "
            "as: levels below TBM'"
        )
        table.fault(at, "level-sign", says)
        return None
    return Scalar(f"{table.sign}{plain}", at, label=label)


def _wrong_count(first: Word, cells: list[Word], table: Table) -> None:
    named, place = first
    names = ", ".join(name for name, _ in table.head)
    have = f"{len(cells)} reading{'' if len(cells) == 1 else 's'}"
    says = f"{table.by} {named} of {table.setup} has {have} for the {len(table.head)} {table.across}s {names}"
    guess = None
    if any(re.fullmatch(r"mm|cm|m", text) for text, _ in cells):
        says += ": write the figures without a unit, in mm"
        guess = "  ".join([named, *(text for text, _ in cells if not re.fullmatch(r"mm|cm|m", text))])
    elif len(cells) == 2 * len(table.head):
        says += ": is there a blank inside the figures?"
        guess = "  ".join([named, *(a + b for (a, _), (b, _) in zip(cells[::2], cells[1::2], strict=True))])
    elif len(cells) < len(table.head):
        says += ": write '-' where none was taken"
    else:
        says += ": is there one too many, or a blank inside a figure?"
    table.fault(place, "cells-missing" if len(cells) < len(table.head) else "cells-too-many", says, guess)
