"""Pupil's answer sheets: level book, heights and fill with blanks in working order, and room for the working.

Only what is asked and what is given is read here; no right answer is worked out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from packgen.booklet.classroom.blocks import (
    Ask,
    Block,
    Cell,
    Flow,
    Form,
    FormColumn,
    FormRow,
    Heading,
    Said,
    TableBlock,
    Working,
    body_mm,
)
from packgen.booklet.classroom.words import fill_rows, layers
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import level, plain
from packgen.exercise.model import Blank, Case, CaseFill, CaseLeg, CasePart, CaseSetUp
from packgen.exercise.questions_fill import OTHER

BOOK, HEIGHTS, FILL, LATER = "Level book", "Heights and legs", "Fill", "Another fill, weight and time"
TIME = "Weight and time"  # the last task where no other fill is compared
PURPOSES = {
    BOOK: "Book from the first line to the last. Say above or below with every level.",
    HEIGHTS: "From the finished floor down to the base, and what the staff must show today.",
    FILL: "From depth to litres to bags, pour by pour.",
    LATER: "The same floor with another fill: heights, order, weight and waiting again.",
    TIME: "What the floor weighs, fresh and for good, and how long it dries.",
}


UNITS = {"level": "mm above / below", "misclosure": "mm too high / low", "correction": "mm add / take off"}


class Blanks:
    """The blanks of one pupil by id, with their numbers as printed."""

    def __init__(self, blanks: Sequence[Blank], given: Mapping[str, float]) -> None:
        self._by_id = {b.id: b for b in blanks}
        self.all = tuple(blanks)
        self._given = given

    def __contains__(self, id: str) -> bool:
        return id in self._by_id

    def get(self, id: str) -> Blank | None:
        return self._by_id.get(id)

    def cell(self, id: str) -> Cell:
        """A box with the question's number; where it is not asked the level given, else nothing."""
        blank = self._by_id.get(id)
        if blank is None:
            value = self._given.get(id)
            return Cell() if value is None else Cell(level(value, "").strip())
        if blank.choices:
            return Cell(str(blank.number), "ticks", blank.choices)
        return Cell(str(blank.number), "blank")

    def ask(self, id: str, text: str = "") -> Ask:
        """One blank on a line of its own. KeyError where it is not asked."""
        blank = self._by_id[id]
        words = text or f"{blank.asks[:1].upper()}{blank.asks[1:]}"
        return Ask(str(blank.number), words, UNITS.get(blank.writing, blank.unit), ticks=blank.choices)


def sheets(
    case: Case, blanks: Sequence[Blank], marks: Mapping[str, int], given: Mapping[str, float], level_of: int
) -> tuple[Sheet, ...]:
    """All answer sheets. marks: whole marks by blank id; given: what is printed instead of asked, by blank id;
    level_of: at 1 the rules stand beside the blanks.
    """
    found = Blanks(blanks, given)
    made: list[Sheet] = []
    later = LATER if case.other is not None else TIME
    for title, blocks in (
        (BOOK, _book(case, found)),
        (HEIGHTS, _heights(case, found)),
        (FILL, _fill(case, found)),
        (later, _later(case, found)),
    ):
        mine = [b for b in found.all if task_of(b) == (LATER if title == later else title)]
        groups = list(blocks)
        if not mine or not groups:
            continue
        total = sum(marks[b.id] for b in mine)
        purpose = f"{PURPOSES[title]} {total} marks."
        flow = Flow(body_mm(purpose))
        rules = tuple(dict.fromkeys(b.rule for b in mine)) if level_of == 1 else ()
        if rules:
            flow.add(Said(tuple(f"{r[:1].upper()}{r[1:]}." for r in rules)))
        for group in groups:
            flow.add(*group)
        flow.add(Working(f"working of questions {mine[0].number} to {mine[-1].number}"))
        slug = title.casefold().replace(",", "").replace(" ", "-")
        pages = flow.finished()
        made += [
            Sheet(
                slug=slug if n == 1 else f"{slug}-{n}",
                title=title,
                purpose=purpose,
                template="class-blocks.html",
                view={"blocks": page},
                part=n,
                parts=len(pages),
            )
            for n, page in enumerate(pages, 1)
        ]
    return tuple(made)


def task_of(blank: Blank) -> str:
    """The answer sheet on which a blank stands."""
    if blank.id.endswith(f"/{OTHER}") or blank.kind in ("dry weight", "fresh weight", "drying", "date"):
        return LATER
    if blank.goal == "G1":
        return BOOK
    return FILL if blank.goal == "G5" else HEIGHTS


# ------------------------------------------------------------------------------------ level book

