"""Force of each leg on its foot, and the pressure below it (J4)."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Source, Worked
from packgen.heights.model import LegSetting
from packgen.layout.model import Node
from packgen.project.given import given
from packgen.project.model import Project
from packgen.quantities.model import FootForce, Weights
from packgen.quantities.weight import ZoneWeight, as_load, fill_kg_m2
from packgen.quantities.weight_lines import (
    GRAVITY,
    STANDARD_GRAVITY,
    density_given,
    imposed_given,
    kit_given,
    layers_needs,
    people_given,
)

PI = Given("pi", 3.14159265, "", Source("geometry of the circle", known="read"))


def foot_area_m2(project: Project) -> float:
    """What presses on the base, to 6 decimals: the foot, or the stiff pad under it."""
    pads = project.base.pads
    square = pads.width * pads.length if pads is not None else math.pi * project.kit.foot.diameter**2 / 4
    return half_up(square / 1e6, 6)


def pressure_kpa(force_kn: float, area_m2: float) -> float:
    """Pressure under a foot: p = F / A   [kN / m² = kPa]

    >>> round(pressure_kpa(1.32, 0.002827))
    467
    """
    return force_kn / area_m2


def feet(
    project: Project,
    legs: Sequence[LegSetting],
    nodes: Sequence[Node],
    zones: Mapping[str, ZoneWeight],
    weights: Weights,
) -> tuple[FootForce, ...]:
    """Force and pressure for every leg, in the order of `legs`.

    F = tributary area x max(fresh + people, dry + imposed), with the depth at that leg; p = F / foot area.   [kN, kPa]
    """
    share = {n.id: n.tributary_mm2 / 1e6 for n in nodes}
    area = foot_area_m2(project)
    out = []
    for leg in legs:
        load = max(_fresh(leg, zones, weights), _dry(leg, zones, weights))
        force = half_up(half_up(share[leg.node], 4) * half_up(load, 3), 3)
        out.append(FootForce(leg.node, force, half_up(pressure_kpa(force, area), 1), project.kit.foot.load_limit))
    return tuple(out)


def _fresh(leg: LegSetting, zones: Mapping[str, ZoneWeight], weights: Weights) -> float:
    kg = fill_kg_m2(_depth(leg), zones[leg.zone].fill.fresh_density) + weights.kit_kg_m2
    return as_load(kg) + weights.people_kn_m2


def _dry(leg: LegSetting, zones: Mapping[str, ZoneWeight], weights: Weights) -> float:
    zone = zones[leg.zone]
    kg = fill_kg_m2(_depth(leg), zone.fill.hardened_density) + weights.kit_kg_m2 + zone.layers_kg_m2
    return as_load(kg) + weights.imposed_kn_m2


def _depth(leg: LegSetting) -> float:
    """Depth at the leg as it is printed: its length, rail top less base."""
    return float(leg.leg_mm)


def foot_lines(
    project: Project,
    found: Sequence[FootForce],
    legs: Sequence[LegSetting],
    nodes: Sequence[Node],
    zones: Mapping[str, ZoneWeight],
    weights: Weights,
) -> tuple[Worked, ...]:
    """The leg with the greatest force, worked in full."""
    if not found:
        return ()
    worst = max(found, key=lambda f: (f.force_kn, f.node))
    leg = next(k for k in legs if k.node == worst.node)
    node = next(n for n in nodes if n.id == worst.node)
    return one_foot_lines(project, worst, leg, node, zones, weights)


def foot_area_line(project: Project) -> Worked:
    """What presses on the base: the pad under a foot, or the foot itself."""
    pads, foot = project.base.pads, project.kit.foot
    if pads is not None:
        name, formula, numbers = (
            "area of a pad",
            "width x length",
            f"{plain(pads.width)} x {plain(pads.length)} / 1000000",
        )
        figures = [
            given(pads, "width", "width of a pad", pads.width),
            given(pads, "length", "length of a pad", pads.length),
        ]
    else:
        name, formula = "area of a foot", "pi x diameter x diameter / 4"
        numbers = f"{PI.value} x {plain(foot.diameter)} x {plain(foot.diameter)} / 4 / 1000000"
        figures = [PI, given(foot, "diameter", "diameter of a foot", foot.diameter)]
    return Worked("foot/area", name, formula, numbers, foot_area_m2(project), 6, "m²", FILE, given=tuple(figures))


def one_foot_lines(
    project: Project,
    found: FootForce,
    leg: LegSetting,
    node: Node,
    zones: Mapping[str, ZoneWeight],
    weights: Weights,
) -> tuple[Worked, ...]:
    """Load at a leg, force on its foot, and the pressure below."""
    area, zone = node.tributary_mm2 / 1e6, zones[leg.zone]
    kit, depth = plain(weights.kit_kg_m2), plain(_depth(leg))
    fresh = f"({depth} / 1000 x {plain(zone.fill.fresh_density)} + {kit}) x {GRAVITY} / 1000"
    fresh += f" + {plain(weights.people_kn_m2)}"
    dry = f"({depth} / 1000 x {plain(zone.fill.hardened_density)} + {kit} + {plain(zone.layers_kg_m2)})"
    dry += f" x {GRAVITY} / 1000 + {plain(weights.imposed_kn_m2)}"
    load = half_up(max(_fresh(leg, zones, weights), _dry(leg, zones, weights)), 3)
    base, square = f"node/{leg.node}", foot_area_m2(project)
    needs, layers = layers_needs(project, zone)
    return (
        Worked(
            f"{base}/load",
            f"load at {leg.node}",
            "larger of fresh + people and dry + imposed",
            f"max({fresh}, {dry})",
            load,
            3,
            "kN/m²",
            FILE,
            (f"{base}/leg", *needs),
            (
                density_given(zone.fill, dry=False),
                kit_given(project),
                people_given(weights),
                density_given(zone.fill, dry=True),
                *layers,
                imposed_given(project, weights),
                STANDARD_GRAVITY,
            ),
        ),
        Worked(
            f"{base}/force",
            f"force on the foot of {leg.node}",
            "floor this leg carries x load",
            f"{plain(half_up(area, 4), 4)} x {plain(load)}",
            found.force_kn,
            3,
            "kN",
            needs=(f"{base}/load",),
            given=(Given(f"floor nearer to {leg.node} than to any other leg", half_up(area, 4), "m²", ON_PLAN),),
        ),
        Worked(
            f"{base}/pressure",
            f"pressure under {leg.node}",
            "force / area of the pad" if project.base.pads else "force / area of the foot",
            f"{plain(found.force_kn)} / {plain(square, 6)}",
            found.pressure_kpa,
            1,
            "kPa",
            needs=(f"{base}/force", "foot/area"),
        ),
    )
