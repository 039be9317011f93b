"""Sections to pages: text flows on, tables are parted, drawings wait for the head of a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from packgen.booklet.client.blocks import (
    Block,
    Drawing,
    Drawn,
    Either,
    Filler,
    Heading,
    Laid,
    Rows,
    Section,
    Text,
    caption_mm,
)
from packgen.booklet.rows import Table, parted

ROOM_MM = 237.0  # of a page below its head; the gap below the last block may reach into its margin
TALL_ROW_MM = 9.5  # one row this tall may end a page or begin one; of lower rows it takes two
STEP_MM = 4.0
GAIN_MM = 1.5  # a table here has so much less of a gap below it than `parted` counts


@dataclass
class Page:
    """What stands on one page, and which sections have a part on it, by key in order."""

    blocks: list[Laid] = field(default_factory=list)
    sections: list[str] = field(default_factory=list)
    begins: list[str] = field(default_factory=list)


def flow(sections: Sequence[Section], first: int, room_mm: float = ROOM_MM) -> tuple[Page, ...]:
    """All sections one after the other, numbered from `first`, on pages with so much room."""
    run = _Run(room_mm)
    for number, section in enumerate(sections, first):
        run.section(Heading(section.key, number, section.title), section.blocks)
    run.end()
    return tuple(p for p in run.pages if p.blocks)


class _Run:
    def __init__(self, room_mm: float) -> None:
        self.pages = [Page()]
        self.room = self.left = room_mm
        self.waiting: list[tuple[str, Drawing]] = []
        self.key = ""

    def section(self, heading: Heading, blocks: Sequence[Block]) -> None:
        self.key = heading.key
        todo: list[Block] = [heading, *blocks]
        for k, block in enumerate(todo):
            self._put(block, todo[k + 1 :])

    def end(self) -> None:
        while self.waiting:
            self._turn()

    # ---------------------------------------------------------------------------- one block

    def _put(self, block: Block, after: Sequence[Block]) -> None:
        if isinstance(block, Drawing):
            self._float(block)
        elif isinstance(block, Rows):
            self._rows(block)
        elif isinstance(block, Filler):
            self._fill(block)
        elif isinstance(block, Either):
            raise TypeError("blocks are resolved before they flow")
        else:
            need = block.height_mm
            if isinstance(block, Heading) or (isinstance(block, Text) and block.leads):
                need += _least_after(after)
            self._room_for(need)
            self._add(block)

    def _add(self, block: Laid) -> None:
        page = self.pages[-1]
        if isinstance(block, Heading):
            block = replace(block, at_top=not page.blocks)
            page.begins.append(block.key)
        if self.key not in page.sections:
            page.sections.append(self.key)
        page.blocks.append(block)
        self.left -= block.height_mm

    def _rows(self, block: Rows) -> None:
        table = block.table
        if not table.rows:
            return
        if block.whole and table.height_mm <= self.room:
            self._room_for(table.height_mm)
            self._add(block)
            return
        self._room_for(min(least_of(table), table.height_mm))
        parts = _no_orphans(table, self.left, self.room)
        for k, part in enumerate(parts):
            if k:
                self._turn()
                if part.height_mm > self.left:  # a waiting drawing took the head of this page
                    rest = replace(table, rows=tuple(r for p in parts[k:] for r in p.rows))
                    self._rows(Rows(rest))
                    return
            self._add(Rows(part))

    def _room_for(self, need: float) -> None:
        """Turns pages until there is so much room, or a page is empty."""
        while need > self.left and self.pages[-1].blocks:
            self._turn()

    def _fill(self, block: Filler) -> None:
        while self.waiting:
            self._turn()
        table = block.make(self.left)
        if table is not None:
            self._add(Rows(table))

    # ---------------------------------------------------------------------------- drawings and pages

    def _float(self, block: Drawing) -> None:
        if self.waiting or not self._place(block):
            self.waiting.append((self.key, block))

    def _place(self, block: Drawing) -> bool:
        room = self.left - caption_mm(block.caption)
        if room < block.least_mm:
            return False
        height = min(room, block.most_mm)
        self._add(Drawn(partial(block.draw, height), block.high(height), block.caption))
        return True

    def _turn(self) -> None:
        """A new page; what waits goes to its head as far as there is room."""
        self.pages.append(Page())
        self.left = self.room
        key = self.key
        while self.waiting:
            self.key, block = self.waiting[0]
            if not self._place(block):
                break
            self.waiting.pop(0)
        self.key = key


def least_of(table: Table) -> float:
    """Height of a table's head with as many rows as may stand alone."""
    first = table.row_mm(table.rows[0])
    alone = 1 if first >= TALL_ROW_MM and not table.rows[0].title else 2
    if len(table.rows) > 1 and table.rows[0].title:
        alone = 2 if table.row_mm(table.rows[1]) >= TALL_ROW_MM else 3
    return table.head_mm + sum(table.row_mm(r) for r in table.rows[:alone])


def _least_after(after: Sequence[Block]) -> float:
    """Height of what has to stay with a heading."""
    need = 0.0
    for block in after:
        if isinstance(block, Text):
            need += block.height_mm
            if block.leads:
                continue
            return need
        if isinstance(block, Rows) and block.table.rows:
            return need + (block.height_mm if block.whole else min(block.height_mm, least_of(block.table)))
        if isinstance(block, Drawing):
            continue
        break
    return need


def _no_orphans(table: Table, left: float, full: float) -> tuple[Table, ...]:
    """The table in parts, the last one with more than a single low row."""
    parts = parted(table, left + GAIN_MM, full + GAIN_MM)
    room = left
    while len(parts) > 1 and len(parts[-1].rows) == 1 and table.row_mm(parts[-1].rows[0]) < TALL_ROW_MM:
        room -= STEP_MM
        tried = parted(table, room + GAIN_MM, full + GAIN_MM)
        if len(tried) > len(parts) or room < least_of(table):
            break
        parts = tried
    return parts
