"""Sums of readings and levels as they are printed: no figure with a minus sign before it."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import plain


def joined(terms: Sequence[float], flip: bool = False) -> str:
    """Terms joined by + and -, the first that counts up in front; `flip` turns all signs.

    >>> joined([1400, -1488]), joined([1400, -1488], True), joined([12, 0])
    ('1400 - 1488', '1488 - 1400', '12 + 0')
    """
    signed = [-t + 0.0 if flip else t for t in terms]
    front = next((i for i, t in enumerate(signed) if t > 0), 0)
    ranked = [signed[front], *signed[:front], *signed[front + 1 :]]
    out = plain(ranked[0])
    for t in ranked[1:]:
        out += f" {'-' if t < 0 else '+'} {plain(abs(t))}"
    return out


def digits_of(*values: float) -> int:
    """Decimals a sum of readings needs: none for whole mm, else one."""
    return 0 if all(abs(v - round(v)) < 1e-9 for v in values) else 1
