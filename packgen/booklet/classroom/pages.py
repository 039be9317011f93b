"""Class sheets to whole HTML documents, one a page of paper."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.classroom.facts import ClassFacts, Place
from packgen.booklet.html import fill
from packgen.booklet.pdf import COMMON, Page
from packgen.booklet.sheet import Sheet
from packgen.exercise.model import Case

ALIKE = ("rules", "exchange", "room")  # sheets whose body is the same for all pupils of a set


def pupil_places(case: Case, sheets: Sequence[Sheet]) -> tuple[Place, ...]:
    """Where each of a pupil's sheets stands, with the pupil's number."""
    who = f"Pupil {case.pupil}"
    return tuple(
        Place(
            who,
            f"{who}, sheet {n} of {len(sheets)}",
            f"pupil-{case.pupil}-{sheet.slug}",
            f"{who}: {_outlined(sheet)}",
            case.sign,
        )
        for n, sheet in enumerate(sheets, 1)
    )


def teacher_places(sheets: Sequence[Sheet], who: str = "Teacher") -> tuple[Place, ...]:
    """Where each of the teacher's sheets stands."""
    return tuple(
        Place(who, f"Sheet {n} of {len(sheets)}", f"teacher-{sheet.slug}", _outlined(sheet))
        for n, sheet in enumerate(sheets, 1)
    )


def _outlined(sheet: Sheet) -> str:
    return sheet.title + (f", part {sheet.part}" if sheet.parts > 1 else "")


def pages_of(facts: ClassFacts, sheets: Sequence[Sheet], where: Sequence[Place]) -> tuple[Page, ...]:
    """Sheets as documents for the PDF."""
    return tuple(page_of(facts, place, sheet) for sheet, place in zip(sheets, where, strict=True))


def body_of(sheet: Sheet) -> Markup:
    return Markup(fill(f"sheets/{sheet.template}", {**sheet.view, "sheet": sheet}))


def page_of(facts: ClassFacts, place: Place, sheet: Sheet) -> Page:
    """One sheet as a document. Sheets alike for all pupils share their body."""
    body = body_of(sheet)
    common = body if sheet.slug in ALIKE else ""
    view = {"facts": facts, "place": place, "sheet": sheet, "body": Markup(COMMON) if common else body}
    return Page(place.anchor, fill("class-page.html", view), common=common)
