"""The cells of a CSV file, each with its row and column."""

from __future__ import annotations

import csv
from collections.abc import Sequence

from packgen.core.place import Place
from packgen.project.text import read_lines
from packgen.project.tree import Scalar

CsvRow = tuple[Scalar, ...]


def cells_of(data: bytes, file: str) -> tuple[CsvRow, ...] | str:
    """Rows without the empty ones; or why the bytes are no such file. Cells are parted by comma, semicolon or tab."""
    lines = read_lines(data)
    if lines.over:
        return lines.faults[0].says if lines.faults else "cannot be read"
    parted = _parted_by(lines.own)
    rows = []
    for n, row in enumerate(csv.reader(lines.own, delimiter=parted), 1):
        cells = tuple(Scalar(" ".join(cell.split()), Place(n, k, file)) for k, cell in enumerate(row, 1))
        if any(cells):
            rows.append(cells)
    return tuple(rows)


def _parted_by(lines: Sequence[str]) -> str:
    """What parts the cells of the first line that holds anything; a comma may then be a decimal sign."""
    first = next((line for line in lines if line.strip()), "")
    return max((";", "\t", ","), key=first.count)
