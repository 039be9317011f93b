"""Tables on paper: columns of known width, rows of known height, so that a table is parted by the program.

A template prints one with the macro `table` of templates/macros.html; row heights here and in css/sheet.css agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from markupsafe import Markup

from packgen.booklet.drawing.labels import width
from packgen.booklet.textsize import POINT_MM, SLACK, lines_of

ColumnKind = Literal["text", "number", "set", "tick", "write"]

SHEET_MM = 178.0  # A4 less the margins: 20 at the left, 12 at the right
BODY_MM = 234.0  # what a sheet's own content may fill below its head
BODY_BEHIND_MM = 214.0  # the same on sheets that a hold may band
LINE_MM = 4.5  # a line of 10 pt in a table
PAD_MM = 2.5  # above and below it together
SIDE_MM = 3.0  # left and right of a cell's text together
WRITE_MM = 9.0
SET_MM = 8.5
CAPTION_MM = 7.0
LAST_PART = 0.6  # of a sheet: a last part with less is filled up from the ones before
MARK_MM = 8.0  # a row that carries the shape of a finding


def body_mm(behind: object) -> float:
    """Height for a sheet's content, by the gate it lies behind (None: never banded)."""
    return BODY_MM if behind is None else BODY_BEHIND_MM


def widest_mm(texts: Iterable[str], least_mm: float = 0.0, bold: bool = False) -> float:
    """Width of a column in which none of the texts is broken, not less than `least_mm`."""
    return max([least_mm, *(width(t, 10 * POINT_MM, bold) / SLACK + SIDE_MM + 0.5 for t in texts)])


def words_of(cell: str) -> str:
    """What a reader sees of a cell: markup without its tags, other texts as they are."""
    if not isinstance(cell, Markup):
        return cell
    return re.sub(r"<title>.*?</title>|<[^>]+>", "", str(cell))


@dataclass(frozen=True, slots=True)
class Column:
    """kind: "text" at the left, "number" at the right, "set" 14 bold at the right, "tick" a box, "write" a wide box.

    width_mm: None shares what the others leave. unit is said once, under the head.
    """

    head: str
    kind: ColumnKind = "text"
    width_mm: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """cells: finished strings (or markup), one a column; a tick or write cell prints its box when the string is empty.

    rule: a line above this row, "light" 0.25 or "heavy" 0.5. strong: bold. title: a line across all columns that
    heads the rows below it (its cells hold the one text). keep: not parted from the row before it.
    """

    cells: tuple[str, ...]
    rule: Literal["", "light", "heavy"] = ""
    strong: bool = False
    title: bool = False
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table of one sheet. caption: a short heading above it, "" for none. width_mm: its whole width."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    caption: str = ""
    width_mm: float = SHEET_MM

    @property
    def widths_mm(self) -> tuple[float, ...]:
        """The width of each column."""
        open_ones = sum(c.width_mm is None for c in self.columns)
        rest = self.width_mm - sum(c.width_mm or 0.0 for c in self.columns)
        share = rest / open_ones if open_ones else 0.0
        return tuple(share if c.width_mm is None else c.width_mm for c in self.columns)

    @property
    def head_mm(self) -> float:
        """Height of caption and column heads."""
        lines = [
            lines_of(c.head, 9, w - SIDE_MM, True) + (1 if c.unit else 0)
            for c, w in zip(self.columns, self.widths_mm, strict=True)
        ]
        caption = CAPTION_MM if self.caption else 0.0
        shown = any(c.head for c in self.columns)
        return caption + (max(lines, default=1) * 4.0 + 2.0 if shown else 0.5)

    def row_mm(self, row: Row) -> float:
        """Height of one row."""
        if row.title:
            return lines_of(row.cells[0], 10, self.width_mm - SIDE_MM, True) * LINE_MM + PAD_MM + 1.0
        tall = 0.0
        for cell, column, w in zip(row.cells, self.columns, self.widths_mm, strict=True):
            if column.kind == "write":
                tall = max(tall, WRITE_MM)
            elif column.kind == "set":
                tall = max(tall, SET_MM)
            elif column.kind != "tick":
                bold = row.strong
                tall = max(tall, lines_of(words_of(cell), 10, w - SIDE_MM, bold) * LINE_MM + PAD_MM)
                tall = max(tall, MARK_MM if "<svg" in cell else 0.0)
        return max(tall, LINE_MM + PAD_MM) + (0.5 if row.rule else 0.0)

    @property
    def height_mm(self) -> float:
        """Height of the whole table with the gap below it."""
        return self.head_mm + sum(self.row_mm(r) for r in self.rows) + 4.0


def parted(table: Table, first_mm: float, next_mm: float | None = None) -> tuple[Table, ...]:
    """The table cut into parts that fit: the first part in `first_mm`, each further one in `next_mm`.

    Cut only before a row without `keep`, and a title never ends a part. A block taller than a part stands alone.
    """
    blocks = _blocks(table.rows)
    parts: list[list[Row]] = [[]]
    left = first_mm - table.head_mm - 4.0
    for block in blocks:
        tall = sum(table.row_mm(r) for r in block)
        if parts[-1] and tall > left:
            parts.append([])
            left = (first_mm if next_mm is None else next_mm) - table.head_mm - 4.0
        parts[-1] += block
        left -= tall
    return tuple(replace(table, rows=tuple(rows)) for rows in parts)


def evenly(table: Table, first_mm: float, next_mm: float | None = None) -> tuple[Table, ...]:
    """The same number of parts as `parted`, with the rows spread so that the last part is no crumb of a page."""
    following = first_mm if next_mm is None else next_mm
    best = parted(table, first_mm, following)
    part = 0.0
    while len(best) > 1 and best[-1].height_mm < following * LAST_PART and part < 0.5:
        part += 0.02
        tried = parted(table, first_mm * (1 - part), following * (1 - part))
        if len(tried) > len(best):
            break
        best = tried
    return best


def _blocks(rows: Sequence[Row]) -> list[list[Row]]:
    """Rows that stay together: a title with the row below it, and rows with `keep` with the one before."""
    blocks: list[list[Row]] = []
    for row in rows:
        joined = blocks and (row.keep or blocks[-1][-1].title)
        if joined:
            blocks[-1].append(row)
        else:
            blocks.append([row])
    return blocks
