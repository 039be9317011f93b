"""What a leg can be set to: plain, with extensions, with packing under its foot."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from packgen.project.work_model import Kit
from packgen.trade.grid_rules import value

Parts = Literal["plain", "extension", "packing", "does not fit"]


@dataclass(frozen=True, slots=True)
class Choice:
    """Parts for one leg. outside_mm: distance to the nearest length that can be set; 0 where it fits."""

    parts: Parts
    extensions: int
    packing_mm: float
    outside_mm: float


@dataclass(frozen=True, slots=True)
class KitRange:
    """Lengths that can be set, mm: (extensions, from, to), and the heights packing can have, both rising."""

    ranges: tuple[tuple[int, float, float], ...]
    packings: tuple[float, ...]

    @property
    def shortest(self) -> float:
        return self.ranges[0][1]

    @property
    def longest(self) -> float:
        """With all extensions and the thickest packing."""
        return max(hi for _, _, hi in self.ranges) + (self.packings[-1] if self.packings else 0.0)


def kit_range(kit: Kit) -> KitRange:
    """The kit's ranges. Extensions and packing only as the file describes them."""
    ranges = [(0, kit.leg.shortest, kit.leg.longest)]
    if kit.extension is not None:
        ranges += [
            (n, kit.leg.shortest + n * kit.extension.adds, kit.leg.longest + n * kit.extension.adds)
            for n in range(1, kit.extension.most_per_leg + 1)
        ]
    packings: tuple[float, ...] = ()
    if kit.packing is not None:
        most = value("packing_most") if kit.packing.most is None else kit.packing.most
        packings = _stacks(kit.packing.plates, value("packing_least"), most)
    return KitRange(tuple(ranges), packings)


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

    The fewest extensions that leave `in_hand` at both ends of the screw; where none does, the one that leaves most.
    Packing only where no extension fits: the thinnest that brings the rest within a range.
    """
    fitting = [(n, min(leg_mm - lo, hi - leg_mm)) for n, lo, hi in kit.ranges if lo <= leg_mm <= hi]
    easy = [n for n, left in fitting if left >= value("in_hand")]
    if fitting:
        n = easy[0] if easy else max(fitting, key=lambda f: (f[1], -f[0]))[0]
        return Choice("extension" if n else "plain", n, 0.0, 0.0)
    for packing in kit.packings:
        for n, lo, hi in kit.ranges:
            if lo <= leg_mm - packing <= hi:
                return Choice("packing", n, packing, 0.0)
    ends = [(lo + p, hi + p) for _, lo, hi in kit.ranges for p in (0.0, *kit.packings)]
    return Choice("does not fit", 0, 0.0, min(max(lo - leg_mm, leg_mm - hi) for lo, hi in ends))
