"""The cut list against listing every possibility, and what each bar must add up to."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.layout.best_fit import fewest_bars, pair_bound, pair_up
from packgen.layout.cut_list import cut_list, least_stock
from packgen.layout.model import Piece, Stock


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
    bars, bound = least_stock(down, [Stock(1000)], kerf, False)
    assert fewest_bars(down, 1000, kerf) * 1000 <= bound == least * 1000 == len(bars) * 1000
    assert all(sum(down[i] for i in bar.pieces) + kerf * (len(bar.pieces) - 1) <= 1000 for bar in bars)


@pytest.mark.parametrize(("kerf", "bars"), [(0.0, 1), (3.0, 2)])
@pytest.mark.parametrize("clipped", [True, False])
def test_two_halves_fit_only_where_the_saw_takes_nothing(kerf, bars, clipped):
    """2 x 50 from 100, the exact fit of the published note on saw cuts."""
    found = cut_list(pieces(50, 50), [Stock(100)], kerf, clipped, 300)
    assert len(found.bars) == found.bound == bars
    assert found.proven


@pytest.mark.parametrize(
    ("lengths", "saw_cuts", "offcut"),
    [((300, 297), 1, 0), ((300, 290), 2, 4), ((300, 295), 1, 2), ((597,), 1, 0), ((599,), 0, 1), ((200,), 1, 397)],
)
def test_saw_cuts_of_a_bar(lengths, saw_cuts, offcut):
    """The last piece is cut off, unless it ends where the bar ends or less than a saw cut before."""
    (bar,) = cut_list(pieces(*lengths), [Stock(600)], 3.0, True, 300).bars
    assert (bar.saw_cuts, bar.offcut_mm) == (saw_cuts, offcut)


def test_whole_stock_is_not_sawn_and_long_offcuts_are_kept():
    whole = [piece(f"w{i}", 600, cut=False) for i in range(3)]
    found = cut_list([*pieces(200, 500), *whole], [Stock(600)], 3.0, True, 300)
    assert (found.whole, found.stock_lengths) == (3, 5)
    assert found.offcuts_kept_mm == (397,)


def test_a_piece_longer_than_the_stock_is_refused():
    with pytest.raises(ValueError, match="p0 of 601"):
        cut_list(pieces(601), [Stock(600)], 3.0, True, 300)


def test_no_pieces_need_no_bars():
    found = cut_list([], [Stock(600)], 3.0, False, 300)
    assert (found.stock_lengths, found.bound, found.proven) == (0, 0, True)


def test_fractions_of_a_saw_cut_count():
    """Three of 331.6 with saw cuts of 2.6 fill 1000 exactly: 3 x 331.6 + 2 x 2.6; whole mm pieces of 331 leave 1.8."""
    found = cut_list(pieces(331, 331, 331, 332, 332, 331), [Stock(1000)], 2.6, False, 300)
    assert len(found.bars) == 2
    assert all(math.isclose(sum(b.lengths_mm) + b.saw_cuts * 2.6 + b.offcut_mm, 1000) for b in found.bars)


def least_bought(lengths: list[int], bought: list[int], hand: list[int], kerf: float, clipped: bool) -> int:
    """Least mm of stock bought, by trying each piece in every open bar, every offcut at hand and every new bar."""
    best = sum(lengths) * 100

    def go(i: int, bars: list[tuple[float, bool]], hand: list[int], spent: int) -> None:
        nonlocal best
        if spent >= best:
            return
        if i == len(lengths):
            best = spent
            return
        need = lengths[i] + kerf
        for k, (left, more) in enumerate(bars):
            if more and left >= need:
                go(i + 1, [*bars[:k], (left - need, not clipped), *bars[k + 1 :]], hand, spent)
        for k, offcut in enumerate(hand):
            if offcut + kerf >= need:
                go(i + 1, [*bars, (offcut + kerf - need, not clipped)], [*hand[:k], *hand[k + 1 :]], spent)
        for stock in bought:
            if stock + kerf >= need:
                go(i + 1, [*bars, (stock + kerf - need, True)], hand, spent + stock)

    go(0, [], hand, 0)
    return best


LENGTHS = st.one_of(st.integers(100, 1200), st.sampled_from([250, 300, 400, 597]))


@settings(deadline=None, max_examples=60)
@given(
    st.lists(LENGTHS, min_size=1, max_size=6),
    st.lists(st.sampled_from([600, 1000, 1500]), max_size=2, unique=True),
    st.lists(st.sampled_from([300, 450, 700]), max_size=2),
    st.sampled_from([0.0, 3.0, 2.5]),
    st.booleans(),
)
def test_several_stock_lengths_and_offcuts_at_hand_against_every_list(lengths, more, hand, kerf, clipped):
    """Bars of two factory ends, offcuts of one; where pieces clip, each takes one."""
    down, bought = sorted(lengths, reverse=True), [1200, *more]
    stocks = [*(Stock(v, hand.count(v)) for v in sorted(set(hand))), *(Stock(v) for v in bought)]
    bars, bound = least_stock(down, stocks, kerf, clipped)
    assert sorted(i for bar in bars for i in bar.pieces) == list(range(len(down)))
    for bar in bars:
        assert sum(down[i] for i in bar.pieces) + kerf * (len(bar.pieces) - 1) <= bar.stock.length_mm
        assert not clipped or len(bar.pieces) <= (2 if bar.stock.number is None else 1)
    for stock in stocks:
        assert stock.number is None or sum(bar.stock == stock for bar in bars) <= stock.number
    spent = sum(bar.stock.length_mm for bar in bars if bar.stock.number is None)
    assert spent == bound == least_bought(down, bought, hand, kerf, clipped)


def test_the_shorter_stock_is_taken_where_it_wastes_less():
    """By hand: 2 x 1190 leave 620 of each 3000; two bars of 1200 hold the same."""
    found = cut_list(pieces(1190, 1190), [Stock(3000), Stock(1200)], 3.0, False, 300)
    assert [(s.stock_mm, s.whole, s.cut) for s in found.stocks] == [(1200, 0, 2)]
    assert (found.bought_mm, found.bound_mm, found.proven) == (2400, 2400, True)


def test_an_offcut_at_hand_is_not_bought_and_has_no_end_left():
    found = cut_list(pieces(400), [Stock(500, 1), Stock(600)], 3.0, True, 300)
    (bar,) = found.bars
    assert (bar.at_hand, bar.offcut_mm, bar.offcut_ends) == (True, 97, 0)
    assert (found.stock_lengths, found.bought_mm, found.proven) == (0, 0, True)


def test_whole_pieces_of_several_lengths_are_whole_bars():
    whole = [piece("w0", 1200, cut=False), piece("w1", 600, cut=False)]
    found = cut_list(whole, [Stock(1200), Stock(600)], 3.0, True, 300)
    assert (found.whole, found.bars, [s.number for s in found.stocks]) == (2, (), [1, 1])


def test_a_list_too_large_to_prove_says_its_bound():
    """120 different lengths: no search, a quick list and a bound under it, both told."""
    lengths = [331 + 17 * i for i in range(120)]
    found = cut_list(pieces(*lengths), [Stock(3000)], 3.0, False, 300)
    assert found.bound <= len(found.bars) <= found.bound * 1.1
    assert found.proven == (found.bound == len(found.bars))


def test_the_same_pieces_give_the_same_list():
    made = pieces(*[700, 690, 655, 512, 498, 401, 333, 290] * 4)
    lists = [cut_list(order, [Stock(2000), Stock(1500)], 3.0, False, 300) for order in (made, made[::-1])]
    assert lists[0] == lists[1]
