"""Faults of the kinds of legs and extensions in a kit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.project.figure_checks import above_zero, least_most
from packgen.project.work_model import Kit, KitPart


def legs(kit: Kit) -> Iterable[Fault]:
    """Every kind can be set, stands clear of its rail, is delivered within its range, and has a name of its own."""
    for leg in kit.legs:
        yield from above_zero(leg.marks, "a leg", shortest=leg.shortest, longest=leg.longest, turn=leg.turn)
        yield from least_most(leg.marks, "leg", leg.shortest, leg.longest, ("shortest", "longest"))
        if 0 < leg.shortest < kit.rail.height:
            says = (
                f"shortest: a leg of {plain(leg.shortest)} is lower than the rail on it "
                f"({plain(kit.rail.height)}): a leg is measured to the TOP of the rail"
            )
            yield Fault(leg.marks.of("shortest"), "leg-below-rail", says)
        if leg.delivered_at is not None and not leg.shortest <= leg.delivered_at <= max(leg.longest, leg.shortest):
            says = (
                f"delivered at: {plain(leg.delivered_at)} is outside what the leg can be set to "
                f"({plain(leg.shortest)} to {plain(leg.longest)})"
            )
            yield Fault(leg.marks.of("delivered at"), "delivered-outside", says)
    for extension in kit.extensions:
        yield from above_zero(extension.marks, "an extension", adds=extension.adds)
    yield from _named("leg", kit.legs)
    yield from _named("extension", kit.extensions)


def _named(what: str, kinds: Sequence[KitPart]) -> Iterable[Fault]:
    """Several kinds are told apart by name, on the sheets and in the box."""
    if len(kinds) < 2:
        return
    seen: set[str] = set()
    for n, kind in enumerate(kinds, 1):
        name = " ".join(kind.name.split()).casefold()
        if not name:
            says = f"{what} {n} of {len(kinds)} lacks 'name': with several kinds the sheets have to tell them apart"
            yield Fault(kind.marks.start, "missing-key", says)
        elif name in seen:
            yield Fault(kind.marks.of("name"), "same-name", f"two kinds of {what} are called '{kind.name}'")
        seen.add(name)
