"""The arithmetic of a leg's parts: where its screw stands with extensions and packing, or how far it is out."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import half_up, plain, round_up
from packgen.core.worked import COUNTED, FILE, Given, Source, Worked
from packgen.heights.kit_range import kit_range, priced
from packgen.heights.model import LegSetting
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.project.work_model import Kit, LegPart
from packgen.trade.grid_rules import grid_rule, value

NEAREST = Source("nearest length that can be set, of all parts of the kit", known="calculated")


def part_lines(project: Project, leg: LegSetting) -> Iterator[Worked]:
    """How long the screw is set under its parts, and its turns; of a leg that does not fit how far it is out."""
    key = f"node/{leg.node}"
    if not leg.fits:
        yield _out_of_range(project, leg, key, (f"{key}/leg",))
        return
    if leg.extensions or leg.packing_mm:
        yield _screw(project.kit, leg, key)
    if leg.turns is not None:
        yield _turns(project.kit, leg, key)


def _screw(kit: Kit, leg: LegSetting, key: str) -> Worked:
    """The leg itself under its extensions and its packing."""
    own = _leg_of(kit, leg)
    terms, figures = [plain(leg.leg_mm)], []
    extension = next((e for e in kit.extensions if e.name == leg.extension_kind), None)
    if leg.extensions and extension is not None:
        terms.append(f"{leg.extensions} x {plain(extension.adds)}")
        first = "the cheapest legs" if priced(kit) else "the fewest"
        rule = f"extensions: {first} that leave {plain(value('in_hand'))} in hand at both ends, where some do"
        figures.append(Given(rule, leg.extensions, "", grid_rule("in_hand").source))
        figures.append(given(extension, "adds", f"what {_named('an extension', extension.name)} adds", extension.adds))
    if leg.packing_mm and kit.packing is not None:
        place = place_of(kit.packing, "plates")
        figures.append(Given("thinnest packing that brings it within range", leg.packing_mm, "mm", COUNTED, place))
        terms.append(plain(leg.packing_mm))
    shortest, longest = plain(own.shortest), plain(own.longest)
    return Worked(
        f"{key}/screw",
        f"{_named('leg', own.name)} at {leg.node} without extension and packing",
        f"leg - extensions - packing, to lie from {shortest} to {longest}",
        " - ".join(terms),
        half_up(leg.screw_mm, 1),
        0 if float(leg.screw_mm).is_integer() else 1,
        "mm",
        FILE,
        (f"{key}/leg",),
        tuple(figures),
    )


def _turns(kit: Kit, leg: LegSetting, key: str) -> Worked:
    """Turns of the screw from how the leg is delivered."""
    own = _leg_of(kit, leg)
    delivered, pitch = own.delivered_at or 0.0, own.turn or 0.0
    screw = half_up(leg.screw_mm, 1)
    up = screw >= delivered
    sizes = f"{plain(screw)} - {plain(delivered)}" if up else f"{plain(delivered)} - {plain(screw)}"
    return Worked(
        f"{key}/turns",
        f"turns of the screw at {leg.node}, {'up' if up else 'down'}",
        "(leg set to - leg as delivered) / one turn" if up else "(leg as delivered - leg set to) / one turn",
        f"({sizes}) / {plain(pitch)}",
        abs(leg.turns or 0.0),
        1,
        "turns",
        FILE,
        (f"{key}/screw" if leg.extensions or leg.packing_mm else f"{key}/leg",),
        (
            given(own, "delivered at", f"{_named('leg', own.name)} as delivered", delivered),
            given(own, "turn", "what one turn gives", pitch),
        ),
    )


def _leg_of(kit: Kit, leg: LegSetting) -> LegPart:
    return next(own for own in kit.legs if own.name == leg.leg_kind)


def _named(what: str, name: str) -> str:
    return name or what


def _out_of_range(project: Project, leg: LegSetting, key: str, need: tuple[str, ...]) -> Worked:
    kit = kit_range(project.kit)
    ends = [e + p for _, low, high in kit.ranges for p in (0.0, *kit.packings) for e in (low, high)]
    end = min(ends, key=lambda e: (abs(e - leg.leg_mm), e))
    short = end > leg.leg_mm
    figure = Given("nearest length", end, "mm", NEAREST)
    for own, word in ((project.kit.shortest_leg, "shortest"), (project.kit.longest_leg, "longest")):
        if end == getattr(own, word):
            figure = given(own, word, f"{word} leg", end)
            break
    more, less = (end, leg.leg_mm) if short else (leg.leg_mm, end)
    return Worked(
        f"{key}/short",
        f"leg at {leg.node} too {'short' if short else 'long'} by",
        "nearest length that can be set - leg" if short else "leg - nearest length that can be set",
        f"ceil({plain(more)} - {plain(less)})",
        round_up(more - less),
        0,
        "mm",
        FILE,
        need,
        (figure,),
    )
