"""From a plan to a pack in memory, and from there to a folder of files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from markupsafe import Markup

from packgen.booklet.editions import sheets_of
from packgen.booklet.facts import Band, PackFacts, band_of, pack_facts, see_in
from packgen.booklet.html import fill
from packgen.booklet.sheet import Sheet
from packgen.plan import Plan


@dataclass(frozen=True)
class Rendered:
    """A sheet with its number, its hold band and its body as HTML (the same on paper and on a screen)."""

    number: int
    sheet: Sheet
    band: Band | None
    body: Markup


@dataclass(frozen=True)
class Pack:
    """A pack in memory: nothing is on a disk yet."""

    edition: str
    facts: PackFacts
    sheets: tuple[Rendered, ...]
    data: Mapping[str, Any]
    tables: Mapping[str, str]


@dataclass(frozen=True)
class Written:
    """What was written, and the sentence that says why there is no PDF (None where there is one)."""

    paths: tuple[Path, ...]
    no_pdf: str | None


def make_pack(plan: Plan, edition: str) -> Pack:
    """Lays out all sheets of an edition as HTML, with the plan as data and as tables. No file is read but templates."""
    from packgen.booklet.plan_json import plan_as_data
    from packgen.booklet.tables import csv_tables

    sheets = sheets_of(plan, edition)
    facts = pack_facts(plan, sheets)
    return Pack(edition, facts, render(plan, sheets, facts), plan_as_data(plan), csv_tables(plan))


def render(plan: Plan, sheets: tuple[Sheet, ...], facts: PackFacts) -> tuple[Rendered, ...]:
    """The sheets' bodies; the sheet that explains words last, since it explains only those that the others use."""
    from packgen.booklet.words import words_used

    bodies = {s.slug: body_of(s, facts) for s in sheets if not s.slug.startswith("first")}
    told = replace(facts, words=words_used(bodies.values(), [s.title for s in sheets]))
    bodies |= {s.slug: body_of(s, told) for s in sheets if s.slug not in bodies}
    return tuple(Rendered(n, s, band_of(plan, s), bodies[s.slug]) for n, s in enumerate(sheets, 1))


def body_of(sheet: Sheet, facts: PackFacts) -> Markup:
    """One sheet's body as HTML."""
    view = {**sheet.view, "sheet": sheet, "pack": facts, "see": see_in(facts.contents)}
    return Markup(fill(f"sheets/{sheet.template}", view))


def write_pack_files(pack: Pack, folder: Path, pdf: bool = True, project_folder: Path | None = None) -> Written:
    """Writes the pack into `folder`, which is replaced whole or not at all.

    project_folder: where pictures named in the project file lie (the client's logo). OSError where writing fails.
    """
    from packgen.booklet.write import write_folder

    return write_folder(pack, folder, pdf)
