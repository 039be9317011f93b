"""The whole run: read, plan, make the pack, write it. Nothing is printed here."""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from packgen.booklet.client.logo import logo_of
from packgen.booklet.client.picture import Picture
from packgen.booklet.pack import Written
from packgen.core.finding import Fault
from packgen.plan import Plan, make_plan
from packgen.project.beside import files_in
from packgen.project.read import read_project


@dataclass(frozen=True)
class Outcome:
    """What came of a project file. `plan` is None where the file was refused; then nothing was written."""

    faults: tuple[Fault, ...]
    lines: tuple[str, ...]
    plan: Plan | None
    written: Written | None = None
    logo: Picture | None = None

    @property
    def held(self) -> bool:
        return self.plan is not None and any(f.open_stop for f in self.plan.findings)


def plan_file(file: Path) -> Outcome:
    """Reads and plans a project file. OSError where it cannot be read."""
    read = read_project(file.read_bytes(), file.name, files_in(file.parent))
    if read.project is None:
        return Outcome(read.faults, read.lines, None)
    logo = logo_of(read.project, file.parent)
    if isinstance(logo, Fault):
        return Outcome((*read.faults, logo), read.lines, None)
    with _keeping_all():
        return Outcome(read.faults, read.lines, make_plan(read.project), logo=logo)


@contextmanager
def _keeping_all() -> Iterator[None]:
    """No search for garbage meanwhile: a plan keeps nearly all it makes, and searching took a quarter of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def build_file(file: Path, out: Path, edition: str | None = None) -> Outcome:
    """Reads, plans and writes the pack into `out`/NAME, which is replaced whole or not at all.

    edition: "site", "client", "class" or "all"; nothing said: the site pack, and beside it the edition of the file's
    reader. The class set is no edition of one plan, since every pupil has another: school.class_beside makes it.
    """
    from packgen.booklet.make import make_pack, write_pack_files  # 0.3 s that `check` need not wait for

    outcome = plan_file(file)
    if outcome.plan is None:
        return outcome
    editions = _editions(edition, outcome.plan.project.project.reader)
    packs = [make_pack(outcome.plan, name, outcome.logo) for name in editions]
    written = write_pack_files(packs[0], out / folder_name(file), also=packs[1:])
    return replace(outcome, written=written)


def _editions(asked: str | None, reader: str) -> tuple[str, ...]:
    """Whoever reads, somebody has to build the floor: without a word the site pack is always there."""
    if asked == "all" or (asked is None and reader == "client"):
        return ("site", "client")
    return ("client",) if asked == "client" else ("site",)


def wants_class(asked: str | None, reader: str) -> bool:
    """Whether a class set is made too."""
    return asked in ("class", "all") or (asked is None and reader == "class")


def folder_name(file: Path) -> str:
    """The output folder's name: the project file's own name in letters, digits and - only."""
    return re.sub(r"[^A-Za-z0-9]+", "-", file.stem).strip("-") or "pack"
