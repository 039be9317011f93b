"""The level book: what must not change, and the rules for closing, sharing and change points."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.survey.level_book import full_check, reduce_book, rises_and_falls, shared, sums

readings = st.dictionaries(st.sampled_from([f"{c}{r}" for c in "ABCD" for r in range(1, 9)]), st.integers(800, 2200))


def book_of(setup, first, second, close=1290.0):
    return [
        setup("S1", ("TBM", 1400.0), first, leave=("CP1", 1500.0)),
        setup("S2", ("CP1", 1390.0), second, close=("TBM", close)),
    ]


@given(readings, readings, st.randoms(use_true_random=False))
def test_the_order_of_the_readings_changes_no_level(setup, first, second, random) -> None:
    mixed = [list(first.items()), list(second.items())]
    for rows in mixed:
        random.shuffle(rows)
    straight = reduce_book(book_of(setup, first.items(), second.items()), {"TBM": 0.0})
    shuffled = reduce_book(book_of(setup, *mixed), {"TBM": 0.0})
    assert sorted(straight.sights) == sorted(shuffled.sights)


@given(readings, readings, st.integers(-5000, 5000))
def test_moving_the_datum_moves_every_level_by_as_much(setup, first, second, up) -> None:
    book = book_of(setup, first.items(), second.items())
    low, high = reduce_book(book, {"TBM": 0.0}), reduce_book(book, {"TBM": float(up)})
    assert [level + up for *_, level in low.sights] == pytest.approx([level for *_, level in high.sights])
    assert [r.misclosure_mm for r in low.runs] == [r.misclosure_mm for r in high.runs]


@given(readings, readings, st.integers(1284, 1296))
def test_the_arithmetic_checks_hold_for_any_book(setup, first, second, close) -> None:
    lines = reduce_book(book_of(setup, first.items(), second.items(), close), {"TBM": 0.0}).lines
    left, right = full_check(lines)
    assert left == right
    back, fore = sums(lines)
    rises, falls = rises_and_falls(lines)
    assert back - fore == rises - falls == lines[-1].raw_level_mm


def test_two_set_ups_two_high_at_the_end(setup) -> None:
    """Set-up 1 takes off 1, set-up 2 takes off 2; the change point goes with set-up 1."""
    book = book_of(setup, [("A1", 1510.0)], [("A1", 1400.0), ("B1", 1395.0)], close=1288.0)
    got = reduce_book(book, {"TBM": 0.0})
    assert got.runs[0].misclosure_mm == 2
    assert [s.correction_mm for s in got.setups] == [-1, -2]
    assert [(b.point, b.kind, b.level_mm) for b in got.lines] == [
        ("TBM", "back", 0),
        ("A1", "between", -111),
        ("CP1", "fore", -101),
        ("CP1", "back", -101),
        ("A1", "between", -112),
        ("B1", "between", -107),
        ("TBM", "fore", 0),
    ]


def test_one_set_up_that_closes_gives_the_whole_correction_to_each_reading(setup) -> None:
    got = reduce_book([setup("S1", ("TBM", 1400.0), [("A1", 1500.0)], close=("TBM", 1401.0))], {"TBM": 0.0})
    assert got.runs[0].misclosure_mm == -1
    assert got.sights[0][3] == -99


def test_a_book_that_never_comes_back_has_no_misclosure(setup) -> None:
    book = [
        setup("S1", ("TBM", 1400.0), [("A1", 1500.0)], leave=("CP1", 1450.0)),
        setup("S2", ("CP1", 1300.0), [("B1", 1310.0)]),
    ]
    got = reduce_book(book, {"TBM": 0.0})
    assert [r.misclosure_mm for r in got.runs] == [None]
    assert [level for *_, level in got.sights] == [-100, -60]


def test_each_run_from_the_datum_is_closed_by_itself(setup) -> None:
    book = [
        setup("S1", ("TBM", 1400.0), [("A1", 1500.0)], close=("TBM", 1400.0)),
        setup("S2", ("TBM", 1350.0), [("A5", 1500.0)], leave=("CP1", 1400.0)),
        setup("S3", ("CP1", 1300.0), [("A9", 1300.0)], close=("TBM", 1252.0)),
    ]
    got = reduce_book(book, {"TBM": 0.0})
    assert [r.misclosure_mm for r in got.runs] == [0, -2]
    assert [s.correction_mm for s in got.setups] == [0, 1, 2]


def test_a_set_up_may_start_on_a_spot_already_levelled(setup) -> None:
    book = [
        setup("S1", ("TBM", 1400.0), [("C4", 1480.0)]),
        setup("S2", ("C4", 1500.0), [("D4", 1490.0)], close=("TBM", 1420.0)),
    ]
    got = reduce_book(book, {"TBM": 0.0})
    assert got.setups[1].start_level_mm == -80
    assert got.sights[1][3] == -70


@given(st.integers(-30, 30), st.integers(1, 12))
def test_shares_run_from_the_first_to_the_whole_without_turning_back(misclosure, n) -> None:
    steps = [shared(misclosure, k, n) for k in range(1, n + 1)]
    assert steps[-1] == -misclosure
    assert sorted(steps, key=abs) == steps
    assert all(abs(s - -misclosure * k / n) <= 0.5 for k, s in enumerate(steps, 1))
