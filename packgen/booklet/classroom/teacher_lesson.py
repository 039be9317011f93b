"""Teacher's book: the lesson by minutes, what each group needs, safety, taking down, the list of marks, mistakes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from packgen.booklet.classroom.answer_sheets import BOOK, FILL, HEIGHTS, LATER, task_of
from packgen.booklet.classroom.blocks import Flow, Heading, Said, TableBlock, body_mm
from packgen.booklet.classroom.grids import Grid
from packgen.booklet.classroom.grids import parted as grid_parted
from packgen.booklet.classroom.words import rules_of
from packgen.booklet.rows import Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import listed, plain, whole
from packgen.exercise.marks import Marks
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import Blank, ClassSet
from packgen.exercise.settings import Settings, bounds_assumed, bounds_stated
from packgen.exercise.tell_apart import LeftOut, slip_ways
from packgen.plan import Plan

TASKS = (BOOK, HEIGHTS, FILL, LATER)
DEFAULT_MIN = 90.0
START_SHARE, END_SHARE = 0.1, 0.15  # of the time: handing out and reading; exchange of papers
EACH_ROUND = 5
BOUNDS = "How far the versions were varied. Only what the file names under 'vary' is varied."


def lesson_sheets(made: ClassSet, settings: Settings, plan: Plan) -> tuple[Sheet, ...]:
    """Lesson plan and material."""
    flow = Flow()
    flow.add(TableBlock(_minutes(made, settings)))
    book_alone = all(task_of(b) == BOOK for b in made.versions[0].blanks)
    flow.add(TableBlock(_stations(plan, book_alone)))
    flow.add(TableBlock(_material(made, settings, plan, book_alone)))
    pages = flow.finished()
    return tuple(
        Sheet(
            slug="lesson" if n == 1 else f"lesson-{n}",
            title="Lesson and material",
            purpose="Minutes are a proposal: they follow the marks of each task.",
            template="class-blocks.html",
            view={"blocks": page},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def down_sheet(plan: Plan) -> Sheet:
    """Safety and taking down."""
    return Sheet(
        slug="down",
        title="Safety, taking down",
        purpose="Before the lesson and after it.",
        template="class-blocks.html",
        view={"blocks": (Heading("Safety for a class"), Said(_safety(plan)), TableBlock(_take_down(plan)))},
    )


def bounds_sheets(made: ClassSet) -> tuple[Sheet, ...]:
    """How far versions may differ: bounds of the file first, then those left to the trade's habits."""
    said = [(r.says, f"{plain(r.value)} {r.unit}", "stated in the file") for r in bounds_stated(made.base)]
    rest = [
        (a.what, f"{a.value} {a.unit}", f"practice; {a.overrule}" if a.overrule else "practice; fixed")
        for a in bounds_assumed(made.base)
    ]
    grid = Grid("Bounds", ("bound of varying", "taken", "from; overruled by"), (86.0, 28.0, 64.0), (*said, *rest))
    parts = grid_parted(grid, body_mm(BOUNDS))
    return tuple(
        Sheet(
            slug="bounds" if n == 1 else f"bounds-{n}",
            title="Bounds",
            purpose=BOUNDS,
            template="class-grid.html",
            view={"lead": "", "grids": (part,), "after": ()},
            part=n,
            parts=len(parts),
        )
        for n, part in enumerate(parts, 1)
    )


def _minutes(made: ClassSet, settings: Settings) -> Table:
    """On paper: tasks by their steps; then the bay."""
    time = settings.time_min or DEFAULT_MIN
    blanks = made.versions[0].blanks
    steps = {t: sum(b.steps for b in blanks if task_of(b) == t) for t in TASKS}
    start, end = _round(time * START_SHARE), _round(time * END_SHARE)
    work = time - start - end
    rows: list[Row] = []
    at = 0.0
    parts = [("hand out, read the task together", start, "sheets 1 and 2")]
    total = sum(steps.values())
    parts += [(f"task: {t.casefold()}", work * n / total, t) for t, n in steps.items() if n]
    parts.append(("exchange papers, tick, give back", end, "Check another paper"))
    for what, minutes, sheet in parts:
        rows.append(Row((f"{whole(at)} to {whole(at + minutes)}", what, sheet), "light" if rows else ""))
        at += minutes
    columns = (Column("minutes", width_mm=32), Column("what"), Column("sheet", width_mm=62))
    return Table(columns, tuple(rows), "On paper")


