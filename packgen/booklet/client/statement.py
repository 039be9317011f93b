"""The method statement: the first page, then all sections in the order of the edition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import ModuleType

from packgen.booklet.client import (
    acceptance,
    assumptions,
    base,
    client,
    document,
    drawings,
    environment,
    exclusions,
    materials,
    method,
    options,
    people,
    price,
    programme,
    quality,
    risks,
    scope,
    signoffs,
    unconfirmed,
    variations,
)
from packgen.booklet.client.blocks import Drawn, Heading, Laid, Section, Shown, resolved
from packgen.booklet.client.pages import ROOM_MM, Page, flow
from packgen.booklet.drawing.labels import width
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import POINT_MM, lines_of, printable
from packgen.core.figures import listed
from packgen.plan import Plan

MOST_SHEETS, MOST_RANK = 14, 5
BESIDE_MM, LEAST_BESIDE_MM = 64.0, 60.0  # for the project beside the longest title in one line; in several
TITLE_LINE_MM, NAME_LINE_MM, NAME_TOP_MM = 8.5, 4.5, 3.3
TITLE = "Method statement"
MODULES: dict[str, ModuleType] = {
    module.__name__.rsplit(".", 1)[1]: module
    for module in (
        *(unconfirmed, scope, drawings, assumptions, exclusions, base, method, people, programme, client, risks),
        *(materials, environment, quality, signoffs, options, price, variations, acceptance),
    )
}
PURPOSE = "The job on one page: parties, figures, what is open, and the section that has it."


def sheets(plan: Plan, keys: Sequence[str]) -> tuple[Sheet, ...]:
    """The first page, section 1, and the pages of the others. keys: modules of this room, the first page first."""
    sections = [_section(plan, key) for key in keys[1:]]
    lost = head_more_mm(plan)
    pages = _within(sections, ROOM_MM - lost)
    return (_first(plan, sections, pages), *_pages(sections, pages))


def head_more_mm(plan: Plan) -> float:
    """What a long project name takes from the pages: it stands beside the title, which then may take two lines."""
    info = plan.project.project
    revision = f"revision {info.revision}" if info.revision else ""
    text = " · ".join(part for part in (info.name, info.reference, revision) if part)
    if width(printable(text), 10 * POINT_MM) <= BESIDE_MM:
        return 0.0
    lines = lines_of(printable(text), 10, LEAST_BESIDE_MM)
    return max(TITLE_LINE_MM, NAME_TOP_MM + lines * NAME_LINE_MM - TITLE_LINE_MM)


def _within(sections: Sequence[Section], room_mm: float) -> tuple[Page, ...]:
    """The pages, in short form as far as it takes to stay within the sheets."""
    pages: tuple[Page, ...] = ()
    for rank in range(MOST_RANK + 1):
        pages = flow([replace(s, blocks=resolved(s.blocks, rank)) for s in sections], 2, room_mm)
        if len(pages) < MOST_SHEETS:
            break
    return pages


def _section(plan: Plan, key: str) -> Section:
    made: Section = MODULES[key].section(plan)
    return made


def _first(plan: Plan, sections: Sequence[Section], pages: Sequence[Page]) -> Sheet:
    at = {b.key: n for n, p in enumerate(pages, 2) for b in p.blocks if isinstance(b, Heading)}
    contents = tuple((str(n), s.title, anchor(s.key), at[s.key]) for n, s in enumerate(sections, 2))
    view = document.view(plan, contents, head_more_mm(plan))
    return Sheet("client", TITLE, PURPOSE, "client-first.html", view)


def _pages(sections: Sequence[Section], pages: Sequence[Page]) -> list[Sheet]:
    number = {s.key: n for n, s in enumerate(sections, 2)}
    title = {s.key: s.title for s in sections}
    heads = [(p.begins or p.sections)[0] for p in pages]
    made: list[Sheet] = []
    for k, page in enumerate(pages):
        key = heads[k]
        part = heads[: k + 1].count(key)
        slug = f"client-{key}" if part == 1 else f"client-{key}-{part}"
        view = {"blocks": [_shown(b) for b in page.blocks], "anchor": anchor}
        purpose = f"{TITLE}, {_named(page, number, title)}."
        made.append(Sheet(slug, title[key], purpose, "client-page.html", view, None, part, heads.count(key)))
    return made


def _shown(block: Laid) -> Laid | Shown:
    return Shown(block.make(), block.caption) if isinstance(block, Drawn) else block


def _named(page: Page, number: dict[str, int], title: dict[str, str]) -> str:
    """The sections that stand on a page: "section 7", "sections 8 to 10"."""
    here = sorted({number[k] for k in page.sections})
    if len(here) == 1:
        return f"section {here[0]}"
    if here == list(range(here[0], here[-1] + 1)):
        return f"sections {here[0]} to {here[-1]}" if len(here) > 2 else f"sections {here[0]} and {here[-1]}"
    return f"sections {listed([str(n) for n in here])}"


def anchor(key: str) -> str:
    """Where a section begins, for links."""
    return f"section-{key}"
