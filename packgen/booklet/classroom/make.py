"""A class set from a project to a folder of files: pupils' sheets, the teacher's book, the key for marking."""

from __future__ import annotations

import csv
import io
import json
import os
from dataclasses import dataclass
from pathlib import Path

from packgen.booklet.classroom.facts import ClassFacts, class_facts
from packgen.booklet.classroom.pages import pages_of, pupil_places, teacher_places
from packgen.booklet.classroom.press import Press, press
from packgen.booklet.classroom.pupil import pupil_sheets
from packgen.booklet.classroom.screens import sheets_page, start_page
from packgen.booklet.classroom.teacher import teacher_sheets
from packgen.booklet.classroom.teacher_overview import seeds_said, spread_of
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.sheet import Sheet
from packgen.booklet.sign import sign_of
from packgen.booklet.templates import style, templates_folder
from packgen.booklet.write import replace_folder
from packgen.core.figures import plain
from packgen.exercise.choose import choose_versions
from packgen.exercise.key import key_as_data, key_of
from packgen.exercise.marks import marks_of
from packgen.exercise.model import ClassSet, NotPossible, Version
from packgen.exercise.settings import Settings, settings_of
from packgen.project.model import Project

PUPILS, TEACHER = "pupils", "teacher"
KEY = f"{TEACHER}/key.json"
DEFAULT_LEVEL = 2


@dataclass(frozen=True)
class ClassWritten:
    """What was written, the sentence that says why there is no PDF (None where there is one), and what is told."""

    paths: tuple[Path, ...]
    no_pdf: str | None
    says: tuple[str, ...]


def write_class_set(
    project: Project,
    pupils: int | None,
    folder: Path,
    level: int = DEFAULT_LEVEL,
    pdf: bool = True,
    processes: int | None = None,
) -> ClassWritten:
    """Makes a set and writes its folder, which is replaced whole or not at all.

    pupils: how many versions; None takes the file's `versions`. processes: 1 lays all out here, 2 lays out pupils'
    sheets beside; None takes what the machine has. NotPossible where the set cannot be made; nothing is written then.
    """
    settings = settings_of(project)
    count = pupils if pupils is not None else _versions(project)
    weasyprint, no_pdf = weasyprint_or_why() if pdf else (None, None)
    facts = class_facts(project, settings, level, "exercise sheets")
    files: dict[str, bytes] = {}
    css = style("sheet.css") + style("class.css") + style("class-print.css")
    root = templates_folder()
    running: Press | None = None
    if weasyprint is not None:
        running = press(weasyprint, css, root, processes or min(2, os.cpu_count() or 1))

    def found(version: Version) -> None:
        sheets = sheets_of(version, settings, level)
        where = pupil_places(version.case, sheets)
        name = f"pupil-{version.case.pupil:02d}"
        title = f"{facts.document}, pupil {version.case.pupil}"
        files[f"{PUPILS}/{name}.html"] = sheets_page(facts, title, sheets, where).encode("utf-8")
        if running is not None:
            running.add(pages_of(facts, sheets, where))

    try:
        made = choose_versions(project, count, level, sign_of, found)
        book = class_facts(project, settings, level, "teacher's book")
        sheets = teacher_sheets(made, settings)
        where = teacher_places(sheets)
        files[f"{TEACHER}/teacher.html"] = sheets_page(book, book.document, sheets, where).encode("utf-8")
        if weasyprint is not None and running is not None:
            files[f"{TEACHER}/teacher.pdf"] = write_pdf(weasyprint, pages_of(book, sheets, where), css, root)
            files[f"{PUPILS}/pupils.pdf"] = running.finish()
            running = None
    finally:
        if running is not None:
            running.stop()
    files[KEY] = _json(key_as_data(key_of(made)))
    files[f"{TEACHER}/answers-to-fill-in.csv"] = _to_fill_in(made)
    files["index.html"] = _start(book, made, tuple(files)).encode("utf-8")
    return ClassWritten(replace_folder(folder, files), no_pdf, (*alike_said(made), *seeds_said(made)))


def sheets_of(version: Version, settings: Settings, level: int) -> tuple[Sheet, ...]:
    """One pupil's sheets."""
    marks = {id: m.whole for id, m in marks_of(version.blanks, settings).items()}
    return pupil_sheets(version.plan, version.case, version.blanks, version.given, marks, settings, level)


def alike_said(made: ClassSet) -> tuple[str, ...]:
    """The spread of difficulty, a line each."""
    return tuple(
        f"{name}: {plain(low)} in each" if low == high else f"{name}: {plain(low)} to {plain(high)}"
        for name, low, high in spread_of(made)
    )


def _versions(project: Project) -> int:
    if project.exercise is None:
        raise NotPossible("how many pupils? The file has no section 'exercise': say --pupils 24")
    return project.exercise.versions


def _json(data: object) -> bytes:
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def _to_fill_in(made: ClassSet) -> bytes:
    """A row an answer, empty, in the order of the papers."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(("pupil", "question", "asked", "answer", "working", "tidy"))
    for version in made.versions:
        rows.writerows((version.case.pupil, b.number, b.id.replace("/", " "), "", "", "") for b in version.blanks)
    return out.getvalue().encode("utf-8")


def _start(facts: ClassFacts, made: ClassSet, names: tuple[str, ...]) -> str:
    pupils = [
        (n, f"Pupil {int(n[-7:-5])}" if n.endswith(".html") else "All pupils, for the copier")
        for n in names
        if n.startswith(PUPILS)
    ]
    words = {
        "teacher.html": "Teacher's book on the screen",
        "teacher.pdf": "Teacher's book for printing",
        "key.json": "Key, for the command packgen mark",
        "answers-to-fill-in.csv": "Table to type answers into",
    }
    teacher = [(n, words[n.split("/")[1]]) for n in names if n.startswith(TEACHER)]
    return start_page(facts, sorted(pupils), teacher, alike_said(made))
