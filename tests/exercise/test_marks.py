"""Marks are whole and add up: to the sheet's total, and to the shares of method, answer and tidiness."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from packgen.exercise.marks import accepted, apportioned, marks_of, total_marks
from packgen.exercise.model import ClassSet
from packgen.exercise.settings import settings_of


@given(st.integers(0, 500), st.lists(st.integers(1, 9), min_size=1, max_size=60))
def test_largest_remainder(total: int, weights: list[int]) -> None:
    parts = apportioned(total, weights)
    exact = [total * w / sum(weights) for w in weights]
    assert sum(parts) == total
    assert all(math.floor(e + 1e-9) <= p <= math.ceil(e - 1e-9) for p, e in zip(parts, exact, strict=True))


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 5)), min_size=1, max_size=30), st.integers(0, 100))
def test_nothing_beyond_its_most(pairs: list[tuple[int, int]], total: int) -> None:
    most = [m for _, m in pairs]
    parts = apportioned(total, [w for w, _ in pairs], most)
    assert sum(parts) == min(total, sum(most))
    assert all(0 <= p <= m for p, m in zip(parts, most, strict=True))


def test_a_sheet_adds_up(bay_set: ClassSet) -> None:
    """The bay's file says 60, 30 and 10 per cent."""
    settings = settings_of(bay_set.base)
    for v in bay_set.versions:
        marks = marks_of(v.blanks, settings)
        total = total_marks(len(v.blanks))
        assert total % 50 == 0
        assert sum(m.method for m in marks.values()) == total * 60 // 100
        assert sum(m.answer for m in marks.values()) == total * 30 // 100
        assert sum(m.tidy for m in marks.values()) == total * 10 // 100
        assert all(min(m.method, m.answer, m.tidy) >= 0 and m.whole >= 1 for m in marks.values())


def test_what_is_accepted_is_rounded_inward(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        for blank in v.blanks:
            low, high = accepted(blank, v.right[blank.id])
            size, width = abs(v.right[blank.id]), blank.tolerance.mm(v.right[blank.id])
            assert size - width - 1e-9 <= low <= size <= high <= size + width + 1e-9
            assert round(low, blank.digits) == low
            assert round(high, blank.digits) == high
