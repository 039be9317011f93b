"""Cutting stock: published instances, their least number of bars and the bound of the linear programme.

Optimum and bound of each were calculated by listing every pattern; sources of the data stand beside them.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from packgen.layout.best_fit import best_fit, fewest_bars
from packgen.layout.cut_list import least_stock
from packgen.layout.fillings import Bin
from packgen.layout.model import Stock
from packgen.layout.patterns import _programme

# stock, {length: number}, least bars, linear programme
INSTANCES = {
    "C2": (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453, 452.25),  # Chvátal 1983 ch. 13, by way of the NEOS Guide
    "C3": (110, {75: 8, 55: 10, 50: 24, 45: 35, 20: 48}, 47, 46.25),  # course problem after the AMPL book ch. 14
    "C5": (120, {34: 34, 30: 13, 27: 5}, 16, 15.625),  # package page "cutting-stock", in tenths
    "C6": (120, {33: 9, 30: 3, 18: 10}, 5, 4.75),  # emadehsan/csp, printed rolls
    "C7": (10, {7: 2, 5: 2, 3: 4}, 4, 3.667),  # MiniZinc cutstock data
    "C8": (25, {10: 300, 9: 1200, 7: 700}, 775, 775),  # "Ace Lumber" exercise
    "C9": (25, {10: 500, 9: 1200, 7: 700}, 875, 875),  # the same exercise with other numbers
    "C11": (20, {10: 70, 8: 15, 4: 25, 3: 50}, 54, 53.5),  # "Milton Lumber" exercise
    "C12": (100, {45: 97, 35: 610, 31: 395, 14: 211}, 453, 452.25),  # SAS/OR example 4.5
    "C13": (100, {60: 30, 48: 50, 36: 25, 24: 90}, 77, 76.25),  # reels exercise, fewest reels
}
CASES = [pytest.param(*case, id=name) for name, case in INSTANCES.items()]


def lengths(pieces):
    return sorted((size for size, count in pieces.items() for _ in range(count)), reverse=True)


@pytest.mark.parametrize(("stock", "pieces", "optimum", "programme"), CASES)
def test_list_is_the_optimum_and_proven_so(stock, pieces, optimum, programme) -> None:
    wanted = lengths(pieces)
    bars, bound_mm = least_stock(wanted, [Stock(stock)], 0.0, False)
    assert sorted(i for bar in bars for i in bar.pieces) == list(range(len(wanted)))
    assert all(sum(wanted[i] for i in bar.pieces) <= stock for bar in bars)
    assert len(bars) == optimum == math.ceil(programme)
    assert bound_mm == optimum * stock


@pytest.mark.parametrize(("stock", "pieces", "optimum", "programme"), CASES)
def test_bound_of_the_linear_programme(stock, pieces, optimum, programme) -> None:
    """Without a list to beat, so that only the programme speaks: its figure as published, to three digits."""
    bins = [Bin(stock, 1)]
    _, _, bound = _programme(np.array(list(pieces)), np.array(list(pieces.values())), bins)
    assert bound == pytest.approx(programme, abs=5e-4)


@pytest.mark.parametrize(("stock", "pieces", "optimum", "programme"), CASES)
def test_quick_bound_and_quick_list_enclose_the_optimum(stock, pieces, optimum, programme) -> None:
    wanted = lengths(pieces)
    assert fewest_bars(wanted, stock, 0.0) <= optimum <= len(best_fit(wanted, stock, 0.0))


def test_longest_pieces_first_is_not_enough_for_c2() -> None:
    """Why patterns are looked for at all: best fit takes 7 in 100 more bars there."""
    stock, pieces, optimum, _ = INSTANCES["C2"]
    assert len(best_fit(lengths(pieces), stock, 0.0)) > optimum * 1.05
