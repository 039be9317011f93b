"""From a plan to a pack in memory, and from there to a folder of files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from markupsafe import Markup

from packgen.booklet.client.logo import letterhead
from packgen.booklet.client.picture import Picture
from packgen.booklet.editions import sheets_of
from packgen.booklet.facts import PackFacts, band_of, pack_facts, see_in
from packgen.booklet.html import fill
from packgen.booklet.pack import Pack, Rendered, Written
from packgen.booklet.plan_json import plan_as_data
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets.first import words_room
from packgen.booklet.signless import signless_html
from packgen.booklet.tables import csv_tables
from packgen.booklet.words import words_used
from packgen.booklet.write import write_folder
from packgen.plan import Plan


def make_pack(plan: Plan, edition: str, logo: Picture | None = None) -> Pack:
    """Lays out all sheets of an edition as HTML, with the plan as data and as tables. Reads templates only.

    edition: "site" or "client". logo: the contractor's, read by client.logo.logo_of; only the client's pack shows it.
    """
    sheets = sheets_of(plan, edition)
    facts = pack_facts(plan, sheets)
    if logo is not None:
        facts = replace(facts, logo=letterhead(plan.project, logo))
    return Pack(edition, facts, render(plan, sheets, facts), plan_as_data(plan), csv_tables(plan))


def write_pack_files(pack: Pack, folder: Path, pdf: bool = True, also: Sequence[Pack] = ()) -> Written:
    """Writes the pack into `folder`, which is replaced whole or not at all. OSError where writing fails.

    also: other editions of the same plan, beside it.
    """
    return write_folder((pack, *also), folder, pdf)


def render(plan: Plan, sheets: tuple[Sheet, ...], facts: PackFacts) -> tuple[Rendered, ...]:
    """The sheets' bodies; the sheet that explains words last, since it explains only those that the others use."""
    bodies = {s.slug: body_of(s, facts) for s in sheets if not s.slug.startswith("first")}
    words = words_used(bodies.values(), [s.title for s in sheets], words_room(sheets, facts))
    told = replace(facts, words=words)
    bodies |= {s.slug: body_of(s, told) for s in sheets if s.slug not in bodies}
    return tuple(Rendered(n, s, band_of(plan, s), bodies[s.slug]) for n, s in enumerate(sheets, 1))


def body_of(sheet: Sheet, facts: PackFacts) -> Markup:
    """One sheet's body as HTML."""
    view = {**sheet.view, "sheet": sheet, "pack": facts, "see": see_in(facts.contents)}
    return Markup(signless_html(fill(f"sheets/{sheet.template}", view)))
