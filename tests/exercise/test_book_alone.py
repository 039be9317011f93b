"""A class exercise on levelling alone: the section asks for nothing but the book, and every sheet follows."""

from __future__ import annotations

import html
import re
from itertools import combinations

import pytest

from packgen.booklet.classroom.make import sheets_of
from packgen.booklet.classroom.pages import body_of
from packgen.booklet.classroom.teacher import teacher_sheets
from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet
from packgen.exercise.settings import settings_of
from packgen.project.model import Project

BOOK = ("height of collimation", "misclosure", "correction", "level")
ELSE = ("Heights and legs", "Fill", "In the real bay")


@pytest.fixture(scope="module")
def levelling(bay: Project) -> ClassSet:
    assert bay.exercise is not None
    asked = bay.exercise.model_copy(update={"blanks": BOOK})
    return choose_versions(bay.model_copy(update={"exercise": asked}), 8, 2)


@pytest.fixture(scope="module")
def rising(bay: Project) -> ClassSet:
    assert bay.exercise is not None
    asked = bay.exercise.model_copy(update={"blanks": ("rise and fall", *BOOK)})
    return choose_versions(bay.model_copy(update={"exercise": asked}), 3, 2)


def test_rises_and_falls_prove_the_book(rising: ClassSet) -> None:
    """The check of every handbook: the sum of rises less falls is what the book ends on; here, on its own start, the
    misclosure. Each stands in a box of the book."""
    for v in rising.versions:
        rises = [b for b in v.blanks if b.kind == "rise or fall"]
        assert len(rises) == len(v.case.spots) + len(v.case.setups)
        assert sum(v.right[b.id] for b in rises) == v.right["misclosure"]
        book = next(s for s in sheets_of(v, settings_of(rising.base), 2) if s.slug == "level-book")
        text = html.unescape(re.sub("<[^>]+>", " ", str(body_of(book))))
        assert "rise or fall" in text
        for b in rises:
            assert re.search(rf"(?<!\d){b.number}(?!\d)", text)
            for slip in b.slips:
                way = slip.work(v.known)
                assert way is None or way.value == -v.right[b.id]


def test_rise_and_fall_is_asked_only_by_name(levelling: ClassSet, bay_set: ClassSet) -> None:
    assert not [b for v in (*levelling.versions, *bay_set.versions) for b in v.blanks if b.kind == "rise or fall"]


def test_only_the_book_is_asked(levelling: ClassSet) -> None:
    for v in levelling.versions:
        assert {b.kind for b in v.blanks} == set(BOOK)
        sheets = sheets_of(v, settings_of(levelling.base), levelling.level)
        assert len(sheets) % 2 == 0
        assert not {s.title for s in sheets} & set(ELSE)
        text = html.unescape(" ".join(re.sub("<[^>]+>", " ", str(body_of(s))) for s in sheets))
        for word in ("bags", "Litres", "finished floor", "target", "rail top"):
            assert word not in text, word


def test_the_teachers_book_is_made(levelling: ClassSet) -> None:
    assert all(body_of(s) for s in teacher_sheets(levelling, settings_of(levelling.base)))


def test_misclosures_may_recur_and_nothing_else(levelling: ClassSet) -> None:
    """Two to three misclosures each way are all there are: eight pupils must share some; the book says so."""
    assert levelling.tally.shares_closing
    for a, b in combinations(levelling.versions, 2):
        ids = [x.id for x in a.blanks if x.kind in ("height of collimation", "level")]
        assert sum(a.right[id] == b.right.get(id) for id in ids) <= len(ids) / 8
