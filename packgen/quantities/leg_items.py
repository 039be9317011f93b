"""Kinds of legs, extensions and packing that the plan takes: how each is called on the order list, and how many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packgen.core.figures import plain
from packgen.heights.model import LegSetting
from packgen.project.model import Project
from packgen.project.work_model import Extension, Kit, LegPart


@dataclass(frozen=True, slots=True)
class Item:
    """A row of the order list before spare. part: where its price stands; None for packing."""

    says: str
    number: int
    for_: str
    part: LegPart | Extension | None


def leg_words(kit: Kit, leg: LegPart) -> str:
    """ "leg 46 to 94, foot 60 across", with the name that the file gives in front."""
    size = f"{plain(leg.shortest)} to {plain(leg.longest)}, foot {plain(kit.foot.diameter)} across"
    return f"{leg.name}, {size}" if leg.name else f"leg {size}"


def extension_words(extension: Extension) -> str:
    return f"{extension.name}, adds {plain(extension.adds)}" if extension.name else f"extension {plain(extension.adds)}"


def leg_items(kit: Kit, legs: Sequence[LegSetting]) -> Iterator[Item]:
    """Every kind that some leg is made of, in the file's order; packing by thickness.

    A leg that does not fit counts with the kind that comes nearest.
    """
    alone = len(kit.legs) == 1
    for leg in kit.legs:
        number = sum(s.leg_kind == leg.name for s in legs)
        if number or alone:
            yield Item(leg_words(kit, leg), number, "nodes", leg)
    for extension in kit.extensions:
        number = sum(s.extensions for s in legs if s.extension_kind == extension.name)
        if number:
            yield Item(extension_words(extension), number, "long legs", extension)
    for thick in sorted({s.packing_mm for s in legs if s.packing_mm}):
        yield Item(f"hard packing {plain(thick)} thick", sum(s.packing_mm == thick for s in legs), "under feet", None)


def own_price(project: Project, item: Item) -> float | None:
    """The price of one; None where the file gives none, or prices the part or the whole grid under `prices`."""
    if item.part is None:
        return None
    names = [name.casefold() for name, _ in project.prices.items]
    charged = any(name == "grid" or name in item.says.casefold() for name in names)
    return None if charged else item.part.price


def priced_part(kit: Kit, says: str) -> LegPart | Extension | None:
    """The part of the kit that a row of the order list stands for."""
    by_words: dict[str, LegPart | Extension] = {leg_words(kit, leg): leg for leg in kit.legs}
    by_words |= {extension_words(extension): extension for extension in kit.extensions}
    return by_words.get(says)
