"""Tables that several sections use, and what is said where the project file says nothing."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.client.blocks import MISSING
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import fills_in_use, pack_word
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.textsize import lines_of
from packgen.core.figures import level, listed, plain
from packgen.heights.model import ZoneTop
from packgen.plan import Plan

NAME_MM = 48.0


def pairs(rows: Sequence[tuple[str, str]], caption: str = "", name_mm: float = NAME_MM) -> Table:
    """Names at the left, what they are at the right."""
    columns = (Column("", width_mm=name_mm), Column(""))
    return Desk(columns, tuple(Row((first_upper(name), value), "light") for name, value in rows), caption)


def said(text: str | None) -> str:
    """A value of the file, or that the file does not give it."""
    return text or MISSING


def finished_words(plan: Plan, zone: ZoneTop) -> str:
    """The finished level of a zone in words, with its fall."""
    return _level_words(plan, zone, zone.finished_mm)


def rail_words(plan: Plan, zone: ZoneTop) -> str:
    """The level of the rail tops of a zone in words, with its fall."""
    return _level_words(plan, zone, zone.rail_top_mm)


def _level_words(plan: Plan, zone: ZoneTop, mm: float) -> str:
    words = level(mm, plan.project.datum.name)
    return f"{words} where the fall starts, {zone.falls_in_words}" if zone.fall_per_m else words


def within_lines(text: str, lines: int, wide_mm: float, size_pt: float = 10.0, bold: bool = False) -> str:
    """The text as far as so many lines of a column hold it."""
    if lines_of(text, size_pt, wide_mm, bold) <= lines:
        return text
    kept = text
    while kept and lines_of(f"{kept} ...", size_pt, wide_mm, bold) > lines:
        kept = kept[:-1]
    return f"{kept.rsplit(' ', 1)[0]} ..."


def by_zone(plan: Plan, words: Sequence[str], most: int = 4) -> str:
    """What is said of each zone: once where it is the same, else zone by zone."""
    said_of: dict[str, list[str]] = {}
    for zone, text in zip(plan.heights.zones, words, strict=True):
        said_of.setdefault(text, []).append(zone.name)
    if len(said_of) == 1:
        return next(iter(said_of))
    parts = [f"{listed(names, most=3)}: {text}" for text, names in said_of.items()]
    return "; ".join(parts[:most]) + (f"; and {len(parts) - most} more" if len(parts) > most else "")


def layer_list(zone: ZoneTop) -> str:
    """The layers above the rail from the top, with their sum."""
    if not zone.build_up.layers:
        return "none"
    layers = ", ".join(f"{name} {plain(mm)}" for name, mm in zone.build_up.layers)
    return f"{layers}; together {plain(zone.build_up.finish_mm)} mm"


def bag_word(plan: Plan) -> str:
    """What the fill comes in, where several fills come in several things: bags."""
    words = {pack_word(fill) for fill in fills_in_use(plan)}
    return words.pop() if len(words) == 1 else "bag"


def holds_words(count: int) -> str:
    """ "1 hold stands", "6 holds stand"."""
    return f"{count} {'hold stands' if count == 1 else 'holds stand'}" if count else "no hold stands"


def is_board(plan: Plan, layer: str) -> bool:
    """Whether a layer is the board that comes with the fill."""
    board = plan.project.fills.used.board_on_top
    return board is not None and layer.lower().startswith(board.material.lower())
