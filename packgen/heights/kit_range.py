"""What a leg can be set to: which leg of the kit, with which extensions, with packing under its foot."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import half_up
from packgen.project.work_model import Extension, Kit, LegPart
from packgen.trade.grid_rules import value

Parts = Literal["plain", "extension", "packing", "does not fit"]


@dataclass(frozen=True, slots=True)
class Made:
    """A leg with its extensions, all of one kind: names as in the file, and the lengths it can be set to, mm.

    adds_mm: by all its extensions together; price: of leg and extensions, None where one of the kit's parts has none
    """

    extensions: int
    low_mm: float
    high_mm: float
    adds_mm: float = 0.0
    leg: str = ""
    extension: str = ""
    price: float | None = None
    turn_mm: float | None = None
    delivered_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """Parts for one leg. outside_mm: distance to the nearest length that can be set; 0 where it fits.

    made: the leg and its extensions; of a leg that does not fit, what comes nearest
    """

    parts: Parts
    extensions: int
    packing_mm: float
    outside_mm: float
    made: Made


@dataclass(frozen=True, slots=True)
class KitRange:
    """All legs that can be put together, the one to be taken first at the head, and the heights of packing, rising."""

    made: tuple[Made, ...]
    packings: tuple[float, ...]

    @property
    def ranges(self) -> tuple[tuple[int, float, float], ...]:
        """(extensions, from, to) of every leg, mm."""
        return tuple((m.extensions, m.low_mm, m.high_mm) for m in self.made)

    @property
    def shortest(self) -> float:
        return min(m.low_mm for m in self.made)

    @property
    def longest(self) -> float:
        """With all extensions and the thickest packing."""
        return max(m.high_mm for m in self.made) + (self.packings[-1] if self.packings else 0.0)


def kit_range(kit: Kit) -> KitRange:
    """The kit's legs, the cheapest first; without prices the one of fewest parts, then the shortest leg.

    Extensions and packing only as the file describes them.
    """
    made = sorted(_made(kit), key=lambda m: (m.price or 0.0, m.extensions, m.low_mm - m.adds_mm, m.high_mm - m.adds_mm))
    packings: tuple[float, ...] = ()
    if kit.packing is not None:
        most = value("packing_most") if kit.packing.most is None else kit.packing.most
        packings = _stacks(kit.packing.plates, value("packing_least"), most)
    return KitRange(tuple(made), packings)


def priced(kit: Kit) -> bool:
    """Whether the price decides: every kind of leg and of extension has one."""
    return all(part.price is not None for part in kit.parts)


def range_of(ranges: Sequence[tuple[int, float, float]], packings: Sequence[float]) -> KitRange:
    """A kit of one kind of leg from its ranges alone: (extensions, from, to)."""
    first = ranges[0][1]
    return KitRange(tuple(Made(n, low, high, low - first) for n, low, high in ranges), tuple(packings))


def _made(kit: Kit) -> Iterator[Made]:
    count = priced(kit)
    for leg in kit.legs:
        yield _with(leg, None, 0, count)
        for extension in kit.extensions:
            for n in range(1, extension.most_per_leg + 1):
                yield _with(leg, extension, n, count)


def _with(leg: LegPart, extension: Extension | None, n: int, count: bool) -> Made:
    adds = n * extension.adds if extension is not None else 0.0
    price = (leg.price or 0.0) + n * ((extension.price if extension is not None else None) or 0.0)
    return Made(
        n,
        leg.shortest + adds,
        leg.longest + adds,
        adds,
        leg.name,
        extension.name if extension is not None else "",
        round(price, 4) if count else None,
        leg.turn,
        leg.delivered_at,
    )


def turns_of(screw_mm: float, made: Made) -> float | None:
    """Turns of the screw from the delivered setting to a length without extensions and packing; up is plus.

    turns = (length - delivered) / pitch, to 0.1. None where the kit gives no pitch or no delivered setting.
    """
    if made.turn_mm is None or made.delivered_mm is None:
        return None
    return half_up((screw_mm - made.delivered_mm) / made.turn_mm, 1)


def _stacks(plates: tuple[float, ...], least: float, most: float) -> tuple[float, ...]:
    """All heights that plates on top of each other can have."""
    found = {0.0}
    for plate in sorted(p for p in plates if p > 0):
        for height in sorted(found):
            times = math.floor((most - height) / plate + 1e-9)
            found |= {height + n * plate for n in range(1, times + 1)}
    return tuple(sorted(h for h in found if h >= least))


def choose_parts(leg_mm: float, kit: KitRange) -> Choice:
    """Parts for a leg length.

    The first of the kit's legs that leaves `in_hand` at both ends of the screw; where none does, the one that leaves
    most. Packing only where none fits without: the thinnest that brings the rest within a range.
    """
    fitting = [(m, min(leg_mm - m.low_mm, m.high_mm - leg_mm)) for m in kit.made if m.low_mm <= leg_mm <= m.high_mm]
    if fitting:
        easy = [m for m, left in fitting if left >= value("in_hand")]
        made = easy[0] if easy else max(fitting, key=lambda f: f[1])[0]
        return Choice("extension" if made.extensions else "plain", made.extensions, 0.0, 0.0, made)
    for packing in kit.packings:
        for made in kit.made:
            if made.low_mm <= leg_mm - packing <= made.high_mm:
                return Choice("packing", made.extensions, packing, 0.0, made)
    ends = [(max(m.low_mm + p - leg_mm, leg_mm - m.high_mm - p), m) for m in kit.made for p in (0.0, *kit.packings)]
    outside, made = min(ends, key=lambda e: e[0])
    return Choice("does not fit", 0, 0.0, outside, made)
