"""Tables that are read at a desk and not set out by: the same type, closer rows."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.booklet.rows import LINE_MM, SIDE_MM, WRITE_MM, Row, Table, words_of
from packgen.booklet.textsize import lines_of

DESK_LINE_MM, DESK_PAD_MM, RULE_MM = 4.3, 1.4, 0.25  # css/sheet.css, .desk
GAP_MM = 2.5  # below a table
DRAWN_MM = 7.0  # a sign, or a bar of the programme, with its padding


@dataclass(frozen=True, slots=True)
class Desk(Table):
    """A table with close rows; rows to write in keep their height."""

    def row_mm(self, row: Row) -> float:
        """Height of one row."""
        if row.title:
            return Table.row_mm(self, row)
        tall = DESK_LINE_MM
        for cell, column, wide in zip(row.cells, self.columns, self.widths_mm, strict=True):
            lines = lines_of(words_of(cell), 10, wide - SIDE_MM, row.strong)
            tall = max(tall, lines * DESK_LINE_MM + DESK_PAD_MM)
            if column.kind == "write" and not cell:
                tall = max(tall, WRITE_MM)
            elif column.kind == "write":
                tall = max(tall, lines * LINE_MM + 1.0)
            if "<svg" in cell:
                tall = max(tall, DRAWN_MM)
        return tall + (RULE_MM if row.rule else 0.0)

    @property
    def height_mm(self) -> float:
        """Height of the whole table with the gap below it."""
        return self.head_mm + sum(self.row_mm(r) for r in self.rows) + GAP_MM
