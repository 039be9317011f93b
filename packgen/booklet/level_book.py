"""The level book by height of collimation: a set-up's sights said in one line, its readings side by side."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Literal

from packgen.booklet.dense import Desk
from packgen.booklet.rows import SHEET_MM, Column, Row, Table, widest_mm
from packgen.core.figures import day, level, number, whole
from packgen.plan import Plan
from packgen.survey.model import BookLine

GAP_MM = 3.0  # between readings side by side
TURNED = "*"  # before a reading that was taken with the staff upside down
Side = Literal["below", "above", ""]  # where all levels lie; "" for both sides, which every figure then says


def by_collimation(plan: Plan) -> Table:
    """Readings in the order they were taken, along each row; a set-up begins with its sights."""
    book = plan.survey.levels.lines
    side = _side(book)
    corrected = any(whole(line.correction_mm) for line in book)
    cells = [_cells(line, side, corrected) for line in book if line.kind == "between"]
    name = widest_mm((c[0] for c in cells), 10.0, True)
    datum = f"{side} {plan.project.datum.name}" if side else ""
    figure = widest_mm((text for c in cells for text in c[2:]), 15.0)
    columns = [Column("point", "text", name), Column("reading", "number", 15.0)]
    if corrected:
        columns.append(Column("booked", "number", figure, datum))
    columns.append(Column("level", "number", figure, datum))
    wide = sum(c.width_mm or 0.0 for c in columns)
    across = max(1, int((SHEET_MM + GAP_MM) // (wide + GAP_MM)))
    gap = Column("", "text", (SHEET_MM - across * wide) / (across - 1) if across > 1 else None)
    rows: list[Row] = []
    for setup, run in groupby(book, key=lambda line: line.setup):
        lines = list(run)
        rows.append(Row((_sights(plan, setup, lines),), "heavy" if rows else "", title=True))
        own = [_cells(line, side, corrected) for line in lines if line.kind == "between"]
        for i in range(0, len(own), across):
            chunk = own[i : i + across] + [("",) * len(columns)] * (across - len(own[i : i + across]))
            flat = tuple(text for k, c in enumerate(chunk) for text in (c if k == 0 else ("", *c)))
            rows.append(Row(flat, "light" if i and (i // across) % 5 == 0 else "", keep=i == 0))
    heads = tuple(c for k in range(across) for c in (columns if k == 0 else [gap, *columns]))
    return Desk(heads, tuple(rows), "Level book: level = height of collimation less reading, then the correction")


def reading(line: BookLine) -> str:
    """A reading as it was taken; one with the staff upside down bears a star."""
    return f"{TURNED}{number(-line.reading_mm)}" if line.upside_down else number(line.reading_mm)


def _side(book: Sequence[BookLine]) -> Side:
    levels = [whole(mm) for line in book if line.kind == "between" for mm in (line.raw_level_mm, line.level_mm)]
    if all(mm <= 0 for mm in levels):
        return "below"
    return "above" if all(mm >= 0 for mm in levels) else ""


def _cells(line: BookLine, side: Side, corrected: bool) -> tuple[str, ...]:
    booked = (_figure(line.raw_level_mm, side),) if corrected else ()
    return (line.point, reading(line), *booked, _figure(line.level_mm, side))


def _figure(mm: float, side: Side) -> str:
    return str(abs(whole(mm))) if side else level(mm, "").replace("same as ", "same").strip()


def _sights(plan: Plan, name: str, lines: Sequence[BookLine]) -> str:
    """Set-up, date, reader; then backsight with the collimation, foresights, and the correction of all its levels."""
    datum = plan.project.datum.name
    said = []
    for line in lines:
        if line.kind == "back":
            high = level(line.collimation_mm, datum)
            said.append(f"backsight on {line.point} {reading(line)}, height of collimation {high}")
        if line.kind == "fore":
            levels = dict.fromkeys((level(line.raw_level_mm, datum), level(line.level_mm, datum)))
            said.append(f"foresight to {line.point} {reading(line)}, {', corrected '.join(levels)}")
    corrections = {whole(line.correction_mm) for line in lines if line.kind == "between"}
    if len(corrections) == 1 and (c := corrections.pop()):
        said.append(f"correction of the readings below {abs(c)} {'up' if c > 0 else 'down'}")
    return f"{setup_words(plan, name)}: {'; '.join(said)}."


def setup_words(plan: Plan, name: str) -> str:
    """A set-up with its date, who read it and with what."""
    found = next((s for s in plan.project.levels.setups if s.name == name), None)
    date = f", {day(found.date)}" if found and found.date else ""
    by = f", read by {found.by}" if found and found.by else ""
    tool = f", {plan.project.levels.instrument}" if plan.project.levels.instrument else ""
    return f"Set-up {name}{date}{by}{tool}"
