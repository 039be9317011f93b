"""Long and hostile words of the project file neither overflow a page of the method statement nor do anything on it."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from packgen.booklet.make import make_pack
from packgen.booklet.pack import Pack
from packgen.booklet.paper import pages_of
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.templates import style, templates_folder
from packgen.plan import make_plan
from packgen.project.read import read_project

DEMO = (Path(__file__).parents[3] / "projects" / "02-extension-heated.yaml").read_text(encoding="utf-8")
LONG = "a long sentence of many words that goes on and on with commas and more until nobody reads it"
PARTY = "  reader: client\n  client: {0}\n  contractor:\n    name: {0}\n    address: {0} {0}\n"


def pack_of(text: str) -> Pack:
    read = read_project(text.encode(), "job.yaml")
    assert read.project is not None, read.faults
    return make_pack(make_plan(read.project), "client")


@pytest.mark.parametrize(
    ("typed", "instead"),
    [
        ("aim: a heated floor flush with the old kitchen tiles", f"aim: {LONG} {LONG} {LONG}"),
        ("name: Garden extension", f"name: {LONG}"),
        ("  reader: client\n", PARTY.format(LONG)),
        ("leads to: garden", f"leads to: {LONG}"),
        ("name: sliding door", f"name: {LONG}"),
        ("porcelain tile: 10", f"{LONG}: 10"),
        ("role: labourer", f"role: {LONG}"),
        ("item: wheelbarrow", f"item: {LONG}"),
    ],
)
def test_long_words_stay_on_their_page(typed: str, instead: str) -> None:
    """Without the rules for a sheet that is too full: what does not fit raises Overflow."""
    weasyprint, why = weasyprint_or_why()
    if weasyprint is None:
        pytest.skip(str(why))
    assert typed in DEMO
    pack = pack_of(DEMO.replace(typed, instead))
    assert write_pdf(weasyprint, pages_of(pack), style("sheet.css") + style("print.css"), templates_folder())
    assert len(pack.sheets) <= 14


def test_hostile_words_are_printed_as_typed() -> None:
    bad = "<script>alert(1)</script> & {{ 7 * 7 }}"
    text = DEMO.replace("name: Garden extension", f'name: "{bad}"')
    pack = pack_of(text.replace("  reader: client\n", PARTY.format(f'"{bad}"').replace(f'"{bad}" "{bad}"', f'"{bad}"')))
    for one in pack.sheets:
        assert "<script" not in str(one.body)
    assert bad in html.unescape(re.sub("<[^>]+>", " ", str(pack.sheets[0].body)))
