"""Faults of the lengths that rails come in."""

from __future__ import annotations

from collections.abc import Iterable

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.project.work_model import Kit


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