def _round(minutes: float) -> float:
    return max(EACH_ROUND, EACH_ROUND * whole(minutes / EACH_ROUND))


def _stations(plan: Plan, book_alone: bool) -> Table:
    edge = plain(plan.heights.straightedge_mm / 1000, 1)
    rows = (
        ("1 read", "backsight on the datum, two spots of the base, backsight again", "differs by 1 at most"),
        ("2 set", "three to six legs of the own sheet to their targets", "staff shows the target"),
        ("3 read for others", "the legs of another group, without their targets", "written before comparing"),
        ("4 rule", f"straightedge of {edge} m on two set legs, the legs between", "no gap, no rocking"),
        ("5 fill", "one bay: fill, rule off, lift and weigh one bag", "level with the rails"),
    )[: 1 if book_alone else None]
    columns = (Column("station", width_mm=34), Column("what"), Column("right when", width_mm=52))
    return Table(columns, tuple(Row(r, "light" if i else "") for i, r in enumerate(rows)), "In the bay, groups in turn")


def _material(made: ClassSet, settings: Settings, plan: Plan, book_alone: bool) -> Table:
    groups = math.ceil(len(made.versions) / settings.group_size)
    lasers = [p for p in plan.project.plant if "laser" in p.item.casefold()]
    staffs = [p for p in plan.project.plant if "staff" in p.item.casefold()]
    edge = plain(plan.heights.straightedge_mm / 1000, 1)
    rows = [
        ("sheets of each pupil, pencil, rubber, pocket calculator", str(settings.group_size)),
        ("laser on its tripod", _shared(sum(p.number for p in lasers), groups)),
        ("staff with a bubble", _shared(sum(p.number for p in staffs), groups)),
    ]
    if not book_alone:
        rows += [
            ("legs, one of them with an extension", "6 and 1" if len(plan.heights.legs) > 1 else "1"),
            (f"rails of one module ({plain(plan.project.kit.module)})", "4"),
            (f"straightedge of {edge} m", "1, in turn"),
            ("tape, knee pads, gloves", "1 each"),
            (f"{plan.project.fills.use}: one bag and a scale", "in turn"),
        ]
    columns = (Column(f"for each of {groups} groups of {settings.group_size}"), Column("number", width_mm=50))
    return Table(columns, tuple(Row(r, "light" if i else "") for i, r in enumerate(rows)), "Material for the bay")


def _shared(there: int, groups: int) -> str:
    if not there:
        return "1"
    return "1" if there >= groups else f"{there} for all, in turn"


def _safety(plan: Plan) -> tuple[str, ...]:
    fills = [f for _, f in plan.project.fills.described]
    lines = [
        "Laser of class 2 or lower, above or below eye height. Nobody looks into it, nobody points it at another.",
        "Rails lie open: boards over the grid on the way, no running, bags against the wall.",
        f"Bags of up to {plain(max(f.bag.mass for f in fills))} kg: two to a bag, lift from the knees.",
        "No sawing and no grinding in class: pieces come cut. Dust: doors shut, no dry sweeping, masks when bags are "
        "emptied.",
    ]
    if any(f.cement for f in fills):
        lines.append(
            "Cement burns skin and eyes. If it is mixed at all, the teacher does it: gloves, goggles, water at hand to "
            "rinse."
        )
    lines.append("The school's own rules and the local ones go before this list.")
    return tuple(lines)


def _take_down(plan: Plan) -> Table:
    q = plan.quantities
    rows = [
        (f"legs back in the box: {q.legs_plain + q.legs_extended + q.legs_packed + q.legs_not_fitting}", ""),
        (f"rails wiped and bundled: {len(plan.layout.pieces)} pieces", ""),
        ("fill back in its bags, swept up damp or with a vacuum", ""),
        ("strip and foil rolled, boards stacked flat", ""),
        ("laser off, locked, in its case; staffs counted", ""),
        ("datum mark still there", ""),
    ]
    columns = (Column(""), Column("done", "tick", 20))
    return Table(columns, tuple(Row(r, "light" if i else "") for i, r in enumerate(rows)), "Taking down a dry exercise")


# ------------------------------------------------------------------------------------ marks and mistakes


