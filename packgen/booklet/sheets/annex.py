"""The last three lists one after the other, so that the tail of one does not cost a page of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

from packgen.booklet.flow import Rest
from packgen.booklet.rows import BODY_MM, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets import assumed, findings, worked
from packgen.plan import Plan

MOST_OF_A_PAGE = 0.6  # what a tail may take of the next list's first page

Pages = list[list[Table]]


@dataclass(frozen=True, slots=True)
class _Joined:
    """The pages of the three lists, and the tails that stand on the next list's first page."""

    assumed: Pages
    findings: Pages
    worked: Pages
    rests: tuple[Rest | None, Rest | None]

    @property
    def count(self) -> int:
        return len(self.assumed) + len(self.findings) + len(self.worked)


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Assumed values, findings, worked arithmetic: with as few tails carried over as make the fewest pages."""
    ways = [_joined(plan, *carried) for carried in product((False, True), repeat=2)]
    best = min((w for w in ways if w is not None), key=lambda w: (w.count, sum(r is not None for r in w.rests)))
    return (
        *assumed.sheets(plan, best.assumed),
        *findings.sheets(best.findings, best.rests[0]),
        *worked.sheets(best.worked, best.rests[1]),
    )


def _joined(plan: Plan, first: bool, second: bool) -> _Joined | None:
    """The lists with the first and the second tail carried over or not; None where one cannot be."""
    one = assumed.pages(plan)
    after_one = _carried(assumed.TITLE, one, lambda mm: findings.pages(plan, mm), first)
    if after_one is None:
        return None
    one, two, rest_one = after_one
    after_two = _carried(findings.TITLE, two, lambda mm: worked.pages(plan, mm), second)
    if after_two is None:
        return None
    two, three, rest_two = after_two
    return _Joined(one, two, three, (rest_one, rest_two))


def _carried(
    title: str, pages: Pages, after: Callable[[float], Pages], carry: bool
) -> tuple[Pages, Pages, Rest | None] | None:
    """The pages, those of the list after them, and the tail. A list keeps its first page: its name is found there."""
    if not carry:
        return pages, after(0.0), None
    rest = Rest(title, tuple(pages[-1]))
    if len(pages) == 1 or rest.height_mm > BODY_MM * MOST_OF_A_PAGE:
        return None
    following = after(rest.height_mm)
    return (pages[:-1], following, rest) if following[0] or len(following) == 1 else None
