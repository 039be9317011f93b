"""Force of each leg on its foot, and the pressure below it (J4)."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, Worked
from packgen.heights.model import LegSetting
from packgen.layout.model import Node
from packgen.project.model import Project
from packgen.quantities.model import FootForce, Weights
from packgen.quantities.weight import GRAVITY, ZoneWeight, as_load, fill_kg_m2


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
    area = next(n.tributary_mm2 for n in nodes if n.id == worst.node) / 1e6
    zone = zones[leg.zone]
    kit, depth = plain(weights.kit_kg_m2), plain(_depth(leg))
    fresh = f"({depth} / 1000 x {plain(zone.fill.fresh_density)} + {kit}) x {GRAVITY} / 1000"
    fresh += f" + {plain(weights.people_kn_m2)}"
    dry = f"({depth} / 1000 x {plain(zone.fill.hardened_density)} + {kit} + {plain(zone.layers_kg_m2)})"
    dry += f" x {GRAVITY} / 1000 + {plain(weights.imposed_kn_m2)}"
    load = half_up(max(_fresh(leg, zones, weights), _dry(leg, zones, weights)), 3)
    base = f"node/{leg.node}"
    square = foot_area_m2(project)
    lines = [
        Worked(
            f"{base}/load",
            f"load at {leg.node}",
            "larger of fresh + people and dry + imposed",
            f"max({fresh}, {dry})",
            load,
            3,
            "kN/m²",
            FILE,
        ),
        Worked(
            f"{base}/force",
            f"force on the foot of {leg.node}",
            "floor this leg carries x load",
            f"{plain(half_up(area, 4), 4)} x {plain(load)}",
            worst.force_kn,
            3,
            "kN",
            needs=(f"{base}/load",),
        ),
        Worked(
            f"{base}/pressure",
            f"pressure under {leg.node}",
            "force / area of the pad" if project.base.pads else "force / area of the foot",
            f"{plain(worst.force_kn)} / {plain(square, 6)}",
            half_up(pressure_kpa(worst.force_kn, square), 0),
            0,
            "kPa",
            needs=(f"{base}/force",),
        ),
    ]
    return tuple(lines)
