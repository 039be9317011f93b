"""Layers above the rail, and what becomes of them when another fill is chosen."""

from __future__ import annotations

from packgen.heights.model import BuildUp
from packgen.project.model import Project
from packgen.project.work_model import BoardOnTop, Layer, Zone
from packgen.trade.amounts import layer_density


def build_up(zone: Zone) -> BuildUp:
    """The zone's layers from the top as the file names them, and their sum."""
    return BuildUp(tuple((layer.name, layer.thickness) for layer in zone.layers), sum(x.thickness for x in zone.layers))


def board_materials(project: Project) -> tuple[str, ...]:
    """Materials of the boards that any of the described fills carries."""
    boards = (fill.board_on_top for _, fill in project.fills.described)
    return tuple(dict.fromkeys(b.material.casefold() for b in boards if b is not None))


def is_board(layer: Layer, materials: tuple[str, ...]) -> bool:
    """Whether a layer is a fill's board: its name starts with the board's material."""
    return layer.name.casefold().startswith(materials) if materials else False


def layers_for(zone: Zone, board: BoardOnTop | None, materials: tuple[str, ...]) -> tuple[Layer, ...]:
    """The zone's layers under another fill: those that are not a board, then that fill's own board."""
    kept = [layer for layer in zone.layers if not is_board(layer, materials)]
    if board is None:
        return tuple(kept)
    same = [
        layer
        for layer in zone.layers
        if is_board(layer, (board.material.casefold(),)) and layer.thickness == board.thickness
    ]
    return (*kept, same[0] if same else Layer(name=f"{board.material} board", thickness=board.thickness))


def layers_mass(zone: Zone) -> float:
    """Mass of the layers, kg/m²: the zone's sum, else layer by layer its own figure or thickness x density."""
    if zone.weight_of_layers is not None:
        return zone.weight_of_layers
    return sum(layer_mass(layer) for layer in zone.layers)


def layer_mass(layer: Layer) -> float:
    """Mass of one layer, kg/m²: the file's own figure, else thickness x density by its name."""
    return layer.mass if layer.mass is not None else layer.thickness / 1000 * layer_density(layer.name).kg_m3
