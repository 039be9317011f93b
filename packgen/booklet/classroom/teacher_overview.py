"""Teacher's book, first sheets: what the set is, goals, how alike the versions are, seeds."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packgen.booklet.classroom.answer_words import asked_words
from packgen.booklet.classroom.blocks import BODY_MM, Block, Flow, Heading, Said, TableBlock, body_mm
from packgen.booklet.classroom.grids import Grid, parted
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import day, listed, plain
from packgen.exercise.blanks import GOAL_WORDS
from packgen.exercise.marks import marks_of
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import ClassSet, Difficulty, Goal, Version
from packgen.exercise.settings import Settings

SITE_CHECK: dict[Goal, str] = {
    "G1": "read two points again",
    "G2": "mark a support block at the wall",
    "G3": "set three legs, read by another group",
    "G4": "lay out the parts",
    "G5": "weigh one bag, fill one bay",
    "G6": "a short written answer",
    "G7": "compare with the setter",
}
VERSIONS = "Every version by its seed, so that it can be made again. Hand out the sheets by number."


def overview_sheets(made: ClassSet, settings: Settings) -> tuple[Sheet, ...]:
    """The overview, then the versions one by one."""
    flow = Flow(BODY_MM)
    flow.add(TableBlock(_facts(made, settings)))
    flow.add(TableBlock(_goals(made)))
    flow.add(TableBlock(_alike(made)))
    flow.add(Heading("Seeds"), Said(seeds_said(made)))
    pages: list[tuple[Block, ...]] = flow.finished()
    sheets = [
        Sheet(
            slug="overview" if n == 1 else f"overview-{n}",
            title="Overview",
            purpose="What this class set is, what it teaches, and how alike its versions are. Not for pupils.",
            template="class-blocks.html",
            view={"blocks": page},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    ]
    return (*sheets, *_versions(made))


def _facts(made: ClassSet, settings: Settings) -> Table:
    first = made.versions[0]
    marks = marks_of(first.blanks, settings).values()
    method, answer, tidy = (sum(getattr(m, k) for m in marks) for k in ("method", "answer", "tidy"))
    info = made.base.project
    rows = [
        (
            "project",
            " ".join(p for p in (info.name, info.reference, f"revision {info.revision}" if info.revision else "") if p),
        ),
        ("class, date of the file", f"{settings.cls}, {day(info.date)}"),
        ("pupils", f"{len(made.versions)}, each with a version of their own"),
        ("level of difficulty", f"{made.level} of 3: {LEVEL_WORDS[made.level]}"),
        (
            "blanks and marks",
            f"{len(first.blanks)} blanks, {method + answer + tidy} marks: {method} method, {answer} answer, "
            f"{tidy} unit and tidiness",
        ),
    ]
    if settings.time_min:
        lessons = f", {settings.lessons} lessons" if settings.lessons else ""
        rows.append(("time", f"{plain(settings.time_min)} min{lessons}"))
    return Table((Column("", width_mm=50), Column("")), tuple(Row(r, "light" if i else "") for i, r in enumerate(rows)))


LEVEL_WORDS = {
    1: "four spots, corrections given, formulae on the answer sheets",
    2: "six spots, the book closed by the pupil, formulae on one sheet",
    3: "eight spots, another fill, weight and time, no formulae",
}


def _goals(made: ClassSet) -> Table:
    blanks = made.versions[0].blanks
    rows: list[Row] = []
    for goal, words in GOAL_WORDS.items():
        mine = [b for b in blanks if b.goal == goal]
        where = _ranges([b.number for b in mine]) if mine else "in the real bay" if goal == "G7" else "not asked"
        rows.append(Row((goal, words, where, SITE_CHECK[goal]), "light" if rows else ""))
    columns = (
        Column("goal", width_mm=13),
        Column("a pupil can"),
        Column("questions", width_mm=32),
        Column("site check", width_mm=48),
    )
    return Table(columns, tuple(rows), "Goals")


def _ranges(numbers: Sequence[int]) -> str:
    """1 to 11, 26: runs of numbers."""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(str(r[0]) if len(r) == 1 else f"{r[0]} to {r[-1]}" for r in runs)


ALIKE: tuple[tuple[str, Callable[[Difficulty], float]], ...] = (
    ("set-ups of the laser", lambda d: d.setups),
    ("zones", lambda d: d.zones),
    ("legs in all", lambda d: d.nodes),
    ("pours asked", lambda d: d.parts),
    ("legs with extension", lambda d: d.extended),
    ("legs on packing", lambda d: d.packed),
    ("legs that do not fit", lambda d: d.misfits),
    ("blanks", lambda d: d.blanks),
    ("shortest leg, mm", lambda d: d.leg_least_mm),
    ("longest leg, mm", lambda d: d.leg_most_mm),
    ("spread of the legs, mm", lambda d: d.leg_spread_mm),
    ("digits to copy", lambda d: d.digits),
)


def spread_of(made: ClassSet) -> tuple[tuple[str, float, float], ...]:
    """What makes a version hard: name, least and most over all versions."""
    found = [v.difficulty for v in made.versions]
    return tuple((name, min(map(read, found)), max(map(read, found))) for name, read in ALIKE)


def _alike(made: ClassSet) -> Table:
    rows: list[tuple[str, str]] = []
    for name, low, high in spread_of(made):
        text = f"{plain(low)} in each" if low == high else f"{plain(low)} to {plain(high)}"
        rows.append((name, text))
    holds = sorted({h for v in made.versions for h in v.difficulty.holds})
    rows.append(("holds", f"{listed(holds)} in each" if holds else "none"))
    half = (len(rows) + 1) // 2
    cells = [(*rows[i], *(rows[half + i] if half + i < len(rows) else ("", ""))) for i in range(half)]
    columns = (Column("", width_mm=46), Column("", width_mm=40), Column("", width_mm=46), Column("", width_mm=46))
    return Table(
        columns, tuple(Row(c, "light" if i else "") for i, c in enumerate(cells)), "How alike the versions are"
    )


def seeds_said(made: ClassSet) -> tuple[str, ...]:
    """How many seeds were tried and kept, why others were thrown away, which mistakes are not told apart."""
    tally = made.tally
    lines = [f"Seeds tried: {tally.tried}, kept: {tally.kept}."]
    if tally.thrown:
        told = "; ".join(f"{why} ({n})" for why, n in tally.thrown[:8])
        more = sum(n for _, n in tally.thrown[8:])
        lines.append(f"Thrown away: {told}{f'; other reasons ({more})' if more else ''}.")
    if tally.shares_closing:
        lines.append("Misclosure and corrections recur from pupil to pupil: there are few of them within the bound.")
    by_why: dict[str, list[str]] = {}
    for kind, code, why in made.left_out:
        if code in MISTAKES:
            by_why.setdefault(why, []).append(f"{code} in {kind}")
    for why, found in by_why.items():
        lines.append(f"Not told apart, {why}: {listed(found, 'and', 6)}.")
    return tuple(lines)


# ------------------------------------------------------------------------------------ versions

HEADS = ("pupil", "seed", "plan", "walls", "closes", "covering", "bag", "legs asked", "legs", "does not fit")
WIDTHS = (11.0, 24.0, 17.0, 22.0, 17.0, 24.0, 12.0, 25.0, 15.0, 11.0)


def _versions(made: ClassSet) -> tuple[Sheet, ...]:
    grid = Grid("Versions", HEADS, WIDTHS, tuple(_version(v) for v in made.versions), strong=(0,))
    pages = parted(grid, body_mm(VERSIONS))
    return tuple(
        Sheet(
            slug="versions" if n == 1 else f"versions-{n}",
            title="Versions",
            purpose=VERSIONS,
            template="class-grid.html",
            view={"lead": "", "grids": (page,), "after": ()},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _version(v: Version) -> tuple[str, ...]:
    case, found = v.case, v.difficulty
    walls = " x ".join(plain(w.length) for w in v.project.rooms[0].walls[:2])
    miss = v.plan.survey.levels.misclosure_mm
    closes = (
        "not closed" if miss is None else f"{plain(abs(miss))} {'high' if miss > 0 else 'low'}" if miss else "exact"
    )
    top = case.fill.layers[0] if case.fill.layers else None
    misfits = [leg.node for leg in v.plan.heights.legs if not leg.fits]
    return (
        str(case.pupil),
        case.seed,
        case.sign,
        walls,
        closes,
        f"{top.name} {plain(top.mm)}" if top else "none",
        f"{plain(case.fill.bag_l)} L",
        asked_words(case),
        f"{found.leg_least_mm} to {found.leg_most_mm}",
        listed(misfits, "and", 3) or "none",
    )
