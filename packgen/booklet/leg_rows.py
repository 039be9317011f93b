"""Rows of the leg-height table: masters with boxes to write in, the others in columns of blocks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup, escape

from packgen.booklet.drawing.section_parts import parts_words
from packgen.booklet.leg_lines import by_line
from packgen.booklet.rows import LINE_MM, SHEET_MM, Column, Row, Table, parted, widest_mm
from packgen.core.figures import level, plain
from packgen.heights.model import LegSetting
from packgen.plan import Plan

BLOCK = 10
REST = "The others: set by straightedge on two set legs"
COLUMN_GAP_MM = 4.0
CAPTION_MM = 9.0  # the heading above the columns
LEAST_COLUMN_MM = 100.0  # room below other tables in which columns are begun
LEG_ROW_MM = 7.5  # css/sheet.css, .leg-columns
FIGURE_MM = 3.6  # of a figure in 14 bold, in which legs are printed


@dataclass(frozen=True, slots=True)
class LegColumn(Table):
    """A narrow column of legs: large figures in rows of 7.5."""

    def row_mm(self, row: Row) -> float:
        """Height of one row."""
        if row.title:
            return Table.row_mm(self, row)
        return LEG_ROW_MM + (LINE_MM if any("<br>" in cell for cell in row.cells) else 0.0)


@dataclass(frozen=True)
class Tops:
    """Rail tops of the plan: one for all, a few by letter, or one a leg."""

    values: tuple[int, ...]
    backsight: float | None
    datum: str

    one_side: bool  # whether all levels lie below the datum, so that a column's head says so once

    @staticmethod
    def of(plan: Plan) -> Tops:
        today = plan.project.today
        values = tuple(sorted({leg.rail_top_mm for leg in plan.heights.legs}, reverse=True))
        below = all(leg.rail_top_mm < 0 and leg.base_mm < 0 for leg in plan.heights.legs)
        return Tops(values, None if today is None else float(today.backsight), plan.project.datum.name, below)

    @property
    def one(self) -> bool:
        return len(self.values) <= 1

    @property
    def lettered(self) -> bool:
        return 2 <= len(self.values) <= 3

    @property
    def told(self) -> bool:
        """Whether a leg set by straightedge shows its target: where the targets differ and can be printed."""
        return not self.one and (self.backsight is not None or self.lettered)

    def letter(self, top: int) -> str:
        return "PQR"[self.values.index(top)]

    def target(self, top: int) -> str:
        return "" if self.backsight is None else str(int(self.backsight) - top)

    def target_cell(self, top: int) -> str:
        """What a row says: today's figure, else the letter of its target in the head box, else a box to write in."""
        return self.target(top) or (self.letter(top) if self.lettered else "")


def _base(leg: LegSetting) -> str:
    words = level(leg.base_mm, "").replace("same as ", "same").strip()
    return f"{words} {'r' if leg.known == 'read' else 'i' if leg.known == 'between' else 'x'}"


def leg_mm(leg: LegSetting) -> str:
    """The leg's length; a dash where the base leaves no room for one."""
    return str(leg.leg_mm) if leg.leg_mm > 0 else "–"


def _parts(plan: Plan, leg: LegSetting) -> str:
    words = made_of(leg)
    if leg.leg_mm < 0:
        return f"STOP, base {-leg.leg_mm} above the rail top"
    return f"STOP, {leg.short_by_mm} out" if words == "STOP" and leg.short_by_mm else words


def made_of(leg: LegSetting) -> str:
    """Parts, and the turns that bring the leg near its length before it is read."""
    words = parts_words(leg)
    if leg.turns is None:
        return words
    return f"{words}, {'up' if leg.turns > 0 else 'down'} {plain(abs(leg.turns))}" if leg.turns else f"{words}, as is"


def _standing_out(leg: LegSetting) -> bool:
    return not leg.fits or leg.parts != "plain"


def _bold(text: str, bold: bool) -> str:
    return Markup("<strong>{}</strong>").format(escape(text)) if bold else text


def _order_mm(plan: Plan, least: float) -> float:
    return widest_mm((str(len(plan.heights.legs)),), least)


def _name_mm(plan: Plan, least: float, tail: str = "") -> float:
    return widest_mm((f"{leg.node}{tail}" for leg in plan.heights.legs), least, True)


def master_table(plan: Plan, legs: Sequence[LegSetting], tops: Tops) -> Table:
    """One leg a row with boxes for what is read."""
    order, name = _order_mm(plan, 11.0), _name_mm(plan, 18.0, " M")
    columns = [Column("no.", "number", order), Column("node", "text", name), Column("base", "text", 29)]
    if not tops.one:
        columns.append(Column("rail top", "text", 27))
    columns += [Column("leg", "set", 17, "mm"), Column("parts", "text", None)]
    if not tops.one:
        columns.append(Column("target", "set" if tops.backsight is not None or tops.lettered else "write", 21))
    columns += [Column("set", "tick", 11), Column("read back", "write", 24 if not tops.one else 32)]
    if tops.one:
        columns.append(Column("high / low", "write", 28))
    rows = []
    before: str | None = None
    for i, leg in enumerate(legs):
        cells = [str(leg.order), _bold(f"{leg.node} M", True), _base(leg)]
        if not tops.one:
            cells.append(_top(leg))
        cells += [leg_mm(leg), _bold(_parts(plan, leg), _standing_out(leg))]
        if not tops.one:
            cells.append(tops.target_cell(leg.rail_top_mm))
        cells += ["", ""] + ([""] if tops.one else [])
        rule = "heavy" if before is not None and leg.along != before else "light" if i and i % BLOCK == 0 else ""
        rows.append(Row(tuple(cells), rule, strong=not leg.fits))  # type: ignore[arg-type]
        before = leg.along
    return Table(tuple(columns), tuple(rows), "Masters: set by laser and staff")


