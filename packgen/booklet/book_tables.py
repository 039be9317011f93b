"""The level book on paper, by height of collimation or by rise and fall, with all its arithmetic checks."""

from __future__ import annotations

from packgen.booklet.dense import Desk
from packgen.booklet.flow import Flow
from packgen.booklet.level_book import TURNED, by_collimation, reading, setup_words
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.textsize import lines_of
from packgen.booklet.worked_groups import on_paper
from packgen.core.figures import level, number, plain, whole
from packgen.core.worked import Worked
from packgen.plan import Plan
from packgen.survey.level_book import rise_mm
from packgen.survey.model import BookLine
from packgen.trade.survey import again_differs_mm


def book_pages(plan: Plan) -> list[dict[str, object]]:
    """Pages of the sheet: the book, its checks, what was read again, undersides. None where levels were given."""
    if not plan.survey.levels.lines:
        return []
    room, note = body_below_band(plan, "base"), _note(plan)
    flow = Flow(room - (lines_of(note, 10, 178) * 4.5 + 3.0 if note else 0.0), room)
    by_rises = plan.project.levels.booked_by == "rise and fall"
    flow.add(_by_rises(plan) if by_rises else by_collimation(plan))
    for table in (_checks(plan), _again(plan), _undersides(plan)):
        if table is not None:
            flow.add(table)
    return [{"tables": tables, "note": note if n == 0 else ""} for n, tables in enumerate(flow.pages)]


def _rows(plan: Plan, cells_of: object) -> tuple[Row, ...]:
    """A title a set-up, and a row a reading."""
    assert callable(cells_of)
    rows: list[Row] = []
    before: BookLine | None = None
    for line in plan.survey.levels.lines:
        if before is None or line.setup != before.setup:
            rows.append(Row((setup_words(plan, line.setup),), "heavy" if rows else "", title=True))
        keep = line.kind == "between" and rows[-1].title
        rows.append(Row(cells_of(line, before), keep=keep))
        before = line
    return tuple(rows)


def _reading_cells(line: BookLine) -> list[str]:
    cells = ["", "", ""]
    cells[("back", "between", "fore").index(line.kind)] = reading(line)
    return cells


def _by_rises(plan: Plan) -> Table:
    name, wide = plan.project.datum.name, _wide(plan)

    def cells(line: BookLine, before: BookLine | None) -> tuple[str, ...]:
        rise = rise_mm(before, line)
        up = number(rise) if rise is not None and rise > 0 else ""
        down = number(-rise) if rise is not None and rise <= 0 else ""
        return (line.point, *_reading_cells(line), up, down, *_levels(line))

    columns = (
        Column("point", "text", 28 if wide else 18),
        *(Column(h, "number", w) for h, w in (("backsight", 19), ("between", 16), ("foresight", 19))),
        Column("rise", "number", 13),
        Column("fall", "number", 13),
        Column("level as booked", "text", 27, f"against {name}"),
        Column("correction", "text", 20),
        Column("level", "text", None, f"against {name}"),
    )
    return Desk(columns, _rows(plan, cells), "Level book by rise and fall")


def _wide(plan: Plan) -> bool:
    """Whether there are names of marks and undersides, which are longer than those of spots."""
    return max(len(line.point) for line in plan.survey.levels.lines) > 6


def _note(plan: Plan) -> str:
    """What has to be known of the readings before they are looked at."""
    said = []
    if any(line.upside_down for line in plan.survey.levels.lines):
        said.append(f"A {TURNED} stands before a reading taken with the staff upside down, from the point to the line.")
    error = plan.survey.levels.line_error
    if error is not None:
        way = "rises" if error >= 0 else "falls"
        said.append(
            f"By the two-peg test the laser line {way} {plain(abs(error))} mm in a metre: the readings stand here as a "
            "level line would have given them, to whole mm."
        )
    return " ".join(said)


def _levels(line: BookLine) -> tuple[str, str, str]:
    c = whole(line.correction_mm)
    moved = "" if c == 0 else f"{abs(c)} {'up' if c > 0 else 'down'}"
    return (_plain_level(line.raw_level_mm), moved, _plain_level(line.level_mm))


def _plain_level(mm: float) -> str:
    return level(mm, "").replace("same as ", "same").strip()


def _checks(plan: Plan) -> Table:
    """Each arithmetic check, the misclosure against what is allowed, the corrections."""
    book = plan.survey.levels
    keys = ("level-book/", "misclosure", "correction/")
    found = [w for key in keys for w in book.worked if w.key.startswith(key)]
    rows = [Row((w.name, f"{_for_reading(w)} = {number(w.value, w.digits)} {w.unit}")) for w in found]
    if not book.in_a_chain:
        rows.append(
            Row(("backsights and foresights", "do not add up here: a set-up does not start where the last one left"))
        )
    if book.misclosure_mm is None:
        rows.append(Row(("misclosure", "not known: the book was never closed")))
    else:
        by = "" if book.allowed_by.known == "file" else f": {book.allowed_by}"
        rows.append(Row(("allowed", f"{plain(book.allowed_mm)} mm{by}")))
    columns = (Column("check", "text", 64), Column("sum", "text", None))
    return Desk(columns, tuple(rows), "Arithmetic checks and misclosure")


def _for_reading(line: Worked) -> str:
    return f"{on_paper(line.formula)}: {on_paper(line.numbers)}"


def _again(plan: Plan) -> Table | None:
    """Points read twice from one set-up: whether the laser stood still."""
    within = again_differs_mm()
    rows = tuple(
        Row(
            (
                f"{a.point} from {a.setup}",
                number(a.expected_mm),
                number(a.reading_mm),
                number(abs(a.differs_mm)),
                "yes" if abs(a.differs_mm) <= within else "no: read again",
            ),
            strong=abs(a.differs_mm) > within,
        )
        for a in plan.survey.levels.again
    )
    columns = (
        Column("read again", "text", 60),
        Column("ought to read", "number", 28),
        Column("reads", "number", 24),
        Column("differs", "number", 22),
        Column(f"within {plain(within)}", "text", None),
    )
    return Desk(columns, rows, "Did the laser stand still?") if rows else None


def _undersides(plan: Plan) -> Table | None:
    name = plan.project.datum.name
    rows = tuple(
        Row((u.name, u.setup, f"{TURNED}{number(u.reading_mm)}", level(u.level_mm, name)))
        for u in plan.survey.levels.undersides
    )
    columns = (
        Column("underside of", "text", 76),
        Column("set-up", "text", 24),
        Column("reading", "number", 28),
        Column("level", "text", None),
    )
    return Desk(columns, rows, "Undersides, read with the staff upside down") if rows else None
