"""A case becomes numbered blanks: what is asked at a level of difficulty, what is given instead, in working order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from packgen.exercise.model import Blank, Case
from packgen.exercise.questions_book import book_blanks
from packgen.exercise.questions_fill import fill_blanks
from packgen.exercise.questions_height import height_blanks
from packgen.exercise.settings import Settings
from packgen.exercise.ways_book import line_id

LEVELS = (1, 2, 3)
NAMED = ("rise or fall",)  # asked only where the file names it: the line of the laser gives the levels without it
LATER = ("dry weight", "fresh weight", "drying", "date")  # asked at level 3 only, without being named in the file


@dataclass(frozen=True)
class Posed:
    """An exercise: its blanks, what is given instead of asked, and the right answers, both by blank id."""

    blanks: tuple[Blank, ...]
    given: Mapping[str, float]
    right: Mapping[str, float]

    @property
    def known(self) -> dict[str, float]:
        """All that is known when every answer is right."""
        return {**self.given, **self.right}


def all_blanks(case: Case, settings: Settings) -> tuple[Blank, ...]:
    """Every blank that a case could have, unnumbered, with the file's tolerances."""
    made = (*book_blanks(case), *height_blanks(case), *fill_blanks(case))
    return tuple(replace(b, tolerance=settings.tolerances[b.kind]) for b in made)


def pose(case: Case, settings: Settings, level: int) -> Posed:
    """The blanks of a case in working order, numbered from 1, none whose start is neither asked nor given; and what is
    printed instead of asked: the first line where others follow, at level 1 all corrections."""
    known: dict[str, float] = {}
    given: dict[str, float] = {}
    asked: list[Blank] = []
    there: set[str] = set()
    for blank in all_blanks(case, settings):
        known[blank.id] = blank.work(known).value
        if _given(blank, case, settings, level):
            given[blank.id] = known[blank.id]
            there.add(blank.id)
        elif _asked(blank, settings, level) and all(n in there for n in blank.needs):
            asked.append(replace(blank, number=len(asked) + 1))
            there.add(blank.id)
    return Posed(tuple(asked), given, {b.id: known[b.id] for b in asked})


def _asked(blank: Blank, settings: Settings, level: int) -> bool:
    if blank.kind in NAMED:
        return settings.kinds is not None and settings.asks(blank.kind)
    if blank.kind in LATER:
        return level == 3
    if blank.kind == "hold" and level == 1:
        return False
    if blank.id.startswith("point/"):
        return settings.asks("height of collimation") or settings.asks("level")
    return settings.asks(blank.kind)


def _given(blank: Blank, case: Case, settings: Settings, level: int) -> bool:
    """The first line is the backsight itself where the datum is 0: it is shown as the example of the others."""
    if blank.kind == "height of collimation":
        first = case.setups[0]
        shown = blank.id == line_id(first.name) and len(case.setups) > 1
        return shown or not settings.asks("height of collimation")
    if blank.kind in ("misclosure", "correction"):
        return level == 1 or not settings.asks(blank.kind)
    return False
