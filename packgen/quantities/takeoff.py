"""The quantities stage: fill, weight, feet, order list, comparison of fills."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core.worked import PRACTICE, Assumed, Worked
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.quantities.beds import bed_assumed, drain_beds
from packgen.quantities.boards import board_plans
from packgen.quantities.circuits import circuits
from packgen.quantities.compare import compare_fills
from packgen.quantities.feet import feet, foot_area_line, foot_lines
from packgen.quantities.fill import bay_fills, fill_lines, litres_by_fill, order_line, order_litres
from packgen.quantities.model import BayFill, Quantities
from packgen.quantities.order import SHEETS, measure, order_list
from packgen.quantities.weight import weigh, weight_assumed, zone_weights
from packgen.quantities.weight_lines import more_weight_lines, weight_lines
from packgen.survey.model import Survey


def take_off(project: Project, survey: Survey, layout: Layout, heights: Heights) -> Quantities:
    """Quantities of a checked project. Bags go by pour: order list and money follow the days (purchase/)."""
    bays = bay_fills(project, survey, layout, heights)
    measured = measure(project, survey, bays)
    weights = weigh(project, survey, heights, layout.nodes)
    zones = zone_weights(project)
    found_feet = feet(project, heights.legs, layout.nodes, zones, weights)
    pipes, pipe_lines = circuits(project, layout)
    boards = board_plans(project, layout, bays)
    listed = order_list(project, survey, layout, heights, measured, pipes, boards)
    legs = heights.legs
    volume = sum(b.volume_l for b in bays)
    lines = (
        *fill_lines(bays, layout.bays),
        *_order_lines(project, bays),
        *weight_lines(project, weights, heights),
        *foot_lines(project, found_feet, legs, layout.nodes, zones, weights),
        *pipe_lines,
        *listed.worked,
    )
    further = (
        *(litres_by_fill(bays, layout.bays) if len({b.fill for b in bays}) > 1 else ()),
        *more_weight_lines(project, weights, heights),
        foot_area_line(project),
        *listed.further,
    )
    return Quantities(
        bays=bays,
        volume_l=volume,
        to_order_l=_to_order(project, bays),
        weight=weights,
        feet=found_feet,
        goods=listed.lines,
        comparison=compare_fills(project, survey, layout, heights),
        circuits=pipes,
        strip_m=next((x.quantity for x in listed.lines if x.item.startswith("perimeter strip")), 0.0),
        separating_layer_m2=next(
            (x.quantity for x in listed.lines if x.group == SHEETS and x.item.startswith("separating layer")), 0.0
        ),
        legs_plain=sum(k.parts == "plain" for k in legs),
        legs_extended=sum(k.parts == "extension" for k in legs),
        legs_packed=sum(k.parts == "packing" for k in legs),
        legs_not_fitting=sum(not k.fits for k in legs),
        assumed=(
            *weight_assumed(project),
            *listed.assumed,
            *_fill_assumed(project),
            *bed_assumed(project, drain_beds(project, survey, layout, heights)),
        ),
        worked=lines,
        further=further,
        floor_m2=measured.floor_m2,
        room_m2=measured.room_m2,
        boards=tuple(plan for plan, _ in boards),
        boards_m2=sum(area for _, area in measured.boards),
        free_edges_m=measured.free_edges_m,
    )


def _by_fill(bays: Sequence[BayFill]) -> dict[str, float]:
    litres: dict[str, float] = {}
    for bay in bays:
        litres[bay.fill] = litres.get(bay.fill, 0.0) + bay.volume_l
    return litres


def _to_order(project: Project, bays: Sequence[BayFill]) -> float:
    fills = dict(project.fills.described)
    return sum(order_litres(v, fills.get(name, project.fills.used)) for name, v in _by_fill(bays).items())


def _order_lines(project: Project, bays: Sequence[BayFill]) -> Iterator[Worked]:
    fills = dict(project.fills.described)
    litres = _by_fill(bays)
    for name, volume in litres.items():
        alone = len(litres) == 1
        key = "fill/to order" if alone else f"fill/to order/{name}"
        needs = ("fill/litres",) if alone else (f"fill/litres/{name}",)
        yield order_line(volume, fills.get(name, project.fills.used), key, f"litres of {name} to order", needs)


def _fill_assumed(project: Project) -> tuple[Assumed, ...]:
    out = [
        Assumed("volume of the rails themselves, not taken off the fill", "0", "L/m²", PRACTICE, "", "litres, bags"),
    ]
    if any(o.depth is None for o in project.openings):
        out.append(
            Assumed("doorway behind the wall line: not filled", "0", "mm", PRACTICE, "openings: depth", "litres")
        )
    return tuple(out)
