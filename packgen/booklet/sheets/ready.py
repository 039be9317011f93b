"""Before you start: everything at hand, ticked off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from packgen.booklet.hazard_texts import NOT_YOURS
from packgen.booklet.rows import BODY_MM, WRITE_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.booklet.tools import Block, blocks
from packgen.plan import Plan

WIDE_MM = 78.0  # of a row's words, in one of two columns
TITLE_MM = 11.5
FOOT_MM = 24.0
LINE_MM, PAD_MM = 4.5, 1.6
LEAST_ITEM_MM = 7.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Blocks flow down two columns a sheet; a long block goes on in the next column under the same heading."""
    pages = _pages(blocks(plan))
    return tuple(
        Sheet(
            slug="ready" if n == 1 else f"ready-{n}",
            title="Before you start",
            purpose="Tick it off with your own eyes. What is missing at noon is missing in a half-filled bay.",
            template="ready.html",
            view={
                "columns": page,
                "last": n == len(pages),
                "not_yours": NOT_YOURS,
                "more": _more(page) if n == len(pages) else None,
            },
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _pages(todo: tuple[Block, ...]) -> list[list[tuple[Block, ...]]]:
    """Full sheets first; what is left is spread evenly over the two columns of the last."""
    columns = _columns(todo, BODY_MM)
    pages = []
    while len(columns) > 2:
        pages.append(columns[:2])
        columns = columns[2:]
    rest = tuple(block for column in columns for block in column)
    room = BODY_MM / 4
    while len(even := _columns(rest, room)) > 2 and room < BODY_MM - FOOT_MM:
        room += 3.0
    while len(even) > 2:
        pages.append(even[:2])
        even = even[2:]
    return [*pages, even]


def _more(page: Sequence[Sequence[Block]]) -> Table | None:
    """Blank rows for what this site needs besides, where the last sheet has room for three of them."""
    used = max(sum(TITLE_MM + sum(_item_mm(i) for i in b.items) for b in column) for column in page)
    table = Table(
        (Column("what", "write"), Column("from whom", "write", 55), Column("here", "tick", 18)), (), "Also needed here"
    )
    count = int((BODY_MM - FOOT_MM - used - table.height_mm) // WRITE_MM)
    return replace(table, rows=(Row(("", "", "")),) * min(count, 14)) if count > 2 else None


def _item_mm(item: str) -> float:
    return max(LEAST_ITEM_MM, lines_of(item, 10, WIDE_MM) * LINE_MM + PAD_MM)


def _columns(todo: tuple[Block, ...], room: float) -> list[tuple[Block, ...]]:
    columns: list[list[Block]] = [[]]
    left = room
    for block in todo:
        rest = list(block.items)
        title = block.title
        while rest:
            tall = [_item_mm(i) for i in rest]
            count = 0
            while count < len(rest) and TITLE_MM + sum(tall[: count + 1]) <= left:
                count += 1
            count -= count == len(rest) - 1 and count > 2  # never a single row on its own
            if count < min(2, len(rest)) and columns[-1]:
                columns.append([])
                left = room
                continue
            count = max(count, 1)
            columns[-1].append(Block(title, tuple(rest[:count])))
            left -= TITLE_MM + sum(tall[:count])
            rest = rest[count:]
            title = f"{block.title}, continued" if not title.endswith(", continued") else title
            if rest:
                columns.append([])
                left = room
    return [tuple(c) for c in columns]
