"""A class set from a project file, and answers marked against it. Nothing is printed here."""

from __future__ import annotations

import json
from pathlib import Path

from packgen.booklet.classroom.make import ClassWritten, write_class_set
from packgen.exercise.handed_in import read_answers
from packgen.exercise.key import key_from_data
from packgen.exercise.mark import Marking, PupilMarks, QuestionRow, mark
from packgen.generate import folder_name
from packgen.project.read import ReadResult, read_project

KEY = Path("teacher") / "key.json"


def class_file(file: Path, pupils: int | None, level: int, out: Path) -> tuple[ReadResult, ClassWritten | None]:
    """Makes the set in `out`/NAME-class. NotPossible where no set can be made; a refused file writes nothing."""
    read = read_project(file.read_bytes(), file.name)
    if read.project is None:
        return read, None
    return read, write_class_set(read.project, pupils, out / f"{folder_name(file)}-class", level)


def mark_file(answers: Path, folder: Path) -> Marking:
    """Marks a file of answers (CSV, or YAML by its name) against the set in `folder`.

    OSError where a file cannot be read, AnswersFault and KeyFault where one is not what it should be.
    """
    key = key_from_data(json.loads((folder / KEY).read_text(encoding="utf-8")))
    text = answers.read_text(encoding="utf-8")
    rows = read_answers(text, yaml=answers.suffix in (".yaml", ".yml"))
    return mark(key.cases, key.settings, key.level, rows, frozenset(key.left_out))


def class_table(marking: Marking) -> tuple[str, ...]:
    """Which question went wrong how often, the worst first, then what could not be read."""
    lines = [f"{len(marking.pupils)} {'pupil' if len(marking.pupils) == 1 else 'pupils'} marked."]
    lines += [_question(row) for row in marking.hardest]
    return (*lines, *marking.unread)


def _question(row: QuestionRow) -> str:
    code, times = row.commonest
    often = f"; {code} {times} times" if code else ""
    return f"question {row.number}, {row.kind}: {row.wrong} wrong, {row.right} right, {row.follow} follow-on{often}"


def slip(pupil: PupilMarks) -> tuple[str, ...]:
    """A pupil's feedback slip."""
    return (f"Pupil {pupil.pupil}: {pupil.earned} of {pupil.possible} marks", *(f"  {line}" for line in pupil.says))