LEFT = (
    FormColumn("set-up", 15),
    FormColumn("point", 19),
    FormColumn("back", 16, "number"),
    FormColumn("between", 17, "number"),
    FormColumn("fore", 16, "number"),
)
RISE = FormColumn("rise or fall", 29, "write", "say which")
LINE_COLUMN = FormColumn("height of collimation", 31, "write", "above or below")
AS_READ = FormColumn("level as read", 32, "write", "above or below")
LEVEL = FormColumn("level", 32, "write", "above or below")
CORRECTED = FormColumn("level corrected", 32, "write", "above or below")


def _book(case: Case, blanks: Blanks) -> Iterator[tuple[Block, ...]]:
    if not case.setups:
        return
    rows: list[FormRow] = []
    corrected = any(s.misclosed for s in case.setups)
    rises = any(b.kind == "rise or fall" for b in blanks.all)
    for setup in case.setups:
        rows += _setup_rows(case, setup, blanks, corrected, rises)
    columns = (*LEFT, *((RISE,) if rises else ()), LINE_COLUMN, *((AS_READ, CORRECTED) if corrected else (LEVEL,)))
    most = sum(c.width_mm for c in columns)
    if most > SHEET_MM:
        columns = tuple(replace(c, width_mm=c.width_mm * SHEET_MM / most) for c in columns)
    closing = [b for b in blanks.all if b.kind in ("misclosure", "correction")]
    yield (Form("Level book", columns, tuple(rows)),)
    if closing:
        yield (
            Heading("Closing"),
            *(blanks.ask(b.id, _closing_words(b)) for b in closing),
        )


def _closing_words(blank: Blank) -> str:
    if blank.kind == "misclosure":
        last = blank.id.partition("/")[2]
        return f"Misclosure{f', closing with {last}' if last else ''}: the book ends"
    return f"Correction of readings from {blank.id.split('/')[-1]}"


def _setup_rows(case: Case, setup: CaseSetUp, blanks: Blanks, corrected: bool, rises: bool) -> Iterator[FormRow]:
    """Rows of a set-up. Where the book is corrected, levels as read are the pupil's own but for change points."""
    start = "0" if setup.start_mm == 0 else level(setup.start_mm, case.datum) if setup.start_mm is not None else ""
    line = blanks.cell(f"collimation/{setup.name}")
    own = (Cell("", "copy"),) if corrected else ()
    rest = (Cell(),) if corrected else ()

    def rise(point: str) -> tuple[Cell, ...]:
        return (blanks.cell(f"rise/{setup.name}/{point}") if point else Cell(),) if rises else ()

    first = (Cell(setup.name), Cell(setup.start), Cell(plain(setup.back_mm)), Cell(), Cell(), *rise(""))
    yield FormRow((*first, line, Cell(start), *rest), "heavy")
    for spot in (s for s in case.spots if s.setup == setup.name):
        read = (Cell(), Cell(spot.id), Cell(), Cell(plain(spot.reading_mm)), Cell(), *rise(spot.id), Cell())
        yield FormRow((*read, *own, blanks.cell(f"level/{spot.id}")))
    after = next((s for s in case.setups if s.start_from == setup.name and s.start == setup.leave), None)
    if setup.leave:
        fixed = blanks.cell(f"point/{after.name}") if after else Cell()
        left = (Cell(), Cell(setup.leave), Cell(), Cell(), Cell(plain(setup.leave_mm)), *rise(setup.leave))
        yield FormRow((*left, Cell(), fixed, *rest))
    if setup.close:
        closed = (Cell(), Cell(setup.close), Cell(), Cell(), Cell(plain(setup.close_mm)), *rise(setup.close))
        yield FormRow((*closed, Cell(), Cell(), *rest))


# ------------------------------------------------------------------------------------ heights


def _heights(case: Case, blanks: Blanks) -> Iterator[tuple[Block, ...]]:
    given = f"Finished level {level(case.finished_mm, case.datum)}. Layers above the rail: {layers(case.fill)}."
    if case.fall_per_m:
        given += f" Fall {case.fall_words}."
    if "rail top" in blanks:
        yield (Said((given,)), blanks.ask("rail top"))
    else:
        yield (Said((given,)),)
    rows = tuple(_leg_row(case, leg, blanks) for leg in case.legs)
    if rows and any(f"leg/{leg.node}" in blanks for leg in case.legs):
        yield (Form("Legs", _leg_columns(case, blanks), rows),)
    if "hold" in blanks:
        yield (
            blanks.ask("hold", "Which of these legs cannot be set?"),
            Ask("", "What lifts this hold?", box_mm=90.0),
        )
    targets = [b for b in blanks.all if b.kind == "target reading"]
    if targets:
        yield (
            Said((f"Backsight today on {case.datum}: {plain(case.backsight_mm)}.",)),
            *(blanks.ask(b.id) for b in targets),
        )
    if "rail length" in blanks:
        yield (blanks.ask("rail length"),)


