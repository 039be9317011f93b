"""Each sheet of this house's heart is one page, for rooms that the demo projects lack too; more would be refused."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

import pytest

from packgen.booklet.facts import pack_facts
from packgen.booklet.make import render
from packgen.booklet.pack import Pack
from packgen.booklet.paper import pages_of
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.templates import style, templates_folder
from packgen.plan import Plan

SHEETS = ("base", "datum", "setout", "parts", "pipes", "legs", "sections", "depths")


@pytest.mark.parametrize("name", ["corner-room", "two-zones"])
def test_every_sheet_is_one_page(name: str, plan_named: Callable[[str], Plan]) -> None:
    weasyprint, why = weasyprint_or_why()
    if weasyprint is None:
        pytest.skip(why or "")
    plan = plan_named(name)
    sheets = tuple(s for n in SHEETS for s in import_module(f"packgen.booklet.sheets.{n}").sheets(plan))
    facts = pack_facts(plan, sheets)
    pack = Pack("site", facts, render(plan, sheets, facts), {}, {})
    data = write_pdf(weasyprint, pages_of(pack), style("sheet.css") + style("print.css"), templates_folder())
    assert data.startswith(b"%PDF")
