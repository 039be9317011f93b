"""Two-peg test: whether the laser line is level."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LineError:
    """error_per_m: mm by which the line rises per metre of sight; the far and near reading it would have had level."""

    error_per_m: float
    near_mm: float
    far_mm: float


def two_peg(
    middle_a_mm: float, middle_b_mm: float, a_mm: float, b_mm: float, to_a_m: float, to_b_m: float
) -> LineError:
    """Error of the line of sight from two marks A and B, read from the middle and again from near one of them.

    error per metre = ((b - a) - (middle b - middle a)) / (distance to b - distance to a)  [mm per m]

    From the middle both sights are equally long, so the difference is true. The two sights of the second position
    must differ in length. Source: two-peg test, any levelling handbook (checks L13).

    >>> two_peg(1320, 1560, 1110, 1390, 10, 90).error_per_m
    0.5
    """
    error = ((b_mm - a_mm) - (middle_b_mm - middle_a_mm)) / (to_b_m - to_a_m)
    return LineError(error, a_mm - error * to_a_m, b_mm - error * to_b_m)
