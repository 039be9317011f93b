"""Pieces of a rail: clipped on legs, or long bars jointed at legs."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.layout.rails import clipped_pieces, jointed_pieces


def spans(pieces):
    return [(p.lo, p.hi) for p in pieces]


@pytest.mark.parametrize(
    ("lo", "hi", "legs", "wanted"),
    [
        # 40 beyond the first leg cannot be laid with a whole piece, 40 beyond the last leg goes with a short one
        (10, 1790, [50, 650, 1250, 1750], [(50, 650), (650, 1250), (1250, 1790)]),
        # the last piece has no room for the run-on: the rail ends over the leg
        (10, 1950, [50, 650, 1250, 1850], [(50, 650), (650, 1250), (1250, 1850)]),
        # a leg between two crossings is passed over by a whole piece
        (50, 1250, [50, 250, 650, 1250], [(50, 650), (650, 1250)]),
        # a rail over two legs that is shorter than the stock is one piece
        (10, 490, [50, 450], [(10, 490)]),
        # one leg: one piece across it
        (10, 200, [100], [(10, 200)]),
    ],
)
def test_pieces_of_one_module(lo, hi, legs, wanted):
    assert spans(clipped_pieces(lo, hi, legs, [600], 150)) == wanted


def test_a_run_on_of_the_smallest_piece_is_laid():
    """Where the kit allows pieces of 100, the 120 beyond the last leg are one of them, clipped at that leg."""
    pieces = clipped_pieces(50, 1370, [50, 650, 1250], [600], 100)
    assert spans(pieces)[-1] == (1250, 1370)
    assert [(p.whole, p.factory_ends) for p in pieces] == [(True, 2), (True, 2), (False, 1)]


def test_lengths_are_rounded_down_to_whole_mm():
    (piece,) = clipped_pieces(10.0, 490.9, [50, 450], [600], 150)
    assert piece.mm == 480


@given(st.lists(st.integers(60, 600), min_size=1, max_size=12), st.integers(0, 150), st.integers(0, 150), st.booleans())
def test_pieces_follow_each_other_and_fit_the_stock(gaps, before, after, clipped):
    legs = [0]
    for gap in gaps:
        legs.append(legs[-1] + gap)
    lo, hi = -before, legs[-1] + after
    stock = 600 if clipped else 2000
    pieces = clipped_pieces(lo, hi, legs, [stock], 150) if clipped else jointed_pieces(lo, hi, legs, [stock], 150, 100)
    assert all(p.hi == q.lo for p, q in pairwise(pieces))
    assert all(0 < p.hi - p.lo <= stock for p in pieces)
    assert lo <= pieces[0].lo <= legs[0]
    assert legs[-1] <= pieces[-1].hi <= hi
    for p in pieces[:-1]:
        assert min(abs(p.hi - leg) for leg in legs) <= (0 if clipped else 100)
    if not clipped:
        assert (pieces[0].lo, pieces[-1].hi) == (lo, hi)


def test_long_bars_meet_near_a_leg_and_stay_whole_where_they_can():
    """Bars of 3000 from 10 on end at 3010, 40 from the leg at 3050, and so on: no bar is cut but the last."""
    legs = [50 + 600 * k for k in range(17)]
    pieces = jointed_pieces(10, 9690, legs, [3000], 150, 100)
    assert spans(pieces) == [(10, 3010), (3010, 6010), (6010, 9010), (9010, 9690)]
    assert [p.whole for p in pieces] == [True, True, True, False]


def test_no_short_end_where_the_bar_before_can_be_cut_instead():
    """3080 from bars of 3000: 3000 + 80 would tip; cut at the last leg but one instead."""
    legs = [50, 650, 1250, 1850, 2450, 3050]
    pieces = jointed_pieces(0, 3080, legs, [3000], 150, 100)
    assert len(pieces) == 2
    assert all(p.hi - p.lo >= 150 for p in pieces)
