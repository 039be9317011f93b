"""What class sheets are made of: blocks of known height, laid on pages by the program (templates/class-macros.html)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from markupsafe import Markup

from packgen.booklet.drawing.labels import width as text_width
from packgen.booklet.rows import SHEET_MM, Table
from packgen.booklet.textsize import POINT_MM, lines_of

BODY_MM = 246.0  # what a class sheet's content may fill below its head
LINE_MM = 4.5
PURPOSE_MM = 5.3  # a further line of the sentence under the title
WORKING_LEAST_MM = 60.0  # a box for the working is 60 by 160 at least
CHECK_MM = 8.5  # the line below it
SLACK_MM = 3.0  # left free where a box takes the rest of a page: texts wrap a little differently than measured
FORM_ROW_MM = 9.2
SQUARE_MM = 5
TICKS_MM = 110.0
SQUARES_LEAST_MM = 30.0


@dataclass(frozen=True, slots=True)
class Heading:
    """A task's name, with its marks at the right."""

    text: str
    marks: str = ""
    kind: Literal["heading"] = "heading"

    @property
    def height_mm(self) -> float:
        return 10.5


@dataclass(frozen=True, slots=True)
class Said:
    """Sentences, one a paragraph."""

    lines: tuple[str, ...]
    kind: Literal["said"] = "said"

    @property
    def height_mm(self) -> float:
        return sum(lines_of(line, 10, SHEET_MM) * LINE_MM + 0.5 for line in self.lines)


@dataclass(frozen=True, slots=True)
class Cell:
    """kind: "text", "blank" (a box with the question's number), "ticks" (boxes with words), "copy" (a writing line)."""

    text: str = ""
    kind: Literal["text", "blank", "ticks", "copy"] = "text"
    ticks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FormColumn:
    head: str
    width_mm: float
    kind: Literal["text", "number", "write"] = "text"
    unit: str = ""


@dataclass(frozen=True, slots=True)
class FormRow:
    cells: tuple[Cell, ...]
    rule: Literal["", "light", "heavy"] = ""


@dataclass(frozen=True, slots=True)
class Form:
    """A table to fill in."""

    name: str
    columns: tuple[FormColumn, ...]
    rows: tuple[FormRow, ...]
    kind: Literal["form"] = "form"

    @property
    def width_mm(self) -> float:
        return sum(c.width_mm for c in self.columns)

    @property
    def height_mm(self) -> float:
        heads = [
            lines_of(c.head, 9, c.width_mm - 2, True) + (lines_of(c.unit, 9, c.width_mm - 2) if c.unit else 0)
            for c in self.columns
        ]
        return (
            max(heads, default=1) * 4.0
            + 1.5
            + FORM_ROW_MM * len(self.rows)
            + 0.5 * sum(bool(r.rule) for r in self.rows)
            + 3.0
        )


@dataclass(frozen=True, slots=True)
class Ask:
    """One blank on a line of its own."""

    number: str
    text: str
    unit: str = ""
    box_mm: float = 40.0
    ticks: tuple[str, ...] = ()
    kind: Literal["line"] = "line"

    @property
    def height_mm(self) -> float:
        if self.ticks:
            wide = sum(text_width(t, 10 * POINT_MM) + 9.0 for t in self.ticks)
            return max(
                9.5, math.ceil(wide / TICKS_MM) * 5.5, lines_of(self.text, 10, SHEET_MM - 11 - TICKS_MM) * LINE_MM
            )
        return max(9.5, lines_of(self.text, 10, SHEET_MM - 47 - self.box_mm) * LINE_MM + 0.5)


@dataclass(frozen=True, slots=True)
class TableBlock:
    table: Table
    kind: Literal["table"] = "table"

    @property
    def height_mm(self) -> float:
        return self.table.height_mm


@dataclass(frozen=True, slots=True)
class Drawing:
    svg: Markup
    high_mm: float
    kind: Literal["drawing"] = "drawing"

    @property
    def height_mm(self) -> float:
        return self.high_mm + 5.5


