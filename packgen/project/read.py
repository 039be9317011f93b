"""Reads a project file: bytes to a checked Project, or every fault of the file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import yaml
from pydantic import ValidationError

from packgen.core.finding import Fault
from packgen.core.place import Marks, Place, Text
from packgen.project.fit import Job, fit_record
from packgen.project.kinds import Spoken
from packgen.project.model import Project
from packgen.project.parse import Parser, TooMuch
from packgen.project.tree import Mapping, Scalar


@dataclass(frozen=True, slots=True)
class ReadResult:
    """What came of reading. `project` is None where the file has any fault; `lines` are the file's own lines."""

    project: Project | None
    faults: tuple[Fault, ...]
    lines: tuple[str, ...]


def read_project(data: bytes, file_name: str) -> ReadResult:
    """Reads a whole project file."""
    lines = tuple(data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    parser = Parser(lines)
    try:
        tree = parser.tree()
    except TooMuch as why:
        return ReadResult(None, (*parser.faults, why.fault), lines)
    except yaml.MarkedYAMLError as why:
        mark = why.problem_mark or why.context_mark
        place = Place(mark.line + 1, mark.column + 1) if mark else Place(1, 1)
        return ReadResult(None, (*parser.faults, Fault(place, "syntax", str(why.problem))), lines)
    job = Job(list(parser.faults))
    if tree is None:
        return ReadResult(None, (Fault(Place(1, 1), "empty-file", "the file is empty"),), lines)
    data_ = fit_record(Project, tree, "the file", job)
    datum = tree.get("datum") if isinstance(tree, Mapping) else None
    name = datum.text("name") if isinstance(datum, Mapping) else None
    spoken = Spoken(str(name) if name else "TBM")
    project = None
    faults = job.faults
    if isinstance(data_, dict):
        try:
            project = Project.model_validate({**data_, "file_name": file_name}, context=spoken)
        except ValidationError as why:
            faults = faults + _told(why)
    faults = sorted(set(faults), key=lambda f: (f.place, f.says))
    return ReadResult(None if faults else project, tuple(faults), lines)


def _told(why: ValidationError) -> list[Fault]:
    out = []
    for error in why.errors(include_url=False):
        value = error["input"]
        if error["type"] == "missing":
            continue
        context: dict[str, Any] = error.get("ctx", {})
        label = value.label if isinstance(value, Scalar) else str(error["loc"][-1])
        says = f"{label}: {context.get('says', error['msg'])}"
        place = value.place if isinstance(value, Text) else Place(1, 1)
        if isinstance(value, dict) and isinstance(value.get("(marks)"), Marks):
            place = value["(marks)"].start
        out.append(Fault(place, context.get("code", error["type"]), says, context.get("guess")))
    return out
