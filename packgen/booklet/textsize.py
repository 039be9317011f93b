"""How much room words take on paper, so that the program and not the layout engine decides what fits a sheet."""

from __future__ import annotations

import json
import unicodedata
from functools import cache
from importlib import resources

from packgen.booklet.drawing.labels import width

POINT_MM = 25.4 / 72
SLACK = 0.985  # the layout engine kerns and breaks a little differently than a sum of widths


def lines_of(text: str, size_pt: float, width_mm: float, bold: bool = False) -> int:
    """Number of lines a text fills at a size in a column; a word wider than the column is broken.

    >>> lines_of("Set E1", 10, 40), lines_of("", 10, 40)
    (1, 1)
    """
    size, room = size_pt * POINT_MM, width_mm * SLACK
    space = width(" ", size, bold)
    count = 0
    for paragraph in text.split("\n"):
        count += 1
        used = 0.0
        for word in paragraph.split():
            wide = width(word, size, bold)
            if used and used + space + wide <= room:
                used += space + wide
                continue
            if used:
                count += 1
            used = wide
            while used > room:
                count += 1
                used -= room
    return count


@cache
def _letters() -> frozenset[str]:
    tables = json.loads(resources.files("packgen.booklet.drawing").joinpath("widths.json").read_text(encoding="utf-8"))
    return frozenset("".join(letters for table in tables.values() for letters in table.values())) | {"\n", "\t"}


def printable(text: str) -> str:
    """The text with every letter that the pack's fonts lack written out, for example [U+202E].

    Otherwise a font of the machine would step in unseen, and marks that turn the writing round would work.

    >>> printable("5 \\u2264 6 \\u202e")
    '5 ≤ 6 [U+202E]'
    """
    known = _letters()
    if all(letter in known for letter in set(text)):
        return text
    composed = unicodedata.normalize("NFC", text)
    return "".join(letter if letter in known else f"[U+{ord(letter):04X}]" for letter in composed)
