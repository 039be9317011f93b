"""Sheets to measure on, blank or for the rooms of a file that is begun. Nothing is printed here."""

from __future__ import annotations

from pathlib import Path

from packgen.booklet.blank.make import write_survey_sheets
from packgen.booklet.blank.paper_size import Name
from packgen.booklet.pack import Written
from packgen.generate import folder_name
from packgen.project.beside import files_in
from packgen.project.read import BegunResult, read_begun
from packgen.survey.prepare import prepare_survey

BLANK = "survey-sheets"


def survey_sheets(file: Path | None, paper: Name, out: Path) -> tuple[BegunResult | None, Written | None]:
    """Writes `out`/NAME-survey for a file, `out`/survey-sheets without one. A file with a fault writes nothing.

    OSError where a file cannot be read or a folder not be written.
    """
    if file is None:
        return None, write_survey_sheets(None, (), paper, out / BLANK)
    read = read_begun(file.read_bytes(), file.name, files_in(file.parent))
    if read.begun is None:
        return read, None
    rooms = prepare_survey(read.begun)
    return read, write_survey_sheets(read.begun, rooms, paper, out / f"{folder_name(file)}-survey")
