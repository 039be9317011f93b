"""Tables of readings as people write them, to cells with their own line and column."""

from __future__ import annotations

import re
from collections.abc import Iterable

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.tree import Listing, Mapping, Node, Scalar

NOT_READ = ("-", "–", "—", "−", "--")
HEADS = {"row": "row", "rows": "row", "column": "column", "columns": "column"}


def read_tables(levels: Mapping, faults: list[Fault]) -> Mapping:
    """`levels` with each set-up's table of readings as a list of {row, column, value}."""
    entries: list[tuple[Scalar, Node]] = []
    for key, value in levels.entries:
        if key == "setups" and isinstance(value, Listing):
            items = tuple(_setup(item, faults) if isinstance(item, Mapping) else item for item in value.items)
            value = Listing(value.place, items, value.flow)
        entries.append((key, value))
    return Mapping(levels.place, tuple(entries), levels.flow)


def _setup(setup: Mapping, faults: list[Fault]) -> Mapping:
    name = setup.text("name") or Scalar("this set-up", setup.place)
    entries: list[tuple[Scalar, Node]] = []
    for key, value in setup.entries:
        if key == "readings" and isinstance(value, Scalar) and value:
            value = Listing(value.place, tuple(_cells(key.place, value, str(name), faults)))
        entries.append((key, value))
    return Mapping(setup.place, tuple(entries), setup.flow)


def _cells(key: Place, block: Scalar, setup: str, faults: list[Fault]) -> Iterable[Node]:
    rows = list(block.rows)
    if not block.quoted:
        says = f"the readings of {setup} need a '|' after 'readings:', and each row in a line of its own below"
        faults.append(Fault(key, "no-bar", says, "readings: |"))
        if not rows:
            return
    elif not rows:
        says = f"the readings of {setup} are wanted as a table: 'readings: |' and each row in a line of its own below"
        faults.append(Fault(block.place, "no-table", says))
        return
    head: list[tuple[str, Place]] = []
    by = ""
    for number, line in rows:
        words = [(m[0], Place(number, m.start() + 1)) for m in re.finditer(r"[^\s|]+", line)]
        if not words or words[0][0].startswith("#"):
            continue
        first, place = words[0]
        if first.casefold().rstrip(":") in HEADS:
            by, head = HEADS[first.casefold().rstrip(":")], words[1:]
            continue
        if not head:
            says = f"the readings of {setup} begin with a row of names: 'row  A  B  C', then '1  1408  1409  1410'"
            faults.append(Fault(place, "no-head", says))
            return
        yield from _row(first.rstrip(":"), place, words[1:], head, by, setup, faults)


def _row(
    first: str,
    place: Place,
    cells: list[tuple[str, Place]],
    head: list[tuple[str, Place]],
    by: str,
    setup: str,
    faults: list[Fault],
) -> Iterable[Node]:
    other = "column" if by == "row" else "row"
    if len(cells) != len(head):
        names = ", ".join(name for name, _ in head)
        have = f"{len(cells)} reading{'' if len(cells) == 1 else 's'}"
        says = (
            f"{by} {first} of {setup} has {have} for the {len(head)} {other}s {names}: write '-' where none was taken"
        )
        faults.append(Fault(place, "cells-missing" if len(cells) < len(head) else "cells-too-many", says))
        return
    for (text, at), (name, named) in zip(cells, head, strict=True):
        if text in NOT_READ:
            continue
        row, column = (first, name) if by == "row" else (name, first)
        label = f"{column}{row} ({setup}, row {row})"
        row_at, column_at = (place, named) if by == "row" else (named, place)
        yield Mapping(
            at,
            (
                (Scalar("row", row_at), Scalar(row, row_at)),
                (Scalar("column", column_at), Scalar(column, column_at)),
                (Scalar("value", at), Scalar(text, at, label=label)),
            ),
        )
