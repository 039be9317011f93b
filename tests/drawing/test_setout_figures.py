"""Set-out figures: the drawing and the table say the same, each from one corner, skew seen in two different numbers."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable
from xml.etree import ElementTree

import pytest

from packgen.booklet.drawing.dims import line_hits, rank
from packgen.booklet.drawing.labels import width
from packgen.booklet.sheets import setout
from packgen.plan import Plan


def words_on(svg: str) -> set[str]:
    found: set[str] = set()
    for text in ElementTree.fromstring(svg).findall(".//{*}text"):
        found.update((text.text or "").replace("\u00a0", " ").split())
    return found


def test_every_line_is_in_the_table_with_its_two_figures(any_plan: Plan) -> None:
    rows: dict[str, tuple[str, ...]] = {}
    for sheet in setout.sheets(any_plan):
        for side in ("left", "right"):
            table = sheet.view[side]
            if table is not None:
                rows |= {r.cells[0]: r.cells for r in table.rows}  # type: ignore[attr-defined]
    assert set(rows) == {ln.name for ln in any_plan.layout.lines}
    for line in any_plan.layout.lines:
        first, second = (int(re.match(r"\d+", c).group()) for c in rows[line.name][1:3])  # type: ignore[union-attr]
        assert first == pytest.approx(line.first_mm, abs=0.5001)
        assert second == pytest.approx(line.second_mm, abs=0.5001)


def test_the_drawing_bears_every_mark_and_the_figures_on_wall_1(any_plan: Plan) -> None:
    for room in any_plan.survey.rooms:
        drawn: set[str] = set()
        for sheet in setout.sheets(any_plan):
            if sheet.view["drawing"]:
                drawn |= words_on(str(sheet.view["drawing"]))
        for line in (ln for ln in any_plan.layout.lines if ln.room == room.name):
            assert line.name in drawn
            if line.first_wall == "wall 1":
                assert str(round(line.first_mm)) in drawn, line.name


def test_hits_lie_on_their_walls_at_their_distance(any_plan: Plan) -> None:
    for room in any_plan.survey.rooms:
        walls = {w.name: w for w in room.walls}
        for hit in line_hits(any_plan, room):
            line = walls[hit.wall].line
            assert math.dist(line.a, hit.at) + math.dist(hit.at, line.b) == pytest.approx(line.length_mm, abs=0.01)
            assert math.dist(hit.corner, hit.at) == pytest.approx(hit.along_mm, abs=0.01)


def test_a_skew_room_shows_it(plan_named: Callable[[str], Plan]) -> None:
    lines = [ln for ln in plan_named("08").layout.lines if ln.kind == "lettered"]
    assert any(round(ln.first_mm) != round(ln.second_mm) for ln in lines)


@pytest.mark.parametrize("size", [4.94, 3.9, 3.2])
def test_figures_never_lie_on_each_other(size: float) -> None:
    places = [1.0, 13.0, 25.0, 27.6, 37.0, 61.0, 61.5, 73.0]
    figures = ["50", "650", "1250", "1380", "1850", "3050", "3075", "3650"]
    found = rank(places, figures, True, size)
    spots = sorted(zip(found.figures, found.places, figures, strict=True))
    for (row, at, text), (next_row, next_at, next_text) in itertools.pairwise(spots):
        if row == next_row:
            assert next_at - at >= (width(text, size, True) + width(next_text, size, True)) / 2


def test_the_3_4_5_check_is_one(any_plan: Plan) -> None:
    for sheet in setout.sheets(any_plan):
        for step in sheet.view["steps"]:  # type: ignore[union-attr]
            found = re.search(r"Square: from \S+ (\d+) .* and (\d+) .* must be (\d+)", step)
            if found:
                a, b, c = (int(v) for v in found.groups())
                assert a * a + b * b == c * c
