"""The whole run: read, plan, make the pack, write it. Nothing is printed here."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from packgen.booklet.make import make_pack, write_pack_files
from packgen.booklet.pack import Written
from packgen.core.finding import Fault
from packgen.plan import Plan, make_plan
from packgen.project.read import read_project


@dataclass(frozen=True)
class Outcome:
    """What came of a project file. `plan` is None where the file was refused; then nothing was written."""

    faults: tuple[Fault, ...]
    lines: tuple[str, ...]
    plan: Plan | None
    written: Written | None = None

    @property
    def held(self) -> bool:
        return self.plan is not None and any(f.open_stop for f in self.plan.findings)


def plan_file(file: Path) -> Outcome:
    """Reads and plans a project file. OSError where it cannot be read."""
    read = read_project(file.read_bytes(), file.name)
    if read.project is None:
        return Outcome(read.faults, read.lines, None)
    return Outcome(read.faults, read.lines, make_plan(read.project))


def build_file(file: Path, out: Path, edition: str | None = None) -> Outcome:
    """Reads, plans and writes the pack into `out`/NAME, which is replaced whole or not at all."""
    outcome = plan_file(file)
    if outcome.plan is None:
        return outcome
    pack = make_pack(outcome.plan, edition or outcome.plan.project.project.reader)
    written = write_pack_files(pack, out / folder_name(file), project_folder=file.parent)
    return Outcome(outcome.faults, outcome.lines, outcome.plan, written)


def folder_name(file: Path) -> str:
    """The output folder's name: the project file's own name in letters, digits and - only."""
    return re.sub(r"[^A-Za-z0-9]+", "-", file.stem).strip("-") or "pack"
