"""Answers as pupils write them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packgen.exercise.answers import read_answer, show_answer
from packgen.exercise.blanks import make
from packgen.exercise.model import Blank, ClassSet, Way, Writing


def blank(writing: Writing, choices: tuple[str, ...] = ()) -> Blank:
    made = make("x", "level", "x", "x", "mm", lambda _: Way(0, "", "0"), writing=writing, choices=choices)
    return replace(made, number=1)


@pytest.mark.parametrize(
    ("writing", "text", "value", "sided"),
    [
        ("level", "103 below TBM", -103, True),
        ("level", "12 above", 12, True),
        ("level", "103 mm under", -103, True),
        ("level", "-103", -103, True),
        ("level", "103", 103, False),
        ("level", "same as TBM", 0, True),
        ("level", "below 90", -90, True),
        ("misclosure", "2 too high", 2, True),
        ("misclosure", "low 3", -3, True),
        ("correction", "take off 2", -2, True),
        ("correction", "add 1", 1, True),
        ("correction", "2", 2, False),
        ("number", "743 L", 743, True),
        ("number", "62,7 mm", 62.7, True),
        ("number", "1 461", 1461, True),
        ("number", "1,461 mm", 1461, True),
        ("number", "1.461", 1461, True),
        ("rise", "rise 5", 5, True),
        ("rise", "12 fall", -12, True),
        ("rise", "12", 12, False),
        ("level", "0,098 m below", -98, True),
        ("level", "12.1 cm below TBM", -121, True),
        ("level", "1542 - 1415 = 127 below", -127, True),
        ("misclosure", "two too low", -2, True),
        ("number", "1.461 m", 1461, True),
        ("number", "7.35 cm", 73.5, True),
        ("date", "Fri 21 Apr 2028", 740458, True),
        ("date", "2028-04-21", 740458, True),
    ],
)
def test_read(writing: Writing, text: str, value: float, sided: bool) -> None:
    found = read_answer(blank(writing), text)
    assert (found.value, found.sided) == (value, sided)


@pytest.mark.parametrize(
    ("text", "value"), [("743 L", 743), ("743", 743), ("0.743 m³", 743), ("0.743", 0.743), ("743 m3", 743_000)]
)
def test_litres_or_cubic_metres(text: str, value: float) -> None:
    litres = make("x", "volume", "x", "x", "L", lambda _: Way(0, "", "0"))
    assert read_answer(litres, text).value == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "value"), [("Extension", 1), ("ext", 1), ("does not fit", 2), ("stop", 2), ("plain leg", 0)]
)
def test_ticks(text: str, value: float) -> None:
    assert read_answer(blank("choice", ("plain", "extension", "does not fit")), text).value == value


@pytest.mark.parametrize("text", ["", "-", "?", "  "])
def test_nothing_written(text: str) -> None:
    found = read_answer(blank("level"), text)
    assert (found.value, found.unread) == (None, "")


@pytest.mark.parametrize(("writing", "text"), [("level", "somewhere"), ("date", "31 Feb 2028"), ("number", "a lot")])
def test_not_readable_is_told(writing: Writing, text: str) -> None:
    found = read_answer(blank(writing), text)
    assert (found.value, found.unread) == (None, text)


def test_what_is_shown_is_read_again(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        for b in v.blanks:
            assert read_answer(b, show_answer(b, v.right[b.id])).value == v.right[b.id]
