"""What survey sheets are made of: blocks of known height, so that the last form takes the room that is left."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from packgen.booklet.blank.paper_size import PaperSize
from packgen.booklet.rows import Row, Table, widest_mm
from packgen.booklet.textsize import lines_of

HEADING_MM = 10.5
LINE_MM = 5.3  # a line of 11 pt
STEP_MM = 1.5
FIELD_MM = 10.5
SIGNED_MM = 13.5
PRE_LINE_MM = 4.6
TICK_MM = 6.0


@dataclass(frozen=True, slots=True)
class Heading:
    text: str
    kind: Literal["heading"] = "heading"

    def tall(self, width_mm: float) -> float:
        return HEADING_MM


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbered sentences; `first` is the number of the first."""

    items: tuple[str, ...]
    first: int = 1
    kind: Literal["steps"] = "steps"

    def tall(self, width_mm: float) -> float:
        return sum(lines_of(s, 11, width_mm - 8) * LINE_MM + STEP_MM for s in self.items) + 1.0


@dataclass(frozen=True, slots=True)
class Note:
    """A framed remark; with `caution` it bears the triangle."""

    text: str
    caution: bool = False
    kind: Literal["note"] = "note"

    def tall(self, width_mm: float) -> float:
        return lines_of(self.text, 11, width_mm - (15 if self.caution else 7.5)) * LINE_MM + 8.5


@dataclass(frozen=True, slots=True)
class Form:
    """A table to write in."""

    table: Table
    kind: Literal["form"] = "form"

    def tall(self, width_mm: float) -> float:
        return self.table.height_mm


@dataclass(frozen=True, slots=True)
class Drawing:
    svg: Markup
    high_mm: float
    caption: str = ""
    kind: Literal["drawing"] = "drawing"

    def tall(self, width_mm: float) -> float:
        return self.high_mm + 5.0 + (lines_of(self.caption, 10, width_mm) * 4.5 if self.caption else 0.0)


@dataclass(frozen=True, slots=True)
class Field:
    """A box of so many mm with words before and after it, or words with boxes to tick."""

    text: str
    box_mm: float = 0.0
    ticks: tuple[str, ...] = ()
    unit: str = ""

    @property
    def wide_mm(self) -> float:
        """Width on paper with the gap after it."""
        words = " ".join(w for w in (self.text, *self.ticks, self.unit) if w)
        return widest_mm([words]) + self.box_mm + TICK_MM * len(self.ticks) + 4.0


@dataclass(frozen=True, slots=True)
class Fields:
    """Lines of boxes."""

    lines: tuple[tuple[Field, ...], ...]
    kind: Literal["fields"] = "fields"

    def tall(self, width_mm: float) -> float:
        return FIELD_MM * len(self.lines) + 1.0


@dataclass(frozen=True, slots=True)
class FileText:
    """Lines as they stand in the project file, to be typed or copied."""

    text: str
    kind: Literal["file"] = "file"

    def tall(self, width_mm: float) -> float:
        return sum(lines_of(line, 10, (width_mm - 6.7) * 0.86) for line in self.text.split("\n")) * PRE_LINE_MM + 9.0


Block = Heading | Steps | Note | Form | Drawing | Fields | FileText


def left_mm(paper: PaperSize, blocks: Iterable[Block], signed: bool = True) -> float:
    """What a sheet has left below these blocks and the line "filled in by"."""
    used = sum(b.tall(paper.sheet_mm) for b in blocks) + (SIGNED_MM if signed else 0.0)
    return paper.body_mm - used


def filled(
    paper: PaperSize,
    before: Sequence[Block],
    table: Callable[[int], Table],
    after: Sequence[Block] = (),
    most: int = 40,
) -> tuple[Block, ...]:
    """The blocks with a form of as many empty rows between them as the sheet has room for."""
    room = left_mm(paper, [*before, *after])
    count = 1
    while count < most and table(count + 1).height_mm <= room:
        count += 1
    return (*before, Form(table(count)), *after)


def rows_of(first: Iterable[Sequence[str]], names: Iterable[str], columns: int, ruled: bool = False) -> tuple[Row, ...]:
    """Rows of finished cells (an example, what the file says), then an empty row a name.

    ruled: thin rules between rows that are read; boxes need none.
    """
    full = [Row(tuple(c), "light" if ruled and k else "") for k, c in enumerate(first)]
    return (*full, *(Row((name, *("",) * (columns - 1))) for name in names))
