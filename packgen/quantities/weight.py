"""Weight of the floor on a square metre: dry for good and fresh on the day, at the mean and at the worst place (J3)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.core.figures import KILONEWTON_PER_KG, half_up, plain, round_down
from packgen.core.plane import Point
from packgen.core.worked import Assumed
from packgen.heights.build_up import layers_mass
from packgen.heights.model import Heights
from packgen.layout.model import Node
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.model import Weights
from packgen.quantities.raster import levels, raster_of, windows, within
from packgen.survey.model import Survey
from packgen.trade.amounts import amount, assumed_amount, layer_density


def fill_kg_m2(depth_mm: float, density_kg_m3: float) -> float:
    """Mass of a layer of fill on a square metre: depth / 1000 x density   [kg/m²]

    >>> fill_kg_m2(50, 2000)
    100.0
    """
    return depth_mm / 1000 * density_kg_m3


def as_load(kg_m2: float) -> float:
    """A mass on a square metre as a load: kg/m² x standard gravity / 1000   [kN/m²]

    >>> round(as_load(130), 3)
    1.275
    """
    return kg_m2 * KILONEWTON_PER_KG


@dataclass(frozen=True, slots=True)
class ZoneWeight:
    """What a zone weighs: its fill, and its layers in kg/m²."""

    zone: str
    fill: Fill
    layers_kg_m2: float


@dataclass(frozen=True, slots=True)
class Worst:
    """The heaviest square: weights without people, mean depth over it, its low corner."""

    dry_kg_m2: float
    fresh_kg_m2: float
    mean_mm: float
    at: Point


def zone_weights(project: Project) -> dict[str, ZoneWeight]:
    """Fill and layers by zone name."""
    fills = dict(project.fills.described)
    return {
        z.zone: ZoneWeight(
            z.zone, fills.get(z.fill or project.fills.use, project.fills.used), half_up(layers_mass(z), 2)
        )
        for z in project.finishes
    }


def imposed(project: Project) -> tuple[float, Assumed | None]:
    """Imposed load, kN/m², and the assumption where the file gives none."""
    if project.base.imposed_load is not None:
        return project.base.imposed_load, None
    name = "imposed_joists" if project.base.timber else "imposed_slab"
    return amount(name), assumed_amount(name, "force on a foot, load while working")


def weigh(project: Project, survey: Survey, heights: Heights, nodes: Sequence[Node]) -> Weights:
    """Weights at the mean depth and over the worst square metre.

    dry = mean x hardened density + kit + layers; fresh = mean x fresh density + kit; kN/m² = kg/m² x 9.80665 / 1000.
    Several zones count by their areas. Working: fresh, people and stacked bags against allowed and imposed load.
    """
    zones, kit = zone_weights(project), project.kit.mass
    parts = zone_parts(zones, heights)
    layers = sum(a * z.layers_kg_m2 for z, a, _ in parts) / sum(a for _, a, _ in parts)
    dry, fresh = mean_weights(project, heights)
    worst = worst_square(survey, heights, zones, kit)
    people = amount("people")
    load, _ = imposed(project)
    allowed = project.base.extra_load_allowed
    counted = project.base.imposed_load is not None or project.base.timber
    working = allowed + load if allowed is not None and counted else None
    bag = max(z.fill.bag.mass for z in zones.values())
    room = None if working is None else working - people - as_load(worst.fresh_kg_m2)
    return Weights(
        dry_kg_m2=dry,
        fresh_kg_m2=fresh,
        dry_kn_m2=as_load(dry),
        fresh_kn_m2=as_load(fresh),
        fresh_with_people_kn_m2=as_load(fresh) + people,
        worst_dry_kn_m2=as_load(worst.dry_kg_m2),
        worst_fresh_kn_m2=as_load(worst.fresh_kg_m2),
        worst_at=_near_node(worst.at, nodes),
        worst_mean_depth_mm=half_up(worst.mean_mm, 1),
        layers_kg_m2=half_up(layers, 1),
        kit_kg_m2=kit,
        people_kn_m2=people,
        allowed_dry_kn_m2=allowed,
        allowed_working_kn_m2=working,
        bags_per_m2=None if room is None else max(0, int(round_down(room / KILONEWTON_PER_KG / bag))),
        imposed_kn_m2=load,
        worst_from=worst.at,
    )


def mean_weights(project: Project, heights: Heights) -> tuple[float, float]:
    """Dry and fresh weight at the mean depth, kg/m² to 1 decimal; several zones count by their areas."""
    parts, kit = zone_parts(zone_weights(project), heights), project.kit.mass
    area = sum(a for _, a, _ in parts)
    dry = sum(a * (fill_kg_m2(m, z.fill.hardened_density) + z.layers_kg_m2) for z, a, m in parts) / area + kit
    fresh = sum(a * fill_kg_m2(m, z.fill.fresh_density) for z, a, m in parts) / area + kit
    return half_up(dry, 1), half_up(fresh, 1)


def zone_parts(zones: Mapping[str, ZoneWeight], heights: Heights) -> list[tuple[ZoneWeight, float, float]]:
    """Zone, its area to 4 decimals and its mean depth to 1, as printed."""
    if len(zones) == 1:
        found = [(name, heights.depth) for name in zones]
    else:
        found = [(z.zone, z.depth) for z in heights.by_zone]
    return [(zones[name], half_up(d.area_mm2 / 1e6, 4), half_up(d.mean_mm, 1)) for name, d in found]


def worst_square(survey: Survey, heights: Heights, zones: Mapping[str, ZoneWeight], kit: float) -> Worst:
    """The heaviest 1 x 1 m square inside a room, on a raster of 100; in a narrower room its fullest square."""
    step, side = amount("raster"), amount("square")
    size = round(side / step)
    best: Worst | None = None
    for room in survey.rooms:
        if not room.floor:
            continue
        grid = raster_of(room.floor, step)
        pad = [(0, max(0, size - n)) for n in grid.inside.shape]
        depth = np.nan_to_num(levels(grid, heights.rail_top) - levels(grid, survey.base))
        dry, fresh = np.zeros_like(depth), np.zeros_like(depth)
        for top in heights.zones:
            zone = zones[top.name]
            mine = grid.inside.copy()
            if len(heights.zones) > 1:
                mine = mine & np.any([within(grid, p) for p in top.region] or [np.zeros_like(mine)], axis=0)
            dry[mine] = depth[mine] * zone.fill.hardened_density / 1000 + zone.layers_kg_m2 + kit
            fresh[mine] = depth[mine] * zone.fill.fresh_density / 1000 + kit
        sums = [windows(np.pad(a, pad), size) for a in (grid.inside.astype(float), dry, fresh, depth)]
        full = sums[0] >= sums[0].max() - 0.5
        count = float(sums[0].max())
        if count < 1:
            continue
        heavy = np.where(full, sums[1], -1.0)
        row, column = np.unravel_index(int(np.argmax(np.round(heavy, 6))), heavy.shape)
        fresh_most = float(np.where(full, sums[2], -1.0).max()) / count
        found = Worst(
            float(sums[1][row, column] / count),
            fresh_most,
            float(sums[3][row, column] / count),
            (grid.x0 + float(column) * step, grid.y0 + float(row) * step),
        )
        best = found if best is None or found.dry_kg_m2 > best.dry_kg_m2 else best
    if best is None:
        raise ValueError("no floor to weigh")
    return best


def _near_node(low: Point, nodes: Sequence[Node]) -> str:
    half = amount("square") / 2
    x, y = low[0] + half, low[1] + half
    near = min(nodes, key=lambda n: (round((n.x_mm - x) ** 2 + (n.y_mm - y) ** 2, 3), n.id), default=None)
    return near.id if near is not None else f"{x:.0f} from corner 1, {y:.0f} into the room"


def weight_assumed(project: Project) -> tuple[Assumed, ...]:
    """People while working, imposed load, and layers weighed by their names."""
    out = [assumed_amount("people", "load while working")]
    if (load := imposed(project)[1]) is not None:
        out.append(load)
    for zone in project.finishes:
        if zone.weight_of_layers is not None:
            continue
        for layer in zone.layers:
            if layer.mass is None:
                found = layer_density(layer.name)
                says = f"density of {layer.name} ({zone.zone})"
                key = "finishes: weight of layers"
                out.append(Assumed(says, plain(found.kg_m3, 0), "kg/m³", found.source, key, "dry weight"))
    return tuple(out)
