"""A class set from a project file, and answers marked against it. Nothing is printed here."""

from __future__ import annotations

from pathlib import Path

from packgen.booklet.classroom.make import KEY, ClassWritten, write_class_set
from packgen.booklet.classroom.marked import MarkedWritten, write_marks
from packgen.exercise.handed_in import decoded
from packgen.exercise.key import KeyFault
from packgen.exercise.model import NotPossible
from packgen.generate import folder_name
from packgen.project.beside import files_in
from packgen.project.read import ReadResult, read_project


def class_file(file: Path, pupils: int | None, level: int, out: Path) -> tuple[ReadResult, ClassWritten | None]:
    """Makes the set in `out`/NAME-class. NotPossible where no set can be made; a refused file writes nothing."""
    read = read_project(file.read_bytes(), file.name, files_in(file.parent))
    if read.project is None:
        return read, None
    return read, write_class_set(read.project, pupils, out / f"{folder_name(file)}-class", level)


CLASS_OF = 24  # versions where a class set is asked for and the file has no section `exercise`


def class_beside(file: Path, out: Path, asked: bool) -> ClassWritten | str:
    """The class set that goes with a pack, in `out`/NAME-class; else the sentence that says why there is none.

    asked: the class edition was named, so that a file without a section `exercise` gives CLASS_OF versions; where all
    editions are made, such a file is for no class.
    """
    read = read_project(file.read_bytes(), file.name, files_in(file.parent))
    if read.project is None:
        return "the file was refused"
    versions = read.project.exercise.versions if read.project.exercise else None
    if versions is None and not asked:
        return "the file has no section 'exercise'"
    try:
        return write_class_set(read.project, versions or CLASS_OF, out / f"{folder_name(file)}-class")
    except NotPossible as why:
        return str(why)


def mark_file(answers: Path, folder: Path | None, out: Path) -> MarkedWritten:
    """Marks a file of answers (CSV, or YAML by its name) against the set in `folder`; writes `folder`/marked.

    folder None: the set in which the file stands, or the only one in `out`. OSError where a file cannot be read,
    AnswersFault and KeyFault where one is not what it should be.
    """
    text = decoded(answers.read_bytes())
    return write_marks(text, answers.name, folder or _set_of(answers, out))


def _set_of(answers: Path, out: Path) -> Path:
    """KeyFault where no set or more than one could be meant."""
    for folder in answers.resolve().parents[:2]:
        if (folder / KEY).is_file():
            return folder
    found = sorted(key.parents[1] for key in out.glob(f"*/{KEY}"))
    if len(found) == 1:
        return found[0]
    there = f"there are {len(found)} in {out}" if found else f"there is none in {out}"
    raise KeyFault(f"which class set are these answers for? Say --set FOLDER: {there}")
