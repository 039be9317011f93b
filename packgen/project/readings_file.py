"""`readings file: levels.csv`: the file beside the project file put into the tree where its readings belong."""

from __future__ import annotations

import re

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.beside import Beside
from packgen.project.csv_book import Book, setups_from
from packgen.project.csv_cells import CsvRow, cells_of
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar

KEY = "readings file"


def with_readings(tree: Mapping, beside: Beside, faults: list[Fault]) -> Mapping:
    """The tree with every readings file read: a whole level book under `levels`, or one table under a set-up."""
    levels = tree.get("levels")
    if not isinstance(levels, Mapping):
        return tree
    said = levels.text(KEY)
    if said:
        levels = _whole_book(tree, levels, said, beside, faults)
    setups = levels.get("setups")
    if isinstance(setups, Listing):
        items = tuple(_with_table(i, beside, faults) if isinstance(i, Mapping) else i for i in setups.items)
        levels = _put(levels, "setups", Listing(setups.place, items, setups.flow))
    return _put(tree, "levels", levels)


def _put(node: Mapping, key: str, value: Node) -> Mapping:
    if node.get(key) is None:
        return Mapping(node.place, (*node.entries, (Scalar(key, value.place), value)), node.flow)
    return Mapping(node.place, tuple((k, value if k == key else v) for k, v in node.entries), node.flow)


def _whole_book(tree: Mapping, levels: Mapping, said: Scalar, beside: Beside, faults: list[Fault]) -> Mapping:
    if levels.get("setups") is not None:
        says = f"{KEY}: '{said}' holds the whole level book, and 'setups' stands here too: keep one of them"
        faults.append(Fault(said.place, "file-and-setups", says))
        return levels
    rows = _rows(said, beside, faults)
    if rows is None:
        return _put(levels, "setups", Refused(said.place))
    datum = tree.get("datum")
    marks = [str(datum.text("name") or "TBM")] if isinstance(datum, Mapping) else ["TBM"]
    others = datum.get("other marks") if isinstance(datum, Mapping) else None
    marks += [str(k) for k, _ in others.entries] if isinstance(others, Mapping) else []
    book = Book(_names(levels, "columns at"), _names(levels, "rows at"), marks, faults)
    setups = setups_from(rows, book, Place(1, 1, str(said)))
    found = Listing(said.place, setups.items) if setups.items else Refused(said.place)
    return _put(levels, "setups", found)


def _names(levels: Mapping, key: str) -> list[str]:
    """Longest first, so that AA1 is not read as A and A1."""
    node = levels.get(key)
    return sorted((str(k) for k, _ in node.entries), key=len, reverse=True) if isinstance(node, Mapping) else []


def _with_table(setup: Mapping, beside: Beside, faults: list[Fault]) -> Mapping:
    """A set-up whose table lies in a file: `row, A, B, C` and a row a line."""
    said = setup.text(KEY)
    if not said:
        return setup
    if setup.get("readings") is not None:
        says = f"{KEY}: the set-up has a table of 'readings' too: keep one of them"
        faults.append(Fault(said.place, "file-and-setups", says))
        return setup
    rows = _rows(said, beside, faults)
    if rows is None:
        return setup
    block = Scalar("table", Place(1, 1, str(said)), quoted=True, cells=rows)
    return _put(setup, "readings", block)


def _rows(said: Scalar, beside: Beside, faults: list[Fault]) -> tuple[CsvRow, ...] | None:
    outside = re.match(r"[\\/]|[A-Za-z]:", said) or ".." in re.split(r"[\\/]", said)
    data = "lies outside the folder of the project file" if outside else beside(str(said))
    rows = data if isinstance(data, str) else cells_of(data, str(said))
    if isinstance(rows, str):
        says = f"{KEY}: '{said}' {rows}: a CSV file in the folder of the project file is wanted"
        faults.append(Fault(said.place, "readings-file", says))
        return None
    return rows
