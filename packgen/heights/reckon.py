"""Sums of levels as a reader without minus signs does them: so much above the datum, or so much below."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import half_up, plain

Term = tuple[str, float]  # figures as printed, and what they stand for with its sign: up is plus


def term(mm: float) -> Term:
    """A level or height as a term of a sum."""
    return plain(abs(mm)), half_up(mm, 3)


def level_sum(terms: Sequence[Term], digits: int = 0) -> tuple[str, float, str]:
    """(numbers, size of the result, "mm above" or "mm below"): the terms added on the side where the result lies.

    >>> level_sum([term(0), term(-39)]), level_sum([term(-82), term(46), term(39)])
    (('0 + 39', 39.0, 'mm below'), ('46 + 39 - 82', 3.0, 'mm above'))
    """
    total = sum(value for _, value in terms)
    below = half_up(total, digits) < 0 or (half_up(total, digits) == 0 and terms[0][1] <= 0)
    turned = [(text, -value + 0.0 if below else value) for text, value in terms]
    plus = [text for text, value in turned if value >= 0]
    minus = [text for text, value in turned if value < 0]
    numbers = " + ".join(plus) + "".join(f" - {text}" for text in minus)
    return numbers, abs(half_up(total, digits)), "mm below" if below else "mm above"
