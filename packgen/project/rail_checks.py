"""Faults of the lengths that rails and the sizes that boards come in."""

from __future__ import annotations

from collections.abc import Iterable

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.project.work_model import BoardOnTop, Kit
from packgen.trade.plausible import plausible


def rail(kit: Kit, module_fits: bool) -> Iterable[Fault]:
    """Stock lengths of some length, of which the longest reaches from leg to leg where pieces clip on legs."""
    marks = kit.rail.marks
    for key, values in (("stock", kit.rail.stock), ("offcuts at hand", kit.rail.offcuts_at_hand)):
        for value in values:
            if value <= 0:
                says = f"{key}: a rail of {plain(value)} makes no sense: it must be more than 0"
                yield Fault(marks.of(key), "not-above-zero", says)
    for value in kit.rail.stock:
        if module_fits and 0 < value < kit.smallest_cut_piece:
            says = (
                f"stock: bars of {plain(value)} are shorter than the smallest cut piece "
                f"({plain(kit.smallest_cut_piece)})"
            )
            yield Fault(marks.of("stock"), "least-above-most", says)
            return
    longest = max(kit.rail.stock, default=kit.module)
    if module_fits and kit.clipped and 0 < longest < kit.module:
        says = (
            f"stock: bars of {plain(longest)} do not reach from leg to leg ({plain(kit.module)}), and every piece is "
            "to clip on legs at both ends"
        )
        yield Fault(marks.of("stock"), "stock-below-module", says)


def board(fill: str, board: BoardOnTop) -> Iterable[Fault]:
    """A board as bought has both its sides, the length not the shorter one, and is no crumb and no floor."""
    marks = board.marks
    if (board.length is None) != (board.width is None):
        lacking = "width" if board.width is None else "length"
        yield Fault(marks.start, "missing-key", f"board on top of {fill} lacks '{lacking}': a board has both")
        return
    if board.length is None or board.width is None:
        return
    least, most = plausible("board", "shortest_mm"), plausible("board", "longest_mm")
    for key, value in (("length", board.length), ("width", board.width)):
        if not least <= value <= most:
            near = next((v for v in (value * 10, value * 1000, value / 10) if least <= v <= most), None)
            says = f"board on top of {fill}: {key} {plain(value)} mm is not between {plain(least)} and {plain(most)}"
            yield Fault(marks.of(key), "board-size", says, plain(near) if near else None)
            return
    if board.length < board.width:
        says = (
            f"board on top of {fill}: the length {plain(board.length)} is less than the width {plain(board.width)}: "
            "write the long side first"
        )
        yield Fault(marks.of("length"), "board-size", says, f"{plain(board.width)} x {plain(board.length)}")
