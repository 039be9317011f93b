"""How long a class set takes: on two processes, on one, and WeasyPrint alone on the same pages.

    python tests/benchmarks/class_sets.py [PUPILS] [LEVEL]

Prints seconds and ratios; nothing is judged. WeasyPrint alone lays out the same documents, each whole, with the
collector off as here, and writes one tagged file: pupils' pages and the teacher's book.
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from packgen.booklet.classroom.facts import class_facts
from packgen.booklet.classroom.make import sheets_of, write_class_set
from packgen.booklet.classroom.pages import pages_of, pupil_places, teacher_places
from packgen.booklet.classroom.teacher import teacher_sheets
from packgen.booklet.pdf import Page, weasyprint_or_why
from packgen.booklet.sign import sign_of
from packgen.booklet.templates import style, templates_folder
from packgen.exercise.choose import choose_versions
from packgen.exercise.settings import settings_of
from packgen.project.model import Project
from packgen.project.read import read_project

BAY = Path(__file__).parents[2] / "projects" / "07-school-exercise-bay.yaml"


def seconds(work: Callable[[], Any]) -> tuple[tuple[float, float], Any]:
    """Seconds by the clock and seconds of work on all processors, and what came of it."""
    start, before = time.perf_counter(), os.times()
    result = work()
    after = os.times()
    return (time.perf_counter() - start, sum(after[:4]) - sum(before[:4])), result


def volumes(
    project: Project, pupils: int, level: int
) -> tuple[tuple[float, float], tuple[Page, ...], tuple[Page, ...]]:
    """Time to choose the versions, pupils' pages, teacher's pages."""
    took, made = seconds(lambda: choose_versions(project, pupils, level, sign_of))
    settings = settings_of(project)
    facts, book = (class_facts(project, settings, level, name) for name in ("exercise sheets", "teacher's book"))
    mine: list[Page] = []
    for v in made.versions:
        sheets = sheets_of(v, settings, level)
        mine += pages_of(facts, sheets, pupil_places(v.case, sheets))
    theirs = teacher_sheets(made, settings)
    return took, tuple(mine), pages_of(book, theirs, teacher_places(theirs))


def alone(weasyprint: Any, pages: tuple[Page, ...]) -> None:
    """The library by itself: every document whole, one after the other, then one file."""
    gc.disable()
    fonts = weasyprint.text.fonts.FontConfiguration()
    base = templates_folder().resolve().as_uri() + "/"
    css = style("sheet.css") + style("class.css") + style("class-print.css")
    shared = weasyprint.CSS(string=css, font_config=fonts, base_url=base)
    documents = [
        weasyprint.HTML(string=p.whole, base_url=base).render(
            font_config=fonts, stylesheets=[shared], pdf_variant="pdf/ua-1"
        )
        for p in pages
    ]
    documents[0].copy([page for d in documents for page in d.pages]).write_pdf(pdf_variant="pdf/ua-1")
    gc.enable()
    gc.collect()


def main(pupils: int, level: int) -> None:
    found = read_project(BAY.read_bytes(), BAY.name)
    assert found.project is not None, found.faults
    project = found.project
    weasyprint, why = weasyprint_or_why()
    if weasyprint is None:
        sys.stdout.write(f"{why}\n")
        return
    choosing, mine, theirs = volumes(project, pupils, level)
    library, _ = seconds(lambda: (alone(weasyprint, mine), alone(weasyprint, theirs)))
    rows = {"versions chosen": choosing, "WeasyPrint alone, same pages": library}
    with tempfile.TemporaryDirectory() as there:
        for processes in (2, 1):
            folder = Path(there) / f"set{processes}"
            took, _ = seconds(lambda f=folder, n=processes: write_class_set(project, pupils, f, level, processes=n))
            rows[f"whole set, {processes} process{'es' if processes > 1 else ''}"] = took
    pages = len(mine) + len(theirs)
    sys.stdout.write(f"{pupils} pupils, level {level}: {len(mine)} + {len(theirs)} pages\n")
    for name, (clock, work) in rows.items():
        ratios = f"{clock / library[0]:5.2f} and {work / library[1]:5.2f} of WeasyPrint alone"
        sys.stdout.write(f"{name:32} {clock:6.1f} s by the clock, {work:6.1f} s of work: {ratios}\n")
    sys.stdout.write(f"{1000 * rows['whole set, 1 process'][1] / pages:.0f} ms of work a page on one process\n")


if __name__ == "__main__":
    given = [int(a) for a in sys.argv[1:3]]
    main(*(given + [24, 2][len(given) :]))
