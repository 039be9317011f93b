"""Pour plan: one day, one sheet."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.days import days_of, needs, ticked
from packgen.booklet.drawing.labels import width
from packgen.booklet.drawing.pour_plan import day_key, pour_legend, pour_plans, scale_of
from packgen.booklet.pour_words import TurnRow, fill_of, head_line, line_of, pack_word, stop_said, turn_rows
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import POINT_MM, lines_of
from packgen.plan import Plan
from packgen.sequence.model import Pour

ROWS, LEAST_ROWS = 12, 3  # rows of the table, at most, and as few as it may give up for a larger plan
KEY_MM = 30.0
NEEDS_PT, NEEDS_LINE_MM, TICK_MM = 10.0, 5.0, 6.0  # what the day needs from before
PURPOSE = "What is filled today, in which order, and where work stops tonight."
ON_CARD = "What is filled today and in which order. First tick what the day's pocket card asks for."
HEAD_PT, TEXT_PT, SMALL_PT = 11.0, 11.0, 9.0
HEAD_LINE_MM, TEXT_LINE_MM, SMALL_LINE_MM = 5.3, 5.3, 4.0
FRAME_MM, DRAWING_MM, SIGN_MM = 7.0, 5.0, 9.0  # frame of the head, gaps round the drawing, the line to sign


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """A sheet a day."""
    days = plan.sequence.pours
    views = [_view(plan, p) for p in days]
    return tuple(
        Sheet(
            slug="pours" if p.number == 1 else f"pours-{p.number}",
            title=f"Pour, day {p.number} of {len(days)}",
            purpose=PURPOSE if view["needs"] else ON_CARD,
            template="pours.html",
            view=view,
            behind="fill",
        )
        for p, view in zip(days, views, strict=True)
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
    free = body_below_band(plan, "fill") - fixed
    wanted = ticked(needs(plan, next(d for d in days_of(plan) if d.pour is pour)))
    table, room = _shared_out(plan, pour, free - _needs_mm(wanted))
    least = _shared_out(plan, pour, free)
    if scale_of(plan, pour, SHEET_MM, least[1]) < scale_of(plan, pour, SHEET_MM, room):
        wanted, (table, room) = (), least  # the plan is not made smaller for a list that the card has too
    drawings, whole = pour_plans(plan, pour, SHEET_MM, room)
    return {
        "head": head,
        "needs": wanted,
        "table": table,
        "drawings": drawings,
        "key": Markup("") if whole else day_key(plan, pour, KEY_MM, said),
        "legend": legend,
        "stops": stops,
    }


def _needs_mm(wanted: Sequence[tuple[str, str]]) -> float:
    """Height of the ticks with what the day needs from before."""
    words = " ".join(("Needs from before:", *(f"{first} {rest}" for first, rest in wanted)))
    return lines_of(words, NEEDS_PT, SHEET_MM - TICK_MM * len(wanted) / 2) * NEEDS_LINE_MM + 2.0


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
