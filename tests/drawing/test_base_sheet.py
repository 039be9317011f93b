"""The base: what has to come down is said in mm, every reading stands in the book, the check is printed."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from packgen.booklet.base_spots import spots
from packgen.booklet.sheets import base, datum
from packgen.plan import Plan


def test_the_attic_has_one_place_to_take_down(plan_named: Callable[[str], Plan]) -> None:
    highs, _ = spots(plan_named("01"))
    assert [(s.name, s.take_off_mm) for s in highs if s.take_off_mm] == [("C4", 4)]  # leg 42, 46 is the shortest


def test_nothing_comes_down_where_everything_fits(plan_named: Callable[[str], Plan]) -> None:
    for name in ("02", "05", "07"):
        highs, lows = spots(plan_named(name))
        assert highs
        assert lows
        assert not any(s.take_off_mm for s in highs)


def test_every_short_leg_on_a_reading_is_named(any_plan: Plan) -> None:
    read = {leg.node for leg in any_plan.heights.legs if leg.known == "read"}
    short = {
        leg.node
        for leg in any_plan.heights.legs
        if leg.node in read and not leg.fits and leg.leg_mm < any_plan.project.kit.shortest_leg.shortest
    }
    ids = {p.id for p in any_plan.survey.levels.points}
    named = {s.name for s in spots(any_plan)[0] if s.take_off_mm}
    assert short & ids <= named


def test_the_book_holds_every_reading_and_its_check(any_plan: Plan) -> None:
    pages = base.sheets(any_plan)
    cells = [row.cells for page in pages for t in page.view["tables"] for row in t.rows]  # type: ignore[union-attr]
    text = " ".join(" ".join(c) for c in cells)
    for line in any_plan.survey.levels.lines:
        read = (line.point, f"{line.reading_mm:.0f}")
        if line.kind == "between":
            assert any(read in pairwise(c) for c in cells), line
        else:
            assert " ".join(read) in text, line
    assert "arithmetic check of the book" in text
    assert "misclosure" in text


def test_blocks_at_all_doors_add_up(any_plan: Plan) -> None:
    rows = [row for page in datum.sheets(any_plan) if page.view["blocks"] for row in page.view["blocks"].rows]  # type: ignore[attr-defined]
    doors = [d.name for room in any_plan.survey.rooms for d in room.doors]
    assert [r.cells[0] for r in rows][: len(doors)] == doors
    for row in rows:
        if "=" in row.cells[2]:
            left, right = row.cells[2].split(" = ")
            assert sum(float(t.rsplit(" ", 1)[1]) for t in left.split(" + ")) == float(right) == float(row.cells[3])
