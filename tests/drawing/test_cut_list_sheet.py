"""The cut list on paper: every cut piece once, every bar's sum right, at most 24 bars a page."""

from __future__ import annotations

import re

from packgen.booklet.sheets import parts
from packgen.plan import Plan


def cut_rows(plan: Plan) -> list[list[tuple[str, ...]]]:
    """The rows of the cut list, page by page."""
    pages = []
    for sheet in parts.sheets(plan):
        here = sheet.view["tables"]
        assert isinstance(here, (list, tuple))
        pages += [[row.cells for row in t.rows] for t in here if t.caption.startswith("Cut list")]
    return pages


def test_every_cut_piece_once(any_plan: Plan) -> None:
    named = [name for page in cut_rows(any_plan) for row in page for name in re.findall(r"(\S+): \d+", row[1])]
    assert sorted(named) == sorted(p.id for p in any_plan.layout.pieces if p.cut)


def test_each_bar_adds_up(any_plan: Plan) -> None:
    for page in cut_rows(any_plan):
        for row in page:
            left, right = row[3].split(" = ")
            assert re.fullmatch(r"[\d. +x]+", left)
            total = sum(float(a) * float(b or 1) for a, _, b in (t.partition(" x ") for t in left.split(" + ")))
            assert total == float(right) in {b.stock_mm for b in any_plan.layout.cut_list.bars}
            lengths = [int(mm) for mm in re.findall(r": (\d+)", row[1])]
            assert [float(t) for t in left.split(" + ")[: len(lengths)]] == lengths


def test_at_most_24_bars_a_page(any_plan: Plan) -> None:
    assert all(len(page) <= 24 for page in cut_rows(any_plan))


def test_rails_name_all_their_pieces(any_plan: Plan) -> None:
    pieces = {p.id: p for p in any_plan.layout.pieces}
    for sheet in parts.sheets(any_plan):
        for table in sheet.view["tables"]:  # type: ignore[union-attr]
            if not table.caption.startswith("Rails"):
                continue
            for row in (r for r in table.rows if not r.title):
                rail = next(r for r in any_plan.layout.rails if r.id == row.cells[0])
                runs = row.cells[2].split("; ")
                whole = sum(int(n.group(1)) for run in runs if (n := re.search(r", (\d+) whole$", run)))
                whole += sum(bool(re.fullmatch(r"\S+ whole", run)) for run in runs)
                cut = len(re.findall(r" cut \d+", row.cells[2]))
                assert cut == sum(pieces[p].cut for p in rail.pieces)
                assert whole == sum(not pieces[p].cut for p in rail.pieces)
