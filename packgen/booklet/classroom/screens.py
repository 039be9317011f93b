"""Class sheets on a screen: a file a pupil, the teacher's book, and a start page for the teacher."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.classroom.facts import ClassFacts, Place
from packgen.booklet.classroom.pages import body_of
from packgen.booklet.html import fill
from packgen.booklet.screen import FONTS
from packgen.booklet.sheet import Sheet
from packgen.booklet.templates import font_data, style


def sheets_page(facts: ClassFacts, title: str, sheets: Sequence[Sheet], where: Sequence[Place]) -> str:
    """Sheets as cards, one below the other, in a file that loads nothing."""
    cards = [{"sheet": s, "place": p, "body": body_of(s)} for s, p in zip(sheets, where, strict=True)]
    return fill("class-screen.html", {"facts": facts, "title": title, "sheets": cards, **_look()})


def start_page(
    facts: ClassFacts,
    pupils: Sequence[tuple[str, str]],
    teacher: Sequence[tuple[str, str]],
    alike: Sequence[str],
) -> str:
    """Links to all files of the set, and how alike its versions are."""
    view = {"facts": facts, "pupils": pupils, "teacher": teacher, "alike": alike, **_look()}
    return fill("class-index.html", view)


def _look() -> dict[str, object]:
    fonts = {name.replace("-", "_"): Markup(font_data(f"{name}.woff2")) for name in FONTS}
    return {"css": Markup(style("sheet.css") + style("class.css") + style("screen.css")), "fonts": fonts}
