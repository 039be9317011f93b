"""The search for the first lines against brute force at 1 mm, and what a file can say about it."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.layout.merits import COUNTED, field_of, merits
from packgen.layout.offsets import best, picks, shifted, stays, worst
from packgen.project.work_model import FirstLines, Merit

BENCH = Path(__file__).parents[1] / "benchmarks" / "brute_grid.py"
ORDER = get_args(Merit)


@pytest.fixture(scope="module")
def brute():
    spec = importlib.util.spec_from_file_location("brute_grid", BENCH)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("seed", [3, 4, 5, 20])
def test_tables_and_choice_are_those_of_brute_force(brute, seed):
    """Every pair laid line by line; `tests/benchmarks/first_lines.py` does the same for 200 rooms."""
    ground, corner, aims = brute.room(seed)
    counted = brute.figures_of(ground, corner, aims)
    tables = merits(field_of(ground, corner, brute.SIZES, aims))
    for name in COUNTED:
        wanted = np.array([[counted[x, y][name] for y in range(brute.MODULE)] for x in range(brute.MODULE)])
        assert np.array_equal(tables[name], wanted), name
    at_worst = brute.worst_of(counted)
    live = np.ones((brute.MODULE, brute.MODULE), dtype=bool)
    for order in (ORDER, ("few legs", *ORDER), ("wide edges", "few cuts", *ORDER)):
        found = best(shifted(tables, brute.OFF), order, brute.PLAIN, live)
        assert found.firsts == brute.best_of(at_worst, order)


@pytest.mark.parametrize("seed", range(6, 18))
def test_the_short_way_never_keeps_a_plainest_that_is_not_best(brute, seed):
    ground, corner, aims = brute.room(seed)
    field = field_of(ground, corner, brute.SIZES, aims)
    live = np.ones((brute.MODULE, brute.MODULE), dtype=bool)
    found = best(shifted(merits(field), brute.OFF), ORDER, brute.PLAIN, live)
    if stays(field, ORDER, brute.PLAIN, brute.OFF):
        assert found.firsts == brute.PLAIN
    assert next(picks([field], ORDER, brute.PLAIN, brute.OFF)) == found


@settings(max_examples=20)
@given(st.integers(0, 10**6), st.integers(1, 6))
def test_the_worst_of_the_neighbours_goes_round_a_module(seed, off):
    table = np.random.default_rng(seed).integers(0, 50, (17, 23)).astype(float)
    x, y = seed % 17, seed % 23
    near = [table[(x + i) % 17, (y + j) % 23] for i in range(-off, off + 1) for j in range(-off, off + 1)]
    assert worst(table, off)[x, y] == max(near)


def test_pinned_lines_are_kept_and_the_search_says_so(box_room, kit, lay):
    firsts = FirstLines(along_wall_1=123.0, from_wall_1=77.0)
    layout = lay(box_room(3000, 2400), kit=kit(first_lines=firsts, prefer=()))
    (choice,) = layout.first_lines
    assert (choice.by, choice.chosen) == ("file", (123.0, 77.0))
    assert 123.0 in {line.at_mm for line in layout.lines}


def test_the_order_in_the_file_decides(box_room, kit, lay):
    """Lines at 50 in a room of 2000 leave strips of 40 and 140; with wide edges first all four are 60 and more, and 5
    more than that for setting out."""
    room = box_room(2000, 2000)
    plain = lay(room, kit=kit(prefer=("plain first lines",))).first_lines[0]
    assert plain.chosen == plain.plain == (50, 50)
    (wide,) = lay(room, kit=kit(prefer=("wide edges",))).first_lines
    assert wide.decided == "wide edges"
    assert all(first - 10 >= 60 + 5 and 200 - first - 10 >= 60 + 5 for first in wide.chosen)


def test_chosen_lines_are_never_worse_than_the_plainest_in_what_decided(box_room, kit, lay):
    for w, d in ((2300, 3100), (2750, 1900), (3333, 2222)):
        (choice,) = lay(box_room(w, d), kit=kit(prefer=())).first_lines
        for weighed in choice.weighed:
            if weighed.plain != weighed.chosen:
                assert weighed.chosen < weighed.plain
                break
