"""What all sections share: the record of one, what the plan says at a place, words for layers, legs and levels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.detail import Detail
from packgen.core.figures import level, plain
from packgen.core.plane import Point, contains
from packgen.heights.model import LegSetting, ZoneTop
from packgen.plan import Plan

WIDE_MM, LEFT_MM, RIGHT_MM = 178.0, 36.0, 46.0
WALL_SHOWN = 25.0  # mm of wall drawn
BLOCK = 60.0  # width of a support block as drawn


@dataclass(frozen=True, slots=True)
class Section:
    """A detail: what it shows, at which scale, the drawing, and the sum that a reader can check."""

    key: str
    title: str
    scale: int
    drawing: Markup
    sums: str


def zone_at(plan: Plan, at: Point) -> ZoneTop:
    """The zone that covers a place; the nearest by order where none does."""
    zones = plan.heights.zones
    return next((z for z in zones if any(contains(p, at, 1.0) for p in z.region)), zones[0])


def layer_words(layers: Sequence[tuple[str, float]]) -> str:
    """ "porcelain tile 10 + adhesive 5 + mat 3"."""
    return " + ".join(f"{name} {plain(mm)}" for name, mm in layers)


def column_sum(zone: ZoneTop, leg: int, base: int) -> str:
    """The sum from the base to the finished level at a leg."""
    total = leg + zone.build_up.finish_mm
    added = "".join(f" + {plain(mm)}" for _, mm in reversed(zone.build_up.layers))
    ends = f"from the base ({level(base)}) to the finished level ({level(base + total)})"
    return f"leg {leg}{added} = {plain(total)}, {ends}"


def settings_of(plan: Plan) -> dict[str, LegSetting]:
    return {leg.node: leg for leg in plan.heights.legs}


def say_levels(d: Detail, plan: Plan, zone: ZoneTop, top: float, base: float, x: float) -> None:
    """Levels at the left: finished, rail top, base."""
    name = plan.project.datum.name
    d.say_left(x, top + zone.build_up.finish_mm, "finished level", level(top + zone.build_up.finish_mm, name))
    if zone.build_up.finish_mm:
        d.say_left(x, top, "rail top", level(top, name))
    d.say_left(x, base, "base", level(base, name))


def say_layers(d: Detail, zone: ZoneTop, top: float, x: float) -> None:
    at = top + zone.build_up.finish_mm
    for name, thick in zone.build_up.layers:
        d.say(x, at - thick / 2, f"{name} {plain(thick)}")
        at -= thick


def put_leg(d: Detail, plan: Plan, x: float, leg: LegSetting, top: float) -> None:
    kit = plan.project.kit
    d.leg(x, top - leg.leg_mm, top, kit.rail.height, kit.foot.diameter, leg.adds_mm, leg.packing_mm)


def parts_words(leg: LegSetting) -> str:
    """What a leg is made of: "plain", "+40", "tall leg +40", "pack 12", "STOP"."""
    if not leg.fits:
        return "STOP"
    words = [leg.leg_kind] if leg.leg_kind else []
    words += [f"+{plain(leg.adds_mm)}"] if leg.extensions else []
    words += [f"pack {plain(leg.packing_mm)}"] if leg.packing_mm else []
    return " ".join(words) or "plain"
