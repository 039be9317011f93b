"""Large floors have long names and long lines: no name is broken in its column, no line of legs overruns a sheet."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from packgen.booklet.leg_lines import MOST_IN_BLOCK, in_parts
from packgen.booklet.rows import SIDE_MM, widest_mm
from packgen.booklet.textsize import lines_of
from packgen.heights.model import LegSetting


def test_a_column_is_as_wide_as_its_widest_name() -> None:
    names = ("A1", "AC/ACa-21a/22b", "BFbo10b")
    wide = widest_mm(names, 12.0)
    assert all(lines_of(name, 10, wide - SIDE_MM) == 1 for name in names)
    assert widest_mm(("A1",), 20.0) == 20.0


def line_of(count: int) -> list[LegSetting]:
    leg = LegSetting("A1", "hall", -90, "read", 0.0, -20, 70, "plain", 0, 0.0, True, 0, None, False, 1, 70.0, along="A")
    return [replace(leg, node=f"A{k}") for k in range(count)]


def test_a_long_line_of_legs_is_parted_where_the_straightedge_is_laid_anew() -> None:
    line = line_of(60)
    laid = {leg.node: (f"A{k // 4 * 4}", f"A{k // 4 * 4 + 4}") for k, leg in enumerate(line)}
    parts = in_parts(line, laid)
    assert [leg for part in parts for leg in part] == line
    assert max(map(len, parts)) <= MOST_IN_BLOCK
    assert all(laid[a[-1].node] != laid[b[0].node] for a, b in pairwise(parts))


def test_a_line_that_fits_one_block_stays_whole() -> None:
    line = line_of(MOST_IN_BLOCK)
    assert in_parts(line, {}) == [line]