def marks_sheets(made: ClassSet, marks: Mapping[str, Marks]) -> tuple[Sheet, ...]:
    """The list in which a class is entered."""
    blanks = made.versions[0].blanks
    tasks = [t for t in TASKS if any(task_of(b) == t for b in blanks)]
    heads = [(t, sum(marks[b.id].whole for b in blanks if task_of(b) == t)) for t in tasks]
    columns = [Column("pupil", "number", 14), Column("name", "write", 60)]
    columns += [Column(t, "write", (178 - 14 - 60 - 24) / len(heads), f"of {n}") for t, n in heads]
    columns.append(Column("total", "write", 24, f"of {sum(n for _, n in heads)}"))
    rows = tuple(Row((str(v.case.pupil), *("" for _ in columns[1:]))) for v in made.versions)
    pages = parted(Table(tuple(columns), rows), 240.0)
    return tuple(
        Sheet(
            slug="marks" if n == 1 else f"marks-{n}",
            title="Marks",
            purpose="Grade lines are yours: none are built in.",
            template="class-blocks.html",
            view={"blocks": (TableBlock(page),)},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def mistake_sheets(made: ClassSet, left_out: LeftOut) -> tuple[Sheet, ...]:
    """Follow-on rules, then every mistake that can be met in this set with its sentence."""
    blanks = made.versions[0].blanks
    flow = Flow()
    flow.add(Heading("Follow-on"), Said(FOLLOW_ON))
    rules = tuple(
        Row((kind, _from(blanks, kind), f"{rule[:1].upper()}{rule[1:]}."), "light" if i else "")
        for i, (kind, rule) in enumerate(rules_of(blanks))
        if _from(blanks, kind)
    )
    columns = (Column("blank", width_mm=36), Column("starts from the pupil's own", width_mm=48), Column("rule"))
    _tables(flow, Table(columns, rules))
    rows = tuple(
        (
            code,
            MISTAKES[code].name,
            listed(kinds, "and", 3),
            MISTAKES[code].says,
            f"{whole(MISTAKES[code].method * 100)} %",
        )
        for code, kinds in _met(made, left_out).items()
    )
    pages = flow.finished()
    sheets = [_mistake_sheet(n, len(pages), "class-blocks.html", {"blocks": page}) for n, page in enumerate(pages, 1)]
    heads = ("", "mistake", "at", "kind sentence", "method")
    grid = Grid("Usual mistakes", heads, (10.0, 30.0, 30.0, 95.0, 13.0), rows, strong=(0,))
    told = grid_parted(grid, body_mm(MISTAKES_SAY))
    for n, part in enumerate(told, 1):
        slug = "mistakes" if n == 1 else f"mistakes-{n}"
        view = {"lead": "", "grids": (part,), "after": ()}
        sheets.append(Sheet(slug, "Usual mistakes", MISTAKES_SAY, "class-grid.html", view, part=n, parts=len(told)))
    return tuple(sheets)


MISTAKES_SAY = "The one sentence that helps, and the part of the method it still earns. It never says the number."


def _mistake_sheet(n: int, count: int, template: str, view: dict[str, object]) -> Sheet:
    slug = "follow-on" if n == 1 else f"follow-on-{n}"
    purpose = "How a paper is marked on from a wrong beginning, by hand; the command `packgen mark` does the same."
    return Sheet(slug, "Follow-on marking", purpose, template, view, part=n, parts=count)


FOLLOW_ON = (
    "A wrong first answer carried on correctly earns all later marks: work the blank out again from what the pupil "
    "wrote before. The commonest of these values stand ready at the foot of each pupil's sheet.",
    "A right value without working earns answer and unit. A usual mistake earns the part of the method that is said "
    "here.",
)


def _tables(flow: Flow, table: Table) -> None:
    """Adds a table, parted where it must be."""
    for part in parted(table, max(flow.left, table.head_mm + 30.0), flow.room_mm):
        flow.add(TableBlock(part))


def _from(blanks: Sequence[Blank], kind: str) -> str:
    """Kinds that a kind starts from."""
    kinds = {b.id: "change point" if b.id.startswith("point/") else b.kind for b in blanks}
    mine = [b for b in blanks if kinds[b.id] == kind]
    needs = dict.fromkeys(kinds[n] for b in mine for n in b.needs if n in kinds)
    return listed(list(needs), "and", 4)


def _met(made: ClassSet, left_out: LeftOut) -> dict[str, list[str]]:
    """Codes that can be met in this set, with the kinds of blanks where they are."""
    found: dict[str, list[str]] = {}
    for version in made.versions:
        for blank in version.blanks:
            for slip, _ in slip_ways(blank, version.known, left_out):
                kinds = found.setdefault(slip.code, [])
                if blank.kind not in kinds:
                    kinds.append(blank.kind)
    return {code: found[code] for code in MISTAKES if code in found}
