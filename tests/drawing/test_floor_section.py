"""Sections through the whole floor: the depth they are drawn for is on them, and they agree with the surfaces."""

from __future__ import annotations

import re

from packgen.booklet.drawing.floor_section import floor_section
from packgen.core.figures import whole
from packgen.plan import Plan


def words_on(drawing: str) -> str:
    found = re.findall(r"<text[^>]*>([^<]*)</text>", drawing)
    return " ".join(found).replace("\u00a0", " ")


def test_the_thinnest_and_the_thickest_place_stand_on_their_sections(plan: Plan) -> None:
    depth = plan.heights.depth
    for at, mm in ((depth.least_at, depth.least_mm), (depth.most_at, depth.most_mm)):
        for way in ("along", "across"):
            section = floor_section(plan, at, way, "place", 178.0)  # type: ignore[arg-type]
            assert f" {whole(mm)} " in f" {words_on(str(section.drawing))} "
            assert section.high_mm < 60


def test_the_line_below_says_where_and_at_which_scale(plan: Plan) -> None:
    section = floor_section(plan, plan.heights.depth.least_at, "along", "smallest depth", 178.0)
    assert section.caption.startswith("Along wall 1, ")
    assert f"{whole(plan.heights.depth.least_at[1])} from wall 1" in section.caption
    assert re.search(r"Scale 1:\d+(, heights x \d+)?\.$", section.caption)
