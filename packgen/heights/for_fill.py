"""The heights of the same floor under another fill, at the same finished level (J7)."""

from __future__ import annotations

from packgen.heights.build_up import board_materials, is_board, layer_mass, layers_for
from packgen.heights.model import Heights
from packgen.heights.settle import find_heights
from packgen.heights.top import lay_ground
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.work_model import BoardOnTop, Zone
from packgen.survey.model import Survey


def heights_for_fill(project: Project, survey: Survey, layout: Layout, fill_name: str) -> Heights:
    """Heights with another of the described fills: the board goes with the fill, the finished level stays.

    finish = layers that are not a board + the other fill's board. A zone that names a fill of its own keeps it. A
    finished level that the file leaves open is held where the fill in use has it. KeyError for an unknown fill.
    """
    return find_heights(with_fill(project, survey, layout, fill_name), survey, layout)


def with_fill(project: Project, survey: Survey, layout: Layout, fill_name: str) -> Project:
    """The project with another fill in use and the layers that go with it. KeyError for an unknown fill."""
    fill = dict(project.fills.described)[fill_name]
    if fill_name == project.fills.use:
        return project
    held: dict[str, float] = {}
    if any(z.finished_level.level is None for z in project.finishes):
        falls = lay_ground(project, survey.rooms).falls
        tops = find_heights(project, survey, layout).zones
        held = {z.name: z.finished_mm - f.per_m / 1000 * f.at for z, f in zip(tops, falls, strict=True)}
    materials = board_materials(project)
    zones = tuple(_with_board(zone, fill.board_on_top, materials, held.get(zone.zone)) for zone in project.finishes)
    fills = project.fills.model_copy(update={"use": fill_name})
    return project.model_copy(update={"fills": fills, "finishes": zones})


def _with_board(zone: Zone, board: BoardOnTop | None, materials: tuple[str, ...], held: float | None) -> Zone:
    update: dict[str, object] = {}
    if held is not None and zone.finished_level.level is None:
        update["finished_level"] = zone.finished_level.model_copy(update={"level": held})
    if zone.fill is None:
        layers = layers_for(zone, board, materials)
        update["layers"] = layers
        if zone.weight_of_layers is not None and layers != zone.layers:
            gone = sum(layer_mass(x) for x in zone.layers if is_board(x, materials))
            update["weight_of_layers"] = (
                zone.weight_of_layers - gone + sum(layer_mass(x) for x in layers if is_board(x, materials))
            )
    return zone.model_copy(update=update)
