"""Sheets after marking: the class table, the pupils' marks, and a feedback slip for each pupil to cut off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packgen.booklet.classroom.blocks import BODY_MM, body_mm
from packgen.booklet.classroom.grids import Grid, parted
from packgen.booklet.rows import SHEET_MM
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import listed, plain
from packgen.exercise.mark_model import Marking, PupilMarks, QuestionRow
from packgen.exercise.mistakes import MISTAKES

SLIP_EDGE_MM = 14.0  # a slip without its lines: head, rule to cut along
BULLET_MM = 7.0
STATUS = {"right": "right", "follow-on": "follow-on", "mistake": "mistake", "other": "other", "blank": "empty"}
HARDEST = 5


@dataclass(frozen=True, slots=True)
class Slip:
    """One pupil's slip as printed."""

    who: str
    marks: str
    says: tuple[str, ...]

    @property
    def height_mm(self) -> float:
        return SLIP_EDGE_MM + sum(lines_of(line, 10, SHEET_MM - BULLET_MM) * 4.5 for line in self.says)


def teacher_marked(marking: Marking, pupils: int) -> tuple[Sheet, ...]:
    """For the teacher: which question went wrong most, then every pupil's marks and answers that were not right."""
    return (*_class_table(marking), *_papers(marking, pupils))


def _class_table(marking: Marking) -> tuple[Sheet, ...]:
    rows = tuple(_question(q) for q in marking.questions)
    heads = ("no.", "asked", "right", "follow-on", "mistake", "other", "empty", "mistake met most")
    grid = Grid("Questions", heads, (10.0, 36.0, 14.0, 18.0, 16.0, 14.0, 14.0, 56.0), rows, strong=(0,))
    purpose = "Which question went wrong most, and which mistake was behind it."
    pages = parted(grid, body_mm(purpose) - 12.0)
    lead = worst_said(marking)
    return tuple(
        Sheet(
            slug="class" if n == 1 else f"class-{n}",
            title="Class table",
            purpose=purpose,
            template="class-grid.html",
            view={"lead": lead if n == 1 else "", "grids": (page,), "after": marking.unread if n == len(pages) else ()},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def worst_said(marking: Marking) -> str:
    """One sentence: the questions that went wrong most."""
    worst = marking.hardest[:HARDEST]
    if not worst:
        return "No question went wrong."
    told = [f"question {q.number}, {q.kind} ({q.wrong} of {len(marking.pupils)})" for q in worst]
    return f"Wrong most often: {listed(told)}."


def _question(q: QuestionRow) -> tuple[str, ...]:
    code, count = q.commonest
    told = f"{code} {MISTAKES[code].name} ({count})" if code else ""
    counts = (q.right, q.follow, q.mistake, q.other, q.blank)
    return (str(q.number), q.kind, *(str(n) if n else "" for n in counts), told)


def _papers(marking: Marking, pupils: int) -> tuple[Sheet, ...]:
    rows = tuple(_paper(p) for p in marking.pupils)
    heads = ("pupil", "marks", "method", "answer", "unit", "right", "follow-on", "mistakes by question", "other, empty")
    widths = (12.0, 20.0, 15.0, 15.0, 12.0, 12.0, 18.0, 46.0, 28.0)
    grid = Grid("Papers", heads, widths, rows, strong=(0, 1))
    missing = pupils - len(marking.pupils)
    purpose = "Marks of every pupil whose answers were handed in."
    after = [f"{missing} of {pupils} pupils have handed in nothing."] if missing else []
    if not marking.working_said:
        after.append(
            "The answers do not say whether working was shown: method marks go with every right or follow-on answer. A "
            "column 'working' with no takes them off."
        )
    pages = parted(grid, body_mm(purpose) - 14.0)
    return tuple(
        Sheet(
            slug="papers" if n == 1 else f"papers-{n}",
            title="Marks",
            purpose=purpose,
            template="class-grid.html",
            view={"lead": "", "grids": (page,), "after": tuple(after) if n == len(pages) else ()},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _paper(p: PupilMarks) -> tuple[str, ...]:
    def total(part: str) -> str:
        return str(sum(getattr(a.earned, part) for a in p.answers))

    by_code: dict[str, list[str]] = {}
    for a in p.answers:
        if a.status == "mistake":
            by_code.setdefault(a.code, []).append(str(a.number))
    mistakes = "; ".join(f"{code} in {listed(numbers, 'and', 20)}" for code, numbers in by_code.items())
    rest = [str(a.number) for a in p.answers if a.status in ("other", "blank")]
    return (
        str(p.pupil),
        f"{p.earned} of {p.possible}",
        total("method"),
        total("answer"),
        total("tidy"),
        str(sum(a.status == "right" for a in p.answers)),
        str(sum(a.status == "follow-on" for a in p.answers)),
        mistakes,
        listed(rest, "and", 12),
    )


def slip_sheets(marking: Marking) -> tuple[Sheet, ...]:
    """Feedback slips, as many on a page as fit. A slip never says a right number."""
    pages: list[list[Slip]] = [[]]
    left = BODY_MM
    for p in marking.pupils:
        slip = Slip(f"Pupil {p.pupil}", f"{p.earned} of {p.possible} marks", p.says)
        if pages[-1] and slip.height_mm > left:
            pages.append([])
            left = BODY_MM
        pages[-1].append(slip)
        left -= slip.height_mm
    return tuple(
        Sheet(
            slug="slips" if n == 1 else f"slips-{n}",
            title="Feedback",
            purpose="One slip a pupil. Cut along the dashes.",
            template="class-slips.html",
            view={"slips": tuple(page)},
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
        if page
    )


def marks_rows(marking: Marking) -> Sequence[tuple[str, ...]]:
    """A row an answer, for a table: what was written, how it was judged, what it earned."""
    head = (
        "pupil",
        "question",
        "asked",
        "answer",
        "judged",
        "mistake",
        "method",
        "answer_marks",
        "tidy",
        "marks",
        "of",
    )
    rows: list[tuple[str, ...]] = [head]
    for p in marking.pupils:
        for a in p.answers:
            earned = a.earned
            marks = (earned.method, earned.answer, earned.tidy, earned.whole, a.possible.whole)
            asked = a.id.replace("/", " ")
            row = (str(p.pupil), str(a.number), asked, a.text, STATUS[a.status], a.code)
            rows.append((*row, *(plain(m) for m in marks)))
    return rows
