"""How to level: reading the staff, the four kinds of readings, and a small book filled in."""

from __future__ import annotations

from packgen.booklet.blank import example
from packgen.booklet.blank.blocks import Block, Drawing, Form, Heading, Note, Steps, left_mm, rows_of
from packgen.booklet.blank.level_picture import level_picture
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.staff import Practice, staff
from packgen.core.figures import plain
from packgen.trade.site_readings import reading_rule

TITLE = "How to level"
STAFF_MM = 24  # what the drawn staff takes beyond the millimetres it shows
MOST_STAFF_MM = 60
PRACTICE = (1403, 1417, 1396)


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """The staff and the idea; the book."""
    pages = (
        (_staff(job), "Ten minutes before the first reading."),
        (_book(job), "Four words, and one sum at the end."),
    )
    return tuple(
        survey_sheet("levelling", TITLE, purpose, blocks, signed="", part=n, parts=len(pages))
        for n, (blocks, purpose) in enumerate(pages, 1)
    )


def _staff(job: SurveyJob) -> tuple[Block, ...]:
    svg, high = level_picture(job.paper.sheet_mm, job.datum)
    steps = (
        "Put the laser where nobody walks and where it sees all points. Firm ground; not on a springy board.",
        "One person holds the staff: foot on the spot, upright, bubble in the middle. A leaning staff reads too much.",
        "The other reads where the laser line meets the staff, to 1 mm, says it aloud and writes it.",
        "Read what is there. Nobody alters a reading because it looks odd: read it again.",
        "Somebody knocked the tripod: start again at the last reading on the datum.",
    )
    before: tuple[Block, ...] = (
        Drawing(svg, high),
        Note(
            f"The staff shows how far the spot lies below the laser line. {example.FIRST} is more than "
            f"{example.BACKSIGHT}: the spot is lower than {job.datum}, by {example.FIRST - example.BACKSIGHT}."
        ),
        Steps(steps),
        Heading("Practice: what do the laser lines a, b, c show?"),
    )
    low = min(PRACTICE) - 6
    shown = min(MOST_STAFF_MM, int(left_mm(job.paper, before, signed=False)) - STAFF_MM)
    lines = tuple(Practice(letter, mm) for letter, mm in zip("abc", PRACTICE, strict=True))
    return (*before, Drawing(staff(low, low + shown, lines), shown + STAFF_MM - 6.0))


def _book(job: SurveyJob) -> tuple[Block, ...]:
    name, differs = job.datum, plain(reading_rule("datum_differs").value)
    where = f" Here: {job.datum_is}." if job.datum_is else ""
    steps = (
        f"{name} is a spot that stays when all is covered: a finished floor next door, a stone sill.{where} Its level "
        "is 0. Mark it, and photograph it with the staff on it.",
        f"Backsight: the first reading, on {name}. Level of {name} plus backsight is the height of collimation: so "
        "high stands the laser line.",
        "Between: every other spot. Height of collimation less reading is the level of the spot. Is the reading the "
        f"larger one, the spot lies below {name} by what it is larger.",
        f"Foresight: the last reading, on {name} again. It must be the backsight again; {differs} may be missing.",
        "Laser has to move? Read a firm spot (change point, CP1) as foresight. Move. Read the same spot as the new "
        "backsight: its level plus this reading is the new height of collimation.",
        "Read humps and hollows too, also between the points on the plan. Draw them on the sketch.",
    )
    table = Table(
        (
            Column("point", "text", 24),
            Column("backsight", "number", 24),
            Column("between", "number", 24),
            Column("foresight", "number", 24),
            Column("height of collimation", "number", 30),
            Column("level", "number", 20),
            Column("", "text", None),
        ),
        rows_of(example.BOOK, (), 7, True),
        "A small book, filled in",
        job.paper.sheet_mm,
    )
    miss = example.FORESIGHTS - example.BACKSIGHTS
    check = (
        f"Check. Backsights {example.BACKSIGHT} + {example.AGAIN} = {example.BACKSIGHTS}. Foresights {example.LEAVE} + "
        f"{example.CLOSE} = {example.FORESIGHTS}. The foresights are {miss} more: the last level must lie {miss} below "
        f"the first. It does, so the sums are right. {name} should have come out at 0: the book misses it by {miss}."
    )
    return (Steps(steps), Form(table), Note(check))
