"""Marks handed-in answers against a set's folder, and writes class table, marks and feedback slips beside it."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from packgen.booklet.classroom.facts import ClassFacts
from packgen.booklet.classroom.make import KEY
from packgen.booklet.classroom.marked_sheets import marks_rows, slip_sheets, teacher_marked, worst_said
from packgen.booklet.classroom.pages import pages_of, teacher_places
from packgen.booklet.classroom.screens import sheets_page
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.sheet import Sheet
from packgen.booklet.templates import style, templates_folder
from packgen.booklet.write import replace_folder
from packgen.core.figures import day, plain
from packgen.exercise.handed_in import read_answers
from packgen.exercise.key import Key, KeyFault, key_from_data
from packgen.exercise.mark import mark
from packgen.exercise.mark_model import Marking

MARKED = "marked"


@dataclass(frozen=True)
class MarkedWritten:
    """What was written, why there is no PDF (None where there is one), what is told, and the marking itself."""

    paths: tuple[Path, ...]
    no_pdf: str | None
    says: tuple[str, ...]
    marking: Marking


def write_marks(answers: str, name: str, set_folder: Path, pdf: bool = True) -> MarkedWritten:
    """Marks the text of a file of answers and writes `set_folder`/marked, replaced whole or not at all.

    name: the file's name; .yaml and .yml are read as YAML, all else as CSV. AnswersFault where it cannot be read,
    KeyFault where the folder has no key that can be used, OSError where a file cannot be read or written.
    """
    key = read_key(set_folder)
    rows = read_answers(answers, yaml=name.casefold().endswith((".yaml", ".yml")))
    marking = mark(key.cases, key.settings, key.level, rows, frozenset(key.left_out))
    teacher, slips = teacher_marked(marking, len(key.cases)), slip_sheets(marking)
    files = {
        "marks.csv": _csv(marks_rows(marking)),
        "class-table.html": _page(_facts(key, "class table"), teacher),
        "slips.html": _page(_facts(key, "feedback"), slips),
    }
    no_pdf = None
    if pdf:
        weasyprint, no_pdf = weasyprint_or_why()
        if weasyprint is not None:
            css = style("sheet.css") + style("class.css") + style("class-print.css")
            for stem, sheets in (("class-table", teacher), ("slips", slips)):
                facts = _facts(key, "class table" if stem == "class-table" else "feedback")
                pages = pages_of(facts, sheets, teacher_places(sheets, _who(stem)))
                if pages:
                    files[f"{stem}.pdf"] = write_pdf(weasyprint, pages, css, templates_folder())
    says = [f"pupil {p.pupil}: {p.earned} of {p.possible}" for p in marking.pupils]
    return MarkedWritten(
        replace_folder(set_folder / MARKED, files), no_pdf, (*says, worst_said(marking), *marking.unread), marking
    )


def read_key(set_folder: Path) -> Key:
    """The key that was written with a set. KeyFault where there is none."""
    file = set_folder / KEY
    try:
        return key_from_data(json.loads(file.read_text(encoding="utf-8")))
    except FileNotFoundError as why:
        raise KeyFault(f"{file} is not there: name the folder that packgen class wrote") from why
    except (json.JSONDecodeError, UnicodeDecodeError) as why:
        raise KeyFault(f"{file} is no JSON file: {why}") from why


def _who(stem: str) -> str:
    return "Teacher" if stem == "class-table" else "Class"


def _facts(key: Key, volume: str) -> ClassFacts:
    cls = f"class {key.settings.cls}" if key.settings.cls != "class" else "class set"
    time = f" · {plain(key.settings.time_min)} min" if key.settings.time_min else ""
    return ClassFacts(
        name=key.project,
        foot=f"{key.project} · {cls} · level {key.level}{time} · {day(key.date)}",
        document=f"{key.project}, {cls}, {volume}",
        describes=f"{volume}, level {key.level}",
        prepared_by="",
        date_iso=key.date.isoformat(),
    )


def _page(facts: ClassFacts, sheets: Sequence[Sheet]) -> bytes:
    return sheets_page(facts, facts.document, sheets, teacher_places(sheets)).encode("utf-8")


def _csv(rows: Sequence[Sequence[str]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode("utf-8")
