"""Numbers to text, the only place where a printed figure is rounded. Half is rounded up in size."""

from __future__ import annotations

import datetime
import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

KILONEWTON_PER_KG = 9.80665 / 1000  # standard gravity, exact by definition (CGPM 1901)
NOISE = 1e-9  # a float that stands for a printed figure is nearer to it than this
EXACT_BELOW = 1e6  # up to this size the error of one float operation is well below half of NOISE
FEW = 6  # decimals that are so much coarser than NOISE that half of it cannot lift a figure


def half_up(value: float, digits: int = 0) -> float:
    """Round half up in size, so that 0.5 gives 1 and -0.5 gives -1; binary noise below 1e-9 does not decide.

    >>> half_up(-84.5), half_up(2.4999999999), half_up(0.125, 2)
    (-85.0, 3.0, 0.13)
    """
    size = abs(value)
    if size < EXACT_BELOW and 0 <= digits <= FEW:
        scale: float = 10**digits
        figure = math.floor((size + NOISE / 2) * scale + 0.5) / scale
        return -figure if value < 0 and figure else figure
    exact = Decimal(repr(round(value, 9)))
    return float(exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)) + 0.0


def whole(value: float) -> int:
    """Whole number, half up in size."""
    return int(half_up(value))


def round_up(value: float, digits: int = 0) -> float:
    """Least figure of so many digits that is not smaller; noise below 1e-9 does not lift it."""
    return float(Decimal(repr(round(value, 9))).quantize(Decimal(1).scaleb(-digits), ROUND_CEILING)) + 0.0


def round_down(value: float, digits: int = 0) -> float:
    """Greatest figure of so many digits that is not larger; noise below 1e-9 does not lower it."""
    return float(Decimal(repr(round(value, 9))).quantize(Decimal(1).scaleb(-digits), ROUND_FLOOR)) + 0.0


def number(value: float, digits: int = 0) -> str:
    """A figure with a fixed number of decimals and thin spaces between thousands from 10 000 on.

    >>> number(1405), number(27.2774, 2), number(12345)
    ('1405', '27.28', '12\\u202f345')
    """
    rounded = half_up(value, digits)
    text = f"{rounded:,.{digits}f}" if abs(rounded) >= 10_000 else f"{rounded:.{digits}f}"
    return text.replace(",", "\u202f")


def plain(value: float, most: int = 3) -> str:
    """A figure without needless zeros: 10, 12.5, 0.05."""
    text = f"{half_up(value, most):.{most}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def level(mm: float, datum: str = "TBM") -> str:
    """A level in words, whole mm, never with a sign.

    >>> level(-18), level(12.4), level(-0.2)
    ('18 below TBM', '12 above TBM', 'same as TBM')
    """
    n = whole(mm)
    if n == 0:
        return f"same as {datum}"
    return f"{abs(n)} {'above' if n > 0 else 'below'} {datum}"


def difference(mm: float) -> str:
    """A difference to the target in words: "2 low", "1 high", "right"."""
    n = whole(mm)
    return "right" if n == 0 else f"{abs(n)} {'high' if n > 0 else 'low'}"


def day(date: datetime.date) -> str:
    """A date nobody can turn round: "Thu 15 Apr 2027"."""
    days = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
    months = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return f"{days[date.weekday()]} {date.day} {months[date.month - 1]} {date.year}"


def clock(hours: float) -> str:
    """Hours after midnight as hh:mm, to the minute."""
    minutes = whole(hours * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def listed(items: tuple[str, ...] | list[str], last: str = "and", most: int = 8) -> str:
    """Names in a sentence: "A1, B1 and C1"; beyond `most` the rest is counted."""
    names = list(items)
    if len(names) > most:
        return f"{', '.join(names[: most - 1])} {last} {len(names) - most + 1} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}" if names else ""
