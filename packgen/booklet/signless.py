"""No minus sign before a number on paper: the last door that every sheet goes through.

Rooms before this one say heights in words. What still bears a sign is a figure that makes no sense on a floor (litres
less than nothing, where the base stands above the rail top): it is written as what it is, nothing less so much.
"""

from __future__ import annotations

import re

SIGN = r"(?<![\w)\]×.,])(?<!\d\s)[-−]"
FROST = re.compile(SIGN + r"(\d[\d.]*)(\s?°C)")
SIGNED = re.compile(SIGN + r"(\d[\d.]*)")
TEXT = re.compile(r">[^<]*[-−]\d[^<]*<")


def signless(text: str) -> str:
    """The text without a signed number.

    >>> signless("a night of -3 °C, fill -12 L, 1405 - 18"), signless("A1-L8, 2027-04-05")
    ('a night of 3 °C below zero, fill 0 less 12 L, 1405 - 18', 'A1-L8, 2027-04-05')
    """
    return SIGNED.sub(r"0 less \1", FROST.sub(r"\1\2 below zero", text))


def signless_sum(numbers: str) -> str:
    """A line of arithmetic whose signed numbers are differences from nothing, which a pocket calculator takes.

    >>> signless_sum("2 + -3 - -4")
    '2 + (0 - 3) - (0 - 4)'
    """
    return re.sub(r"(?<![\w)\]])(?<!\d\s)[-−](\d[\d.]*)", r"(0 - \1)", numbers)


def signless_html(html: str) -> str:
    """The same in the text of a document; tags and what stands in them stay."""
    return TEXT.sub(lambda found: signless(found[0]), html)
