"""Small tools for ways of working out: sums whose numbers have no leading sign, and figures as printed."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import half_up, plain
from packgen.exercise.model import Way


def signed_sum(terms: Sequence[float]) -> str:
    """The size of a sum as a line of arithmetic, its first figure without a sign.

    A sum below 0 is turned round, so that the line gives its size; terms of 0 are left out.

    >>> signed_sum([1299, -2, -1387]), signed_sum([1402, -103])
    ('1387 - 1299 + 2', '1402 - 103')
    """
    turn = -1.0 if sum(terms) < 0 else 1.0
    turned = [t * turn + 0.0 for t in terms if t] or [0.0]
    first = max(range(len(turned)), key=lambda i: turned[i])
    rest = [t for i, t in enumerate(turned) if i != first]
    return plain(turned[first]) + "".join(f" {'-' if t < 0 else '+'} {plain(abs(t))}" for t in rest)


def summed(formula: str, *terms: float, digits: int = 0) -> Way:
    """A way that is a sum: its value to `digits`, half up in size."""
    return Way(half_up(sum(terms), digits), formula, signed_sum(terms))
