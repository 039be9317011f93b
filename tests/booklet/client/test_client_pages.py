"""Sections flow over pages: nothing is lost, nothing overflows, no heading ends a page, drawings find a place."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markupsafe import Markup

from packgen.booklet.client.blocks import Block, Drawing, Drawn, Heading, Rows, Section, Text
from packgen.booklet.client.order import CLIENT
from packgen.booklet.client.pages import ROOM_MM, flow
from packgen.booklet.dense import GAP_MM, Desk
from packgen.booklet.paper import pages_of
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.rows import Column, Row
from packgen.booklet.templates import style, templates_folder
from tests.conftest import planned  # type: ignore[import-not-found]


def test_sheets_are_eight_to_fourteen_and_sections_stand_in_order(statement: Any) -> None:
    assert 8 <= len(statement.pack.sheets) <= 14
    anchors = re.findall(r'<h2[^>]*id="section-([a-z]+)">(\d+)', statement.body)
    assert anchors == [(key, str(n)) for n, key in enumerate(CLIENT, 1)]


def test_links_lead_to_a_section_and_name_its_sheet(statement: Any, read_words: Any) -> None:
    links = re.findall(r'<a href="#([^"]+)">(.*?)</a>', str(statement.pack.sheets[0].body))
    assert len(links) == len(CLIENT) - 1
    for anchor, text in links:
        sheet = next(s for s in statement.pack.sheets if f'id="{anchor}"' in str(s.body))
        assert read_words(text).endswith(f", {sheet.number}")


def test_sections_named_in_sentences_exist(statement: Any) -> None:
    for number in re.findall(r"\bsections? (\d+)", statement.words):
        assert 1 <= int(number) <= len(CLIENT)


def test_slugs_are_unique_and_no_site_sheet_is_among_them(statement: Any) -> None:
    slugs = [s.sheet.slug for s in statement.pack.sheets]
    assert len(set(slugs)) == len(slugs)
    assert all(slug == "client" or slug.startswith("client-") for slug in slugs)
    assert not any(s.band for s in statement.pack.sheets)


@pytest.mark.parametrize("name", ["01-attic-studio", "02-extension-heated", "05-terrace-with-falls"])
def test_each_sheet_is_one_page_without_closing_up(statement_named: Any, name: str) -> None:
    """Without the rules for a sheet that is too full: what does not fit raises Overflow."""
    weasyprint, why = weasyprint_or_why()
    if weasyprint is None:
        pytest.skip(str(why))
    css = style("sheet.css") + style("print.css")
    data = write_pdf(weasyprint, pages_of(statement_named(name).pack), css, templates_folder())
    assert data.startswith(b"%PDF")


def test_same_plan_same_statement() -> None:
    from packgen.booklet.make import make_pack

    plan = planned("02-extension-heated")
    assert [s.body for s in make_pack(plan, "client").sheets] == [s.body for s in make_pack(plan, "client").sheets]


# ------------------------------------------------------------------------------ any content

word = st.text(alphabet="abcdefgh ", min_size=1, max_size=90)
tables = st.lists(st.tuples(word, word), min_size=1, max_size=40).map(
    lambda cells: Rows(Desk((Column("a", width_mm=60), Column("b")), tuple(Row(c, "light") for c in cells)))
)
texts = st.builds(Text, word, st.booleans())
heights = st.floats(20, 110)
drawings = heights.map(
    lambda high: Drawing(lambda mm: Markup(f'<svg height="{mm}mm">'), lambda mm: mm, "drawing", high, high + 30)
)
sections = st.lists(st.lists(st.one_of(tables, texts, drawings), min_size=1, max_size=6), min_size=1, max_size=8).map(
    lambda many: [Section(f"s{i}", f"Section {i}", tuple(blocks)) for i, blocks in enumerate(many)]
)


def cells_of(blocks: list[Block]) -> list[tuple[str, ...]]:
    return [row.cells for b in blocks if isinstance(b, Rows) for row in b.table.rows]


@settings(max_examples=150, deadline=None)
@given(sections)
def test_any_sections_flow_without_loss(made: list[Section]) -> None:
    pages = flow(made, 2)
    for page in pages:
        used = sum(b.height_mm for b in page.blocks)
        assert used - GAP_MM <= ROOM_MM + 1e-6 or len(page.blocks) == 1
        assert (
            not isinstance(page.blocks[-1], Heading)
            or page is pages[-1]
            or _only_drawings_follow(made, page.blocks[-1])
        )
    laid = [b for page in pages for b in page.blocks]
    assert cells_of(laid) == cells_of([b for s in made for b in s.blocks])
    assert [b.text for b in laid if isinstance(b, Text)] == [
        b.text for s in made for b in s.blocks if isinstance(b, Text)
    ]
    drawn = [b for b in laid if isinstance(b, Drawn)]
    asked = [b for s in made for b in s.blocks if isinstance(b, Drawing)]
    assert len(drawn) == len(asked)
    for b, d in zip(drawn, asked, strict=True):
        assert d.least_mm - 1e-6 <= b.drawing_mm <= d.most_mm + 1e-6
    assert [b.number for b in laid if isinstance(b, Heading)] == list(range(2, len(made) + 2))


def _only_drawings_follow(made: list[Section], heading: Heading) -> bool:
    """A section of nothing but drawings: they may stand on the next page, its heading here."""
    section = next(s for s in made if s.key == heading.key)
    return isinstance(section.blocks[0], Drawing)
