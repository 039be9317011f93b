"""Words on drawings: how wide they are in the printed font, where they find room, and how they are written compactly.

Widths come from `widths.json`, made once from the three font files of the pack (a test holds them together).
Sizes are mm: 9 pt is 3.175 mm, and nothing on a drawing is smaller than LEAST_MM.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from xml.sax.saxutils import escape

from packgen.booklet.signless import signless
from packgen.core.plane import Point

LEAST_MM = 3.2  # 9 pt and a little: smaller figures lose their points on a copy of a copy
FIGURE_MM = 4.94  # 14 pt: figures somebody sets
ASCENT, DESCENT = 0.76, 0.22  # of the size, for figures and capitals of Noto Sans with a little air
PER_TEXT = 100


@cache
def _widths(bold: bool) -> dict[str, float]:
    text = resources.files("packgen.booklet.drawing").joinpath("widths.json").read_text(encoding="utf-8")
    tables = json.loads(text)
    found: dict[str, float] = {}
    for name in ("symbols", "bold" if bold else "regular"):
        for width, letters in tables[name].items():
            found.update(dict.fromkeys(letters, int(width) / 1000))
    return found


def width(text: str, size: float, bold: bool = False) -> float:
    """Printed width of a text in mm at a size in mm; a letter that no font of the pack has counts 0.6 of the size."""
    table = _widths(bold)
    return sum(table.get(letter, 0.6) for letter in text) * size


@dataclass(frozen=True, slots=True)
class Label:
    """A text with the middle of its baseline, paper mm."""

    x: float
    y: float
    text: str
    size: float = LEAST_MM
    bold: bool = False

    @property
    def box(self) -> Box:
        half = width(self.text, self.size, self.bold) / 2
        return (self.x - half, self.y - ASCENT * self.size, self.x + half, self.y + DESCENT * self.size)


Box = tuple[float, float, float, float]


def centred(x: float, y: float, text: str, size: float = LEAST_MM, bold: bool = False) -> Label:
    """A label whose figures stand in the middle of (x, y)."""
    return Label(x, y + 0.36 * size, text, size, bold)


def written(labels: Sequence[Label]) -> Iterable[str]:
    """The labels as SVG: a text element for up to a hundred of them, an x and a y for every letter.

    One element a label costs three times the time and twenty times the bytes (measured, booklet.md 3). A blank
    after each label keeps copied and spoken words apart.
    """
    kinds: dict[tuple[float, bool], list[Label]] = {}
    for label in labels:
        one = replace(label, text=signless(label.text)) if "-" in label.text else label
        kinds.setdefault((one.size, one.bold), []).append(one)
    for (size, bold), group in kinds.items():
        table = _widths(bold)
        weight = ' font-weight="700"' if bold else ""
        for start in range(0, len(group), PER_TEXT):
            xs: list[str] = []
            ys: list[str] = []
            out: list[str] = []
            for one in group[start : start + PER_TEXT]:
                x = one.x - width(one.text, size, bold) / 2
                for letter in (*one.text.replace(" ", "\u00a0"), "\u00a0"):
                    xs.append(short(x))
                    ys.append(short(one.y))
                    out.append(escape(letter))
                    x += table.get(letter, 0.6) * size
            yield f'<text font-size="{short(size)}"{weight} x="{" ".join(xs)}" y="{" ".join(ys)}">{"".join(out)}</text>'


def short(value: float) -> str:
    """A coordinate to a hundredth of a mm without needless zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def wrapped(text: str, size: float, most_mm: float, bold: bool = False) -> tuple[str, ...]:
    """The text broken at blanks so that no line is wider than `most_mm` where a word allows it."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size, bold) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


class Room:
    """What on a sheet is taken, so that the next label finds a free place. Boxes in a grid of small cells."""

    CELL = 5.0

    def __init__(self, within: Box) -> None:
        self.within = within
        self._cells: dict[tuple[int, int], list[tuple[Box, float]]] = {}

    def take(self, box: Box, weight: float = 1.0) -> None:
        """Takes a box; `weight` says how bad it is to lie on it (a line less than a word)."""
        for cell in self._over(box):
            self._cells.setdefault(cell, []).append((box, weight))

    def take_line(self, a: Point, b: Point, half_mm: float = 0.4, weight: float = 1.0) -> None:
        """Takes a straight line as small boxes along it."""
        steps = max(1, math.ceil(math.dist(a, b) / 2.0))
        upright = abs(a[0] - b[0]) < 1e-9 or abs(a[1] - b[1]) < 1e-9
        for i in range(1 if upright else steps):
            f, t = (0.0, 1.0) if upright else (i / steps, (i + 1) / steps)
            x0, y0 = a[0] + (b[0] - a[0]) * f, a[1] + (b[1] - a[1]) * f
            x1, y1 = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
            box = (min(x0, x1) - half_mm, min(y0, y1) - half_mm, max(x0, x1) + half_mm, max(y0, y1) + half_mm)
            self.take(box, weight)

    def cost(self, box: Box, enough: float = math.inf) -> float:
        """How much of the box lies on something, mm² by weight; leaving the sheet counts heavily.

        Counting stops beyond `enough`.
        """
        c = self.CELL
        x0, y0, x1, y1 = box
        w0, h0, w1, h1 = self.within
        total = 100 * (max(0.0, w0 - x0) + max(0.0, x1 - w1) + max(0.0, h0 - y0) + max(0.0, y1 - h1))
        for cell in self._over(box):
            if total > enough:
                break
            for (a0, b0, a1, b1), weight in self._cells.get(cell, ()):
                left, top = max(x0, a0), max(y0, b0)
                wide, high = min(x1, a1) - left, min(y1, b1) - top
                # a pair that shares several cells is counted in the one that holds the corner of what they share
                if wide > 0 and high > 0 and (left // c, top // c) == cell:
                    total += wide * high * weight
        return total

    def place(self, candidates: Iterable[Label], most_cost: float = math.inf) -> Label | None:
        """The first label that is free, else the one that covers least; None where even that covers too much."""
        best: Label | None = None
        least = math.inf
        for one in candidates:
            cost = self.cost(one.box, min(least, most_cost))
            if cost < least - 1e-9:
                best, least = one, cost
            if cost == 0:
                break
        if best is None or least > most_cost:
            return None
        self.take(best.box)
        return best

    def _over(self, box: Box) -> Iterable[tuple[int, int]]:
        c = self.CELL
        for i in range(int(box[0] // c), int(box[2] // c) + 1):
            for j in range(int(box[1] // c), int(box[3] // c) + 1):
                yield (i, j)


def around(x: float, y: float, text: str, gap: float, size: float = LEAST_MM, bold: bool = False) -> list[Label]:
    """Places beside a sign: up right first, then the other corners, then beside, above and below; then farther off."""
    half, up, down = width(text, size, bold) / 2, ASCENT * size, DESCENT * size
    out = []
    for reach in (gap, gap * 1.6 + 0.6, gap * 2.6 + 1.5):
        right, left, top, low = x + reach + half, x - reach - half, y - reach - down, y + reach + up
        middle = y + 0.36 * size
        d = reach * 0.35
        out += [
            Label(right - d, top + d, text, size, bold),
            Label(left + d, top + d, text, size, bold),
            Label(right - d, low - d, text, size, bold),
            Label(left + d, low - d, text, size, bold),
            Label(right, middle, text, size, bold),
            Label(left, middle, text, size, bold),
            Label(x, top, text, size, bold),
            Label(x, low, text, size, bold),
        ]
    return out
