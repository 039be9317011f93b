"""Tight tables of the teacher's book: 9 pt, a row as high as its longest cell, parted where a sheet ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from packgen.booklet.textsize import lines_of

LINE_MM, PAD_MM = 3.8, 0.65
CELL_MM = 1.6  # left and right of a cell's text together


@dataclass(frozen=True, slots=True)
class Grid:
    """heads and rows of finished strings; strong: columns in bold."""

    name: str
    heads: tuple[str, ...]
    widths_mm: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    strong: tuple[int, ...] = ()

    @property
    def head_mm(self) -> float:
        lines = max(lines_of(h, 9, w - CELL_MM, True) for h, w in zip(self.heads, self.widths_mm, strict=True))
        return lines * LINE_MM + 1.6 + (12.0 if self.caption else 0.0)

    def row_mm(self, row: Sequence[str]) -> float:
        """Height of one row."""
        lines = max(
            lines_of(cell, 9, w - CELL_MM, i in self.strong)
            for i, (cell, w) in enumerate(zip(row, self.widths_mm, strict=True))
        )
        return lines * LINE_MM + PAD_MM

    @property
    def height_mm(self) -> float:
        return self.head_mm + sum(self.row_mm(r) for r in self.rows) + 2.5


def parted(grid: Grid, room_mm: float) -> tuple[Grid, ...]:
    """The table cut between rows into parts that fit a sheet each."""
    parts: list[list[tuple[str, ...]]] = [[]]
    left = room_mm - grid.head_mm - 2.5
    for row in grid.rows:
        tall = grid.row_mm(row)
        if parts[-1] and tall > left:
            parts.append([])
            left = room_mm - grid.head_mm - 2.5
        parts[-1].append(row)
        left -= tall
    return tuple(replace(grid, rows=tuple(rows)) for rows in parts)