def _leg_columns(case: Case, blanks: Blanks) -> tuple[FormColumn, ...]:
    falling = bool(case.fall_per_m)
    columns = [FormColumn("leg", 16)]
    if falling:
        columns += [FormColumn("down the fall", 16, "number", "m"), FormColumn("rail top there", 31, "write")]
    else:
        columns.append(FormColumn("base", 32, "write", "from your level book" if case.setups else "given"))
    columns += [FormColumn("leg", 32, "write", "mm")]
    used = sum(c.width_mm for c in columns)
    return (*columns, FormColumn("parts: tick one", 178 - used))


def _leg_row(case: Case, leg: CaseLeg, blanks: Blanks) -> FormRow:
    base = Cell("", "copy") if f"level/{leg.spot}" in blanks else Cell(level(leg.base_mm, "").strip())
    cells = [Cell(leg.node)]
    if not case.fall_per_m:
        cells.append(base)
    else:
        cells += [Cell(plain(leg.down_m)), blanks.cell(f"rail top/{leg.node}")]
    return FormRow((*cells, blanks.cell(f"leg/{leg.node}"), blanks.cell(f"parts/{leg.node}")), "light")


# ------------------------------------------------------------------------------------ fill


def _fill(case: Case, blanks: Blanks) -> Iterator[tuple[Block, ...]]:
    keys = [(str(n), part) for n, part in enumerate(case.parts, 1)]
    if not any(f"volume/{k}" in blanks or f"mean depth/{k}" in blanks for k, _ in keys):
        return
    yield (_fill_table(case.fill, case, False),)
    yield (_parts_form(case, keys, blanks),)


def _fill_table(fill: CaseFill, case: Case, weight: bool) -> TableBlock:
    rows = fill_rows(fill, case, weight)
    cells = [(*rows[i], *(rows[i + 1] if i + 1 < len(rows) else ("", ""))) for i in range(0, len(rows), 2)]
    columns = (Column("", width_mm=38), Column("", width_mm=51), Column("", width_mm=38), Column("", width_mm=51))
    return TableBlock(Table(columns, tuple(Row(c, "light" if i else "") for i, c in enumerate(cells)), fill.name))


def _parts_form(case: Case, keys: Sequence[tuple[str, CasePart]], blanks: Blanks) -> Form:
    kinds = [
        ("mean depth", "mean depth", "mm"),
        ("volume", "fill in place", "L"),
        ("litres to order", "to order", "L"),
        ("bags", "bags", ""),
        ("water", "water at most", "L"),
    ]
    used = [k for k in kinds if any(f"{k[0]}/{key}" in blanks for key, _ in keys)]
    columns = [FormColumn("pour", 23), FormColumn("area", 15, "number", "m²")]
    columns.append(FormColumn("mean of the base over the area", 22, "number", f"below {case.datum}"))
    spots = any(part.base_spots_mm is not None for _, part in keys)
    if spots:
        columns.append(FormColumn("plain mean of its readings", 22, "number", f"below {case.datum}"))
    if case.fall_per_m:
        columns.append(FormColumn("middle lies down the fall", 18, "number", "m"))
    left = 178 - sum(c.width_mm for c in columns)
    columns += [FormColumn(head, left / len(used), "write", unit) for _, head, unit in used]
    rows = []
    for key, part in keys:
        cells = [Cell(part.name), Cell(plain(part.area_m2)), Cell(_below(part.base_mean_mm))]
        if spots:
            cells.append(Cell(_below(part.base_spots_mm)))
        if case.fall_per_m:
            cells.append(Cell(plain(part.down_m)))
        rows.append(FormRow((*cells, *(blanks.cell(f"{k[0]}/{key}") for k in used)), "light"))
    return Form("Fill by pours", tuple(columns), tuple(rows))


def _below(mm: float | None) -> str:
    """A depth below the datum to 0.1; what lies above says so."""
    if mm is None:
        return ""
    return f"{-mm:.1f}" if mm <= 0 else f"{mm:.1f} above"


# ------------------------------------------------------------------------------------ level 3


def _later(case: Case, blanks: Blanks) -> Iterator[tuple[Block, ...]]:
    mine = [b for b in blanks.all if task_of(b) == LATER]
    if not mine:
        return
    fill = case.other if case.other is not None else case.fill
    yield (_fill_table(fill, case, True),)
    if case.other is not None and case.whole is not None and f"rail top/{OTHER}" in blanks:
        yield (Said((f"Layers with {fill.name}: {layers(fill)}.",)), blanks.ask(f"rail top/{OTHER}"))
        if f"volume/{OTHER}" in blanks:
            yield (_parts_form(case, [(OTHER, case.whole)], blanks),)
    rest = [b for b in mine if b.kind in ("dry weight", "fresh weight", "drying", "date")]
    for blank in rest:
        yield (blanks.ask(blank.id),)