@dataclass(frozen=True, slots=True)
class Squares:
    """Squared paper, a form's last block: it takes what its page has left, or stays away where that is little."""

    svg: Markup | None = None
    kind: Literal["squares"] = "squares"

    @property
    def height_mm(self) -> float:
        return 0.0


@dataclass(frozen=True, slots=True)
class Working:
    """A box for the working and the line "I check it with". It takes what its page has left."""

    text: str = "working"
    box_mm: float = WORKING_LEAST_MM
    line_mm: float = 140.0
    kind: Literal["working"] = "working"

    @property
    def height_mm(self) -> float:
        return self.box_mm + 2.0 + CHECK_MM


Block = Heading | Said | Form | Ask | TableBlock | Drawing | Squares | Working


def body_mm(purpose: str) -> float:
    """Height for a sheet's content: less where the sentence under its title takes more than a line."""
    return BODY_MM - PURPOSE_MM * (lines_of(purpose, 11, SHEET_MM) - 1)


@dataclass
class Flow:
    """Puts blocks on pages one after the other; forms are parted between rows where they must be."""

    room_mm: float = BODY_MM
    pages: list[list[Block]] = field(default_factory=lambda: [[]])
    left: float = BODY_MM

    def __post_init__(self) -> None:
        self.left = self.room_mm

    def add(self, *blocks: Block) -> None:
        """Adds blocks that stay together where they fit on a page; a form too high for one is parted."""
        tall = sum(b.height_mm for b in blocks)
        if tall <= self.room_mm:
            if tall > self.left:
                self.turn()
            self._put(blocks)
            return
        for block in blocks:
            for part in self._parts(block):
                if part.height_mm > self.left:
                    self.turn()
                self._put((part,))

    def _put(self, blocks: Sequence[Block]) -> None:
        self.pages[-1] += blocks
        self.left -= sum(b.height_mm for b in blocks)

    def turn(self) -> None:
        """Begins a new page unless this one is empty."""
        if self.pages[-1]:
            self.pages.append([])
        self.left = self.room_mm

    def _parts(self, block: Block) -> list[Block]:
        if not isinstance(block, Form) or block.height_mm <= self.left:
            return [block]
        parts: list[Block] = []
        rows = list(block.rows)
        room = self.left
        while rows:
            bare = replace(block, rows=()).height_mm
            fit = max(1, int((room - bare) // (FORM_ROW_MM + 0.5)))
            parts.append(replace(block, rows=tuple(rows[:fit])))
            rows, room = rows[fit:], self.room_mm
        return parts

    def finished(self) -> list[tuple[Block, ...]]:
        """The pages, working boxes grown over what is left of each."""
        out = []
        for page in self.pages:
            if not page:
                continue
            boxes = sum(isinstance(b, Working) for b in page)
            spare = max(0.0, self.room_mm - SLACK_MM - sum(b.height_mm for b in page))
            more = spare / boxes if boxes else 0.0
            out.append(tuple(_grown(b, more, spare) for b in page))
        return out


def _grown(block: Block, more: float, spare: float) -> Block:
    if isinstance(block, Working):
        return replace(block, box_mm=block.box_mm + more)
    if isinstance(block, Squares) and spare >= SQUARES_LEAST_MM:
        return replace(block, svg=squared(SHEET_MM, spare - 8.0))
    return block


def squared(wide: float, high: float) -> Markup:
    """Dots every 5 mm, as many as fit: they guide the hand and survive a copier."""
    down, across = int(high // SQUARE_MM), int(wide // SQUARE_MM)
    lines = "".join(f"M0 {i * SQUARE_MM}h{across * SQUARE_MM + 0.1}" for i in range(down + 1))
    w, h = across * SQUARE_MM, down * SQUARE_MM
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w + 1}mm" height="{h + 1}mm" '
        f'viewBox="-.5 -.5 {w + 1} {h + 1}"><title>dotted paper, {SQUARE_MM} mm</title>'
        f'<path d="{lines}" fill="none" stroke="#000" stroke-width=".45" stroke-linecap="round" '
        f'stroke-dasharray="0 {SQUARE_MM}"/></svg>'
    )
