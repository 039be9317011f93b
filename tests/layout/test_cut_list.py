"""The cut list against listing every possibility, and what each bar must add up to."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.layout.cut_list import any_number, cut_list, fewest_bars, pair_bound, pair_up
from packgen.layout.model import Piece


def piece(name: str, length: int, cut: bool = True) -> Piece:
    return Piece(name, "A", (0.0, 0.0), (float(length), 0.0), length, cut, 1 if cut else 2)


def pieces(*lengths: int) -> list[Piece]:
    return [piece(f"p{i}", length) for i, length in enumerate(lengths)]


def least_pairs(lengths: tuple[int, ...], room: float) -> int:
    """Fewest bars of one or two pieces, by trying every partner of the first piece."""
    if not lengths:
        return 0
    first, rest = lengths[0], lengths[1:]
    alone = least_pairs(rest, room)
    paired = [least_pairs(rest[:i] + rest[i + 1 :], room) for i, other in enumerate(rest) if first + other <= room]
    return 1 + min([alone, *paired])


def least_bars(lengths: tuple[int, ...], stock: int, kerf: int) -> int:
    """Fewest bars, by trying each piece in every open bar and in a new one."""
    best = len(lengths)

    def go(i: int, room: tuple[int, ...]) -> None:
        nonlocal best
        if len(room) >= best:
            return
        if i == len(lengths):
            best = len(room)
            return
        need = lengths[i] + kerf
        for k, left in enumerate(room):
            if left >= need and left not in room[:k]:
                go(i + 1, (*room[:k], left - need, *room[k + 1 :]))
        go(i + 1, (*room, stock + kerf - need))

    go(0, ())
    return best


@settings(deadline=None)
@given(st.lists(st.integers(100, 600), max_size=8), st.sampled_from([0, 3]))
def test_two_pieces_a_bar_are_paired_as_well_as_can_be(lengths, kerf):
    down = sorted(lengths, reverse=True)
    bars = pair_up(down, 600, kerf)
    assert sorted(i for bar in bars for i in bar) == list(range(len(down)))
    assert all(len(bar) == 1 or sum(down[i] for i in bar) + kerf <= 600 for bar in bars)
    assert len(bars) == least_pairs(tuple(down), 600 - kerf) == pair_bound(down, 600, kerf)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.sampled_from([150, 260, 333, 410, 555, 720]), min_size=1, max_size=9), st.sampled_from([0, 3]))
def test_bounds_never_pass_the_least_number(lengths, kerf):
    down = sorted(lengths, reverse=True)
    least = least_bars(tuple(down), 1000, kerf)
    bars, bound = any_number(down, 1000, kerf)
    assert fewest_bars(down, 1000, kerf) <= bound <= least <= len(bars)
    assert all(sum(down[i] for i in bar) + kerf * (len(bar) - 1) <= 1000 for bar in bars)


@pytest.mark.parametrize(("kerf", "bars"), [(0.0, 1), (3.0, 2)])
@pytest.mark.parametrize("clipped", [True, False])
def test_two_halves_fit_only_where_the_saw_takes_nothing(kerf, bars, clipped):
    """2 x 50 from 100, the exact fit of the published note on saw cuts."""
    found = cut_list(pieces(50, 50), 100, kerf, clipped, 300)
    assert len(found.bars) == found.bound == bars
    assert found.proven


@pytest.mark.parametrize(
    ("lengths", "saw_cuts", "offcut"),
    [((300, 297), 1, 0), ((300, 290), 2, 4), ((300, 295), 1, 2), ((597,), 1, 0), ((599,), 0, 1), ((200,), 1, 397)],
)
def test_saw_cuts_of_a_bar(lengths, saw_cuts, offcut):
    """The last piece is cut off, unless it ends where the bar ends or less than a saw cut before."""
    (bar,) = cut_list(pieces(*lengths), 600, 3.0, True, 300).bars
    assert (bar.saw_cuts, bar.offcut_mm) == (saw_cuts, offcut)


def test_whole_stock_is_not_sawn_and_long_offcuts_are_kept():
    whole = [piece(f"w{i}", 600, cut=False) for i in range(3)]
    found = cut_list([*pieces(200, 500), *whole], 600, 3.0, True, 300)
    assert (found.whole, found.stock_lengths) == (3, 5)
    assert found.offcuts_kept_mm == (397,)


def test_a_piece_longer_than_the_stock_is_refused():
    with pytest.raises(ValueError, match="p0 of 601"):
        cut_list(pieces(601), 600, 3.0, True, 300)


def test_no_pieces_need_no_bars():
    found = cut_list([], 600, 3.0, False, 300)
    assert (found.stock_lengths, found.bound, found.proven) == (0, 0, True)


def test_fractions_of_a_saw_cut_count():
    """Three of 331.6 with saw cuts of 2.6 fill 1000 exactly: 3 x 331.6 + 2 x 2.6; whole mm pieces of 331 leave 1.8."""
    found = cut_list(pieces(331, 331, 331, 332, 332, 331), 1000, 2.6, False, 300)
    assert len(found.bars) == 2
    assert all(math.isclose(sum(b.lengths_mm) + b.saw_cuts * 2.6 + b.offcut_mm, 1000) for b in found.bars)
