"""What a method statement is made of: headings, sentences, tables and drawings, each of known height."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from markupsafe import Markup

from packgen.booklet.rows import SHEET_MM, Table
from packgen.booklet.textsize import lines_of

TEXT_PT, TEXT_LINE_MM, TEXT_GAP_MM = 10.0, 4.5, 2.5
SMALL_PT, SMALL_LINE_MM, SMALL_GAP_MM = 9.0, 4.0, 3.0
HEAD_MM, HEAD_ABOVE_MM = 7.5, 1.5  # the gap below a block counts as part of the one above a heading
SUB_MM = 8.8
CAPTION_LINE_MM, DRAWING_GAP_MM = 4.5, 6.0
MISSING = "not stated"


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading of a numbered section. key: its anchor. at_top: nothing stands above it on its page."""

    kind: ClassVar[str] = "heading"
    key: str
    number: int
    title: str
    at_top: bool = False

    @property
    def height_mm(self) -> float:
        return HEAD_MM + (0.0 if self.at_top else HEAD_ABOVE_MM)


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph. leads: it stays with what follows it."""

    kind: ClassVar[str] = "text"
    text: str
    leads: bool = False

    @property
    def height_mm(self) -> float:
        return lines_of(self.text, TEXT_PT, SHEET_MM) * TEXT_LINE_MM + TEXT_GAP_MM


@dataclass(frozen=True, slots=True)
class Small:
    """Small print below a table: sources."""

    kind: ClassVar[str] = "small"
    text: str

    @property
    def height_mm(self) -> float:
        return lines_of(self.text, SMALL_PT, SHEET_MM) * SMALL_LINE_MM + SMALL_GAP_MM


@dataclass(frozen=True, slots=True)
class Rows:
    """A table. whole: never parted over two pages."""

    kind: ClassVar[str] = "table"
    table: Table
    whole: bool = False

    @property
    def height_mm(self) -> float:
        return self.table.height_mm


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing in its place, not drawn yet: pages may be tried several times before they stay. make: draws it."""

    kind: ClassVar[str] = "drawn"
    make: Callable[[], Markup]
    drawing_mm: float
    caption: str

    @property
    def height_mm(self) -> float:
        return self.drawing_mm + caption_mm(self.caption)


@dataclass(frozen=True, slots=True)
class Shown:
    """A drawing as the template gets it."""

    kind: ClassVar[str] = "drawing"
    drawing: Markup
    caption: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing that is made as large as the page allows, between two heights; where it does not fit it stands at the
    head of the next page and the text goes on before it.

    draw: height in mm to the drawing, which takes that or less; high: height in mm to what it takes
    """

    kind: ClassVar[str] = "float"
    draw: Callable[[float], Markup]
    high: Callable[[float], float]
    caption: str
    least_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True)
class Filler:
    """A table that takes what the last page leaves: room in mm to rows, None where there is too little."""

    kind: ClassVar[str] = "filler"
    make: Callable[[float], Table | None]


@dataclass(frozen=True, slots=True)
class Either:
    """Blocks that give way to shorter ones where the statement would be too long; lower ranks give way first."""

    kind: ClassVar[str] = "either"
    rank: int
    full: tuple[Block, ...]
    short: tuple[Block, ...]


Laid = Heading | Text | Small | Rows | Drawn
Block = Laid | Drawing | Filler | Either


@dataclass(frozen=True, slots=True)
class Section:
    """A numbered section: its number is its place in the statement."""

    key: str
    title: str
    blocks: tuple[Block, ...]


def resolved(blocks: tuple[Block, ...], rank: int) -> tuple[Block, ...]:
    """The blocks with everything up to a rank in its short form."""
    out: list[Block] = []
    for block in blocks:
        if isinstance(block, Either):
            out += resolved(block.short if block.rank <= rank else block.full, rank)
        else:
            out.append(block)
    return tuple(out)


def drawn_mm(drawing: Markup) -> float:
    """Height of a drawing as it says itself."""
    found = re.search(r'height="([\d.]+)mm"', str(drawing))
    return float(found.group(1)) if found else 0.0


def caption_mm(caption: str) -> float:
    """Height of a caption with the room round the drawing."""
    return lines_of(caption, 10, SHEET_MM) * CAPTION_LINE_MM + DRAWING_GAP_MM
