"""Pour plan: one day, one sheet."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.labels import width
from packgen.booklet.drawing.pour_plan import day_key, pour_legend, pour_plans, scale_of
from packgen.booklet.pour_words import TurnRow, fill_of, head_line, line_of, pack_word, stop_said, turn_rows
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import POINT_MM, lines_of
from packgen.plan import Plan
from packgen.sequence.model import Pour

ROWS, LEAST_ROWS = 12, 4  # rows of the table, at most, and as few as it may give up for a larger plan
KEY_MM = 30.0
HEAD_PT, TEXT_PT, SMALL_PT = 11.0, 11.0, 9.0
HEAD_LINE_MM, TEXT_LINE_MM, SMALL_LINE_MM = 5.3, 5.3, 4.0
FRAME_MM, DRAWING_MM, SIGN_MM = 7.0, 5.0, 9.0  # frame of the head, gaps round the drawing, the line to sign


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """A sheet a day."""
    days = plan.sequence.pours
    return tuple(
        Sheet(
            slug="pours" if p.number == 1 else f"pours-{p.number}",
            title=f"Pour, day {p.number} of {len(days)}",
            purpose="What is filled today, in which order, and where work stops tonight.",
            template="pours.html",
            view=_view(plan, p),
            behind="fill",
        )
        for p in days
    )


def _view(plan: Plan, pour: Pour) -> dict[str, object]:
    head, stops, legend = head_line(plan, pour), _stops(plan, pour), pour_legend(plan, pour)
    wide = SHEET_MM - KEY_MM - 8
    said = sum(lines_of(f"{name} {text}", TEXT_PT, wide) * TEXT_LINE_MM + 1.0 for name, text in stops)
    fixed = (
        lines_of(" · ".join(head), HEAD_PT, SHEET_MM - 6.7, True) * HEAD_LINE_MM
        + said
        + lines_of(legend, SMALL_PT, SHEET_MM) * SMALL_LINE_MM
        + FRAME_MM
        + DRAWING_MM
        + SIGN_MM
    )
    table, room = _shared_out(plan, pour, body_below_band(plan, "fill") - fixed)
    drawings, whole = pour_plans(plan, pour, SHEET_MM, room)
    return {
        "head": head,
        "table": table,
        "drawings": drawings,
        "key": Markup("") if whole else day_key(plan, pour, KEY_MM, said),
        "legend": legend,
        "stops": stops,
    }


def _shared_out(plan: Plan, pour: Pour, height_mm: float) -> tuple[Table, float]:
    """The table and the height left for the plan: as many rows as the plan's largest scale allows."""
    tried = []
    for rows in range(ROWS, LEAST_ROWS - 1, -1):
        table = _table(turn_rows(plan, pour, rows))
        room = height_mm - table.height_mm
        tried.append((scale_of(plan, pour, SHEET_MM, room), -rows, table, room))
    _, _, table, room = min(tried, key=lambda t: (t[0], t[1]))
    return table, room


def _stops(plan: Plan, pour: Pour) -> tuple[tuple[str, str], ...]:
    """Where work ends, by name: tonight's line, and the two earlier ones for trouble."""
    out = []
    if pour.stop_line is not None:
        close = "board upright on the rail" if pour.stop_line.edges else "which is full: no edge to close"
        out.append(("Stop tonight:", f"{line_of(pour.stop_line)}, {close}."))
    else:
        out.append(("Tonight:", f"the floor is full; leave by {pour.leave_by or 'the last bay'}."))
    for n, stop in enumerate(pour.earlier_stops, 1):
        out.append((f"If late, stop {n}:", stop_said(pour, stop, pack_word(fill_of(plan, pour)))))
    return tuple(out)


def _table(rows: tuple[TurnRow, ...]) -> Table:
    wide = max([*(width(r.order, 10 * POINT_MM, True) for r in rows), 10.0]) + 4.0
    return Table(
        (
            Column("order", "number", wide),
            Column("bay" if all(r.count == 1 for r in rows) else "bays, from and to"),
            Column("area", "number", 18, "m²"),
            Column("mean depth", "number", 23, "mm"),
            Column("filled so far", "number", 24, "litres"),
            Column("done by", "number", 20),
            Column("done", "tick", 14),
        ),
        tuple(
            Row((r.order, r.bays, r.area, r.depth, r.so_far, r.done_by, ""), "light" if i % 5 == 0 and i else "")
            for i, r in enumerate(rows)
        ),
    )
