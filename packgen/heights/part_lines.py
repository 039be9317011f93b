"""The arithmetic of a leg's parts: where its screw stands with extensions and packing, or how far it is out."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import half_up, plain, round_up
from packgen.core.worked import COUNTED, FILE, Given, Source, Worked
from packgen.heights.kit_range import kit_range
from packgen.heights.model import LegSetting
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.trade.grid_rules import grid_rule, value

NEAREST = Source("nearest length that can be set, of all parts of the kit", known="calculated")


def part_lines(project: Project, leg: LegSetting) -> Iterator[Worked]:
    """How long the screw is set under its parts; of a leg that does not fit how far it is out of range."""
    key, kit = f"node/{leg.node}", project.kit
    need = (f"{key}/leg",)
    if not leg.fits:
        yield _out_of_range(project, leg, key, need)
        return
    if not leg.extensions and not leg.packing_mm:
        return
    terms, figures = [plain(leg.leg_mm)], []
    if leg.extensions and kit.extension is not None:
        terms.append(f"{leg.extensions} x {plain(kit.extension.adds)}")
        rule = f"extensions: the fewest that leave {plain(value('in_hand'))} in hand at both ends, where some do"
        figures.append(Given(rule, leg.extensions, "", grid_rule("in_hand").source))
        figures.append(given(kit.extension, "adds", "what an extension adds", kit.extension.adds))
    if leg.packing_mm and kit.packing is not None:
        place = place_of(kit.packing, "plates")
        figures.append(Given("thinnest packing that brings it within range", leg.packing_mm, "mm", COUNTED, place))
        terms.append(plain(leg.packing_mm))
    left = leg.leg_mm - leg.extensions * (kit.extension.adds if kit.extension else 0.0) - leg.packing_mm
    shortest, longest = plain(kit.leg.shortest), plain(kit.leg.longest)
    yield Worked(
        f"{key}/screw",
        f"leg at {leg.node} without extension and packing",
        f"leg - extensions - packing, to lie from {shortest} to {longest}",
        " - ".join(terms),
        half_up(left, 1),
        0 if float(left).is_integer() else 1,
        "mm",
        FILE,
        need,
        tuple(figures),
    )


def _out_of_range(project: Project, leg: LegSetting, key: str, need: tuple[str, ...]) -> Worked:
    kit = kit_range(project.kit)
    ends = [e + p for _, low, high in kit.ranges for p in (0.0, *kit.packings) for e in (low, high)]
    end = min(ends, key=lambda e: (abs(e - leg.leg_mm), e))
    short = end > leg.leg_mm
    own = {project.kit.leg.shortest: "shortest", project.kit.leg.longest: "longest"}.get(end)
    figure = given(project.kit.leg, own, f"{own} leg", end) if own else Given("nearest length", end, "mm", NEAREST)
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