def _top(leg: LegSetting) -> str:
    return level(leg.rail_top_mm, "").replace("same as ", "same").strip()


def rest_table(plan: Plan, legs: Sequence[LegSetting], tops: Tops) -> Table:
    """A leg a row with its own rail top and target, levels in words; blocks of one line stay together."""
    order, name = _order_mm(plan, 11.0), _name_mm(plan, 18.0)
    columns = (
        Column("no.", "number", order),
        Column("node", "text", name),
        Column("base", "text", 31),
        Column("rail top", "text", 31),
        Column("leg", "number", 17, "mm"),
        Column("parts", "text", None),
        Column("target", "number", 25),
        Column("set", "tick", 13),
    )
    rows: list[Row] = []
    for title, group in by_line(plan, legs):
        rows.append(Row((title,), "heavy", title=True))
        rows += [
            Row(
                (
                    str(leg.order),
                    _bold(leg.node, True),
                    _base(leg),
                    _top(leg),
                    _bold(leg_mm(leg), _standing_out(leg)),
                    _bold(_parts(plan, leg), _standing_out(leg)),
                    tops.target_cell(leg.rail_top_mm),
                    "",
                ),
                strong=not leg.fits,
                keep=k > 0,
            )
            for k, leg in enumerate(group)
        ]
    return Table(columns, tuple(rows), REST)


def rest_column(plan: Plan, legs: Sequence[LegSetting], tops: Tops) -> Table:
    """All of them in one narrow column, to be cut into columns side by side: leg length large, parts beside it."""
    below = f"below {tops.datum}" if tops.one_side else ""
    order, name = _order_mm(plan, 8.0), _name_mm(plan, 11.0)
    base = widest_mm((_side_base(leg, tops) for leg in legs), 11.5 if below else 0.0)
    lengths = [_leg_words(plan, leg) for leg in legs]
    leg_mm = max([14.0, *(max(len(mm) * FIGURE_MM, widest_mm((made,), 0.0, True) - 3.5) + 3.5 for mm, made in lengths)])
    columns = [Column("no.", "number", order), Column("node", "text", name), Column("base", "text", base, below)]
    if not tops.one:
        columns.append(Column("rail", "number", 13.0, below))
    columns.append(Column("leg", "set", leg_mm, "mm"))
    if tops.told:
        columns.append(Column("target", "set", 17.0))
    columns.append(Column("set", "tick", 9.0))
    wide = sum(c.width_mm or 0.0 for c in columns)
    across = max(1, int((SHEET_MM + COLUMN_GAP_MM) // (wide + COLUMN_GAP_MM)))
    full = (SHEET_MM - (across - 1) * COLUMN_GAP_MM) / across
    spare = (full - wide) / len(columns)
    columns = [replace(c, width_mm=(c.width_mm or 0.0) + spare) for c in columns]
    rows: list[Row] = []
    for title, group in by_line(plan, legs):
        rows.append(Row((title,), "heavy", title=True))
        rows += [Row(_narrow(plan, leg, tops), keep=k > 0, strong=not leg.fits) for k, leg in enumerate(group)]
    return LegColumn(tuple(columns), tuple(rows), "", full)


def _narrow(plan: Plan, leg: LegSetting, tops: Tops) -> tuple[str, ...]:
    mm, parts = _leg_words(plan, leg)
    said = Markup('{}<br><span class="parts">{}</span>').format(mm, parts) if parts else mm
    cells = [str(leg.order), _bold(leg.node, True), _side_base(leg, tops)]
    if not tops.one:
        cells.append(str(-leg.rail_top_mm))
    cells.append(said)
    if tops.told:
        cells.append(tops.target_cell(leg.rail_top_mm))
    return (*cells, "")


def _side_base(leg: LegSetting, tops: Tops) -> str:
    return _base(leg).replace(" below", "") if tops.one_side else _base(leg)


def _leg_words(plan: Plan, leg: LegSetting) -> tuple[str, str]:
    """The leg's length and what makes it; nothing for a plain one, which the key says once."""
    if leg.leg_mm <= 0:
        return ("–", "STOP: base above rail")
    said = _standing_out(leg) or leg.turns is not None or plan.project.kit.several
    return (str(leg.leg_mm), made_of(leg) if said else "")


def side_by_side(column: Table, first_mm: float, next_mm: float) -> list[tuple[Table, ...]]:
    """The column cut into columns, a tuple a page: the first page has `first_mm`, which may be too little for any.

    The columns of the last page are about equally long.
    """
    if not column.rows:
        return []
    across = int((SHEET_MM + COLUMN_GAP_MM) // (column.width_mm + COLUMN_GAP_MM - 0.01))
    pages: list[tuple[Table, ...]] = []
    rest: Table | None = column
    room = first_mm - CAPTION_MM
    if room < LEAST_COLUMN_MM:
        pages.append(())
        room = next_mm - CAPTION_MM
    while rest is not None:
        parts = parted(rest, room)
        if len(parts) <= across:
            low = room
            while low > LEAST_COLUMN_MM / 2 and len(parted(rest, low - 4.0)) <= across:
                low -= 4.0
            parts = parted(rest, low)
        pages.append(parts[:across])
        rows = tuple(row for part in parts[across:] for row in part.rows)
        rest = replace(rest, rows=rows) if rows else None
        room = next_mm - CAPTION_MM
    return pages
