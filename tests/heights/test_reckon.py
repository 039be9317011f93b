"""Sums of levels without minus signs: the terms add up on the side where the result lies."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.heights.reckon import level_sum, term


@pytest.mark.parametrize(
    ("terms", "numbers", "value", "side"),
    [
        ([0, -39], "0 + 39", 39, "mm below"),
        ([-20, -21], "20 + 21", 41, "mm below"),
        ([60, -18], "60 - 18", 42, "mm above"),
        ([4, -39], "39 - 4", 35, "mm below"),
        ([-82, 46, 39], "46 + 39 - 82", 3, "mm above"),
        ([18, -18], "18 - 18", 0, "mm above"),
    ],
)
def test_examples(terms, numbers, value, side):
    assert level_sum([term(t) for t in terms]) == (numbers, value, side)


@given(st.lists(st.integers(-200, 200), min_size=1, max_size=5))
def test_numbers_never_start_below_nothing_and_come_out(terms):
    numbers, value, side = level_sum([term(t) for t in terms])
    assert not numbers.startswith(("-", " -"))
    signed = value if side == "mm above" else -value
    assert signed == sum(terms)
    assert eval(numbers) == value
