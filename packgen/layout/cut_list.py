"""The cut list: which pieces come from which stock length, with the least stock bought."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.figures import round_down
from packgen.layout.best_fit import best_fit, fewest_bars, pair_bound, pair_up
from packgen.layout.fillings import Bin
from packgen.layout.model import Bar, Bought, CutList, Piece, Stock
from packgen.layout.patterns import MOST_SIZES, shortest

FACTORY_ENDS = 2  # of a bar as bought; an offcut has one left


@dataclass(frozen=True, slots=True)
class Taken:
    """A bar with the pieces it gives, by index."""

    stock: Stock
    pieces: tuple[int, ...]


def cut_list(
    pieces: Sequence[Piece], stocks: Sequence[Stock], saw_cut_mm: float, clipped: bool, keep_mm: float
) -> CutList:
    """The cut list that buys least stock: proven least where it meets its bound, and the bound where it does not.

    stocks: one at least that is bought. clipped: cut pieces need a factory end each, a bar has two and an offcut at
    hand one. keep_mm: offcuts from this length on are listed to be kept.
    Pieces longer than the longest stock that is bought are refused with ValueError.
    """
    bought = sorted({s.length_mm for s in stocks if s.number is None}, reverse=True)
    lone = len(bought) == 1
    # of one stock length a whole piece is a bar; of several it may also come from a longer one, if it need not clip
    cut = sorted((p for p in pieces if p.cut or not (lone or clipped)), key=lambda p: (-p.length_mm, p.id))
    if cut and cut[0].length_mm > bought[0]:
        raise ValueError(f"piece {cut[0].id} of {cut[0].length_mm} is longer than the stock of {bought[0]}")
    lengths = [p.length_mm for p in cut]
    taken, bound_mm = least_stock(lengths, stocks, saw_cut_mm, clipped)
    uncut = [t for t in taken if t.stock.number is None and _uncut(t, lengths)]
    sawn = [t for t in taken if t not in uncut]
    bars = tuple(_bar(n, t, cut, saw_cut_mm, clipped) for n, t in enumerate(sawn, 1))
    kept = tuple(sorted((math.floor(b.offcut_mm) for b in bars if b.offcut_mm >= keep_mm), reverse=True))
    aside = {p.id for p in cut}
    whole = [p.length_mm for p in pieces if p.id not in aside] + [t.stock.length_mm for t in uncut]
    sizes = sorted({*whole, *(b.stock_mm for b in bars if not b.at_hand)}, reverse=True)
    made = tuple(
        Bought(s, whole.count(s), sum(b.stock_mm == s and not b.at_hand for b in bars)) for s in sizes or bought[:1]
    )
    need = bound_mm - sum(t.stock.length_mm for t in uncut)
    spent = sum(b.stock_mm for b in bars if not b.at_hand)
    return CutList(bought[0], len(whole), bars, math.ceil(need / bought[0]), spent == need, kept, made, bound_mm=need)


def _uncut(taken: Taken, lengths: Sequence[int]) -> bool:
    return len(taken.pieces) == 1 and lengths[taken.pieces[0]] == taken.stock.length_mm


def _bar(number: int, taken: Taken, cut: Sequence[Piece], kerf: float, clipped: bool) -> Bar:
    """A bar with its saw cuts. What is left after the last piece is cut off, unless it is thinner than the saw."""
    mine = [cut[i] for i in taken.pieces]
    stock, at_hand = taken.stock.length_mm, taken.stock.number is not None
    left = stock - sum(p.length_mm for p in mine) - kerf * (len(mine) - 1)
    last = left > 0 and left >= kerf
    ends = (1 if at_hand else FACTORY_ENDS) - sum(p.factory_ends for p in mine)
    return Bar(
        number,
        stock,
        tuple(p.id for p in mine),
        tuple(p.length_mm for p in mine),
        len(mine) - 1 + (1 if last else 0),
        kerf,
        left - kerf if last else left,
        at_hand,
        max(0, ends) if clipped else None,
    )


# --------------------------------------------------------------------------------- least stock


def least_stock(lengths: Sequence[int], stocks: Sequence[Stock], kerf: float, clipped: bool) -> tuple[list[Taken], int]:
    """Bars for pieces of these lengths, which run down; and mm of stock that every list buys at least.

    First quick lists against quick bounds; only where they do not meet are cutting patterns looked for.
    """
    if not lengths:
        return [], 0
    bought = sorted({s.length_mm for s in stocks if s.number is None}, reverse=True)
    spare = [s for s in stocks if s.number]
    if bought[1:] or spare:
        taken, bound = _several(lengths, bought, spare, kerf, clipped)
    else:
        stock = Stock(bought[0])
        groups, least = one_stock(lengths, bought[0], kerf, clipped)
        taken, bound = [Taken(stock, tuple(g)) for g in groups], least * bought[0]
    spent = _spent(taken)
    if spent > bound and len(set(lengths)) <= MOST_SIZES:
        kinds = [*spare, *(Stock(length) for length in bought)]
        better, proven = _by_patterns(lengths, kinds, kerf, clipped, spent)
        taken, bound = better or taken, max(bound, proven)
    return taken, bound


def one_stock(lengths: Sequence[int], stock: int, kerf: float, clipped: bool) -> tuple[list[list[int]], int]:
    """A quick list of one stock length and a quick bound, bars."""
    if clipped:
        return pair_up(lengths, stock, kerf), pair_bound(lengths, stock, kerf)
    return best_fit(lengths, stock, kerf), fewest_bars(lengths, stock, kerf)


def _spent(taken: Sequence[Taken]) -> int:
    return sum(t.stock.length_mm for t in taken if t.stock.number is None)


def _several(
    lengths: Sequence[int], bought: Sequence[int], spare: Sequence[Stock], kerf: float, clipped: bool
) -> tuple[list[Taken], int]:
    """A quick list of several stock lengths: what lies at hand first, then one length throughout or each by turns,
    every bar then taken from the shortest stock that holds it. The bound: the pieces set end to end."""
    hand, left = _from_hand(lengths, spare, kerf, clipped)
    rest = [lengths[i] for i in left]
    lists = []
    for stock in bought:  # what is too long for this one comes from the longest
        long = sum(v > stock for v in rest)
        over = one_stock(rest[:long], bought[0], kerf, clipped)[0]
        lists.append([*over, *([i + long for i in g] for g in one_stock(rest[long:], stock, kerf, clipped)[0])])
    lists.append([[i] for i in range(len(rest))])
    made = [
        [Taken(_holding([rest[i] for i in g], bought, kerf), tuple(left[i] for i in g)) for g in way] for way in lists
    ]
    best = min(made, key=lambda way: (_spent(way), len(way)))
    end_to_end = sum(lengths) + kerf * len(lengths)
    at_hand = sum((s.length_mm + kerf) * (s.number or 0) for s in spare)
    bound = max(0.0, (end_to_end - at_hand) * min(s / (s + kerf) for s in bought))
    return [*hand, *best], math.ceil(bound - 1e-9)


def _holding(group: Sequence[int], bought: Sequence[int], kerf: float) -> Stock:
    need = sum(group) + kerf * (len(group) - 1)
    return Stock(min(s for s in bought if s >= need - 1e-9))


def _from_hand(
    lengths: Sequence[int], spare: Sequence[Stock], kerf: float, clipped: bool
) -> tuple[list[Taken], list[int]]:
    """Each offcut at hand, shortest first, gives the longest pieces it still holds; the indices left over."""
    left, out = list(range(len(lengths))), []
    for stock in sorted(spare, key=lambda s: s.length_mm):
        for _ in range(stock.number or 0):
            room, mine = stock.length_mm + kerf, list[int]()
            for i in left:
                if lengths[i] + kerf <= room + 1e-9 and not (clipped and mine):
                    room -= lengths[i] + kerf
                    mine.append(i)
            if mine:
                out.append(Taken(stock, tuple(mine)))
                left = [i for i in left if i not in mine]
    return out, left


def _by_patterns(
    lengths: Sequence[int], kinds: Sequence[Stock], kerf: float, clipped: bool, known: int
) -> tuple[list[Taken] | None, int]:
    """A list shorter than `known` mm of stock, if there is one; and how much stock every list buys at least."""
    scale = next(s for s in (1, 10, 100) if s == 100 or float(kerf * s).is_integer())
    kerf = math.ceil(kerf * scale - 1e-9) / scale
    where: dict[int, list[int]] = {}
    for i, length in enumerate(lengths):
        where.setdefault(length, []).append(i)
    bins = [
        Bin(
            int(round_down((s.length_mm + kerf) * scale + 1e-9)),
            s.length_mm if s.number is None else 0,
            (FACTORY_ENDS if s.number is None else 1) if clipped else None,
            s.number,
        )
        for s in kinds
    ]
    sizes = [round((length + kerf) * scale) for length in where]
    found = shortest(sizes, [len(w) for w in where.values()], bins, known)
    if found.bars is None:
        return None, found.bound
    pools = [list(reversed(w)) for w in where.values()]
    taken = [
        Taken(kinds[b], tuple(sorted(pool.pop() for pool, n in zip(pools, counts, strict=True) for _ in range(n))))
        for b, counts in found.bars
    ]
    return sorted(taken, key=lambda t: (t.stock.number is None, -t.stock.length_mm, t.pieces)), found.bound
