"""Section details: how the edges of this floor look."""

from __future__ import annotations

import re

from packgen.booklet.drawing.section import Section, all_sections
from packgen.booklet.rows import BODY_MM
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.plan import Plan

A_PAGE = 4
HEAD_MM = 7.0
GAP_MM = 4.0
PURPOSE = "How the edges look, from this job's own figures. Heights are not stretched."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Up to four details a page, in the order in which they are met."""
    details = all_sections(plan)
    pages = _packed(details, A_PAGE)
    if len(pages) > 1:
        pages = min((_packed(details, n) for n in (-(-len(details) // len(pages)), A_PAGE)), key=len)
    return tuple(
        Sheet(
            slug="sections" if k == 1 else f"sections-{k}",
            title="Section details",
            purpose=PURPOSE,
            template="sections.html",
            view={"details": [_view(n, one) for n, one in page]},
            part=k,
            parts=len(pages),
        )
        for k, page in enumerate(pages, 1)
        if page
    )


def _packed(details: tuple[Section, ...], most: int) -> list[list[tuple[int, Section]]]:
    """Details on pages in order, so many at most on each."""
    pages: list[list[tuple[int, Section]]] = [[]]
    left = BODY_MM
    for n, one in enumerate(details, 1):
        high = _height(one)
        if pages[-1] and (high > left or len(pages[-1]) == most):
            pages.append([])
            left = BODY_MM
        pages[-1].append((n, one))
        left -= high
    return pages


def _view(number: int, one: Section) -> dict[str, object]:
    return {
        "title": f"{number}  {one.title}",
        "drawing": one.drawing,
        "sums": _caption(one),
    }


def _caption(one: Section) -> str:
    return f"Scale 1:{one.scale}. {one.sums[:1].upper()}{one.sums[1:]}."


def _height(one: Section) -> float:
    """Title, drawing, and the line with scale and sum, as the template sets them."""
    found = re.search(r'height="([\d.]+)mm"', str(one.drawing))
    drawn = float(found.group(1)) if found else 50.0
    return HEAD_MM + drawn + 1.0 + lines_of(_caption(one), 10, 178) * 4.5 + GAP_MM
