"""A class set from a project file, and answers marked against it. Nothing is printed here."""

from __future__ import annotations

from pathlib import Path

from packgen.booklet.classroom.make import ClassWritten, write_class_set
from packgen.booklet.classroom.marked import MarkedWritten, write_marks
from packgen.generate import folder_name
from packgen.project.read import ReadResult, read_project


def class_file(file: Path, pupils: int | None, level: int, out: Path) -> tuple[ReadResult, ClassWritten | None]:
    """Makes the set in `out`/NAME-class. NotPossible where no set can be made; a refused file writes nothing."""
    read = read_project(file.read_bytes(), file.name)
    if read.project is None:
        return read, None
    return read, write_class_set(read.project, pupils, out / f"{folder_name(file)}-class", level)


def mark_file(answers: Path, folder: Path) -> MarkedWritten:
    """Marks a file of answers (CSV, or YAML by its name) against the set in `folder`; writes `folder`/marked.

    OSError where a file cannot be read, AnswersFault and KeyFault where one is not what it should be.
    """
    return write_marks(answers.read_text(encoding="utf-8"), answers.name, folder)
