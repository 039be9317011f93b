"""Class sheets to whole HTML documents, one a page of paper."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.classroom.facts import ClassFacts, Place
from packgen.booklet.html import fill
from packgen.booklet.pdf import Page
from packgen.booklet.sheet import Sheet
from packgen.exercise.model import Case


def pupil_pages(facts: ClassFacts, case: Case, sheets: Sequence[Sheet]) -> tuple[Page, ...]:
    """A pupil's sheets as documents, each with the pupil's number."""
    who = f"Pupil {case.pupil}"
    return tuple(
        page_of(
            facts,
            Place(
                who,
                f"{who}, sheet {n} of {len(sheets)}",
                f"pupil-{case.pupil}-{sheet.slug}",
                f"{who}: {sheet.title}" + (f", part {sheet.part}" if sheet.parts > 1 else ""),
                case.sign,
            ),
            sheet,
        )
        for n, sheet in enumerate(sheets, 1)
    )


def teacher_pages(facts: ClassFacts, sheets: Sequence[Sheet]) -> tuple[Page, ...]:
    """The teacher's sheets as documents."""
    return tuple(
        page_of(
            facts,
            Place(
                "Teacher",
                f"Sheet {n} of {len(sheets)}",
                f"teacher-{sheet.slug}",
                sheet.title + (f", part {sheet.part}" if sheet.parts > 1 else ""),
            ),
            sheet,
        )
        for n, sheet in enumerate(sheets, 1)
    )


def body_of(sheet: Sheet) -> Markup:
    return Markup(fill(f"sheets/{sheet.template}", {**sheet.view, "sheet": sheet}))


def page_of(facts: ClassFacts, place: Place, sheet: Sheet) -> Page:
    """One sheet as a document."""
    view = {"facts": facts, "place": place, "sheet": sheet, "body": body_of(sheet)}
    return Page(place.anchor, fill("class-page.html", view))
