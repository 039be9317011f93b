"""Covering, bags, fill, thresholds and start of a project, drawn by chance within bounds."""

from __future__ import annotations

import datetime
import random
from collections.abc import Mapping
from typing import Any

from packgen.core.figures import half_up
from packgen.heights.build_up import board_materials, is_board
from packgen.heights.for_fill import with_fill
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.record import Record
from packgen.project.work_model import Fill, Layer, Zone
from packgen.survey.model import Survey
from packgen.trade.amounts import layer_density
from packgen.trade.classroom import coverings


def other_covering(project: Project, bounds: Mapping[str, float], chance: random.Random) -> Project:
    """Every zone's top layer of another thickness. Where that thickness is not sold, a covering of the same sort is
    put in its place: soft ones on boards, hard ones on mineral bases. The weight of the layers goes with it.
    """
    materials = board_materials(project)
    thick = chance.randint(int(bounds["covering_least"]), int(bounds["covering_most"]))
    zones = tuple(_covered(zone, thick, materials) for zone in project.finishes)
    return project.model_copy(update={"finishes": zones})


def _covered(zone: Zone, thick: int, materials: tuple[str, ...]) -> Zone:
    if not zone.layers or is_board(zone.layers[0], materials):
        return zone
    old = zone.layers[0]
    new = Layer(name=_name_for(old.name, thick), thickness=float(thick))
    if old.mass is not None:
        new = new.model_copy(update={"mass": half_up(_mass(new), 1)})
    update: dict[str, object] = {"layers": (new, *zone.layers[1:])}
    if zone.weight_of_layers is not None:
        update["weight_of_layers"] = half_up(max(0.0, zone.weight_of_layers - _mass(old)) + _mass(new), 1)
    return zone.model_copy(update=update)


def _mass(layer: Layer) -> float:
    return layer.thickness / 1000 * layer_density(layer.name).kg_m3


def _name_for(name: str, thick: int) -> str:
    rows = coverings()
    own = next((r for r in rows if r.name in name.casefold()), None)
    if own is None or own.least_mm <= thick <= own.most_mm:
        return name
    same = [r for r in rows if r.hard == own.hard]
    fitting = [r for r in same if r.least_mm <= thick <= r.most_mm]
    return fitting[0].name if fitting else min(same, key=lambda r: abs(r.most_mm - thick)).name


def with_bag(project: Project, name: str, makes: float) -> Project:
    """One described fill in bags of another size; the bag's mass, price and water go with it."""
    described = tuple((n, _bagged(f, makes) if n == name else f) for n, f in project.fills.described)
    return project.model_copy(update={"fills": project.fills.model_copy(update={"described": described})})


def _bagged(fill: Fill, makes: float) -> Fill:
    share = makes / fill.bag.makes
    bag = fill.bag.model_copy(
        update={
            "makes": makes,
            "mass": half_up(fill.bag.mass * share, 1),
            "price": None if fill.bag.price is None else half_up(fill.bag.price * share, 2),
        }
    )
    water = fill.water
    if water is not None:
        water = water.model_copy(
            update={"least": half_up(water.least * share, 1), "most": half_up(water.most * share, 1)}
        )
    return fill.model_copy(update={"bag": bag, "water": water})


def other_fill(project: Project, survey: Survey, layout: Layout, chance: random.Random) -> Project:
    """One of the fills that the file compares, with the board that goes with it."""
    names = list(dict.fromkeys((project.fills.use, *project.fills.compare)))
    return with_fill(project, survey, layout, chance.choice(names))


def other_thresholds(project: Project, bounds: Mapping[str, float], chance: random.Random) -> Project:
    """Finished levels, doors and all that stays in the floor, together higher or lower."""
    up = float(chance.randint(-int(bounds["thresholds"]), int(bounds["thresholds"])))

    def moved(level: float | None) -> float | None:
        return None if level is None else level + up

    rooms = tuple(
        r.model_copy(update={"obstacles": tuple(o.model_copy(update={"top": moved(o.top)}) for o in r.obstacles)})
        for r in project.rooms
    )
    return project.model_copy(
        update={
            "rooms": rooms,
            "openings": tuple(
                o.model_copy(update={"floor_there": moved(o.floor_there), "sill": moved(o.sill)})
                for o in project.openings
            ),
            "finishes": tuple(
                z.model_copy(
                    update={
                        "finished_level": z.finished_level.model_copy(update={"level": moved(z.finished_level.level)})
                    }
                )
                for z in project.finishes
            ),
            "drains": tuple(d.model_copy(update={"top": moved(d.top)}) for d in project.drains),
        }
    )


def other_start(project: Project, bounds: Mapping[str, float], chance: random.Random) -> Project:
    """All days of the file some whole weeks later, so that readings and papers are as old as before."""
    moved = _later(project, datetime.timedelta(weeks=chance.randint(0, int(bounds["start_weeks"]))))
    assert isinstance(moved, Project)
    return moved


def _later(value: Any, by: datetime.timedelta) -> Any:
    if isinstance(value, datetime.date):
        return value + by
    if isinstance(value, tuple):
        return tuple(_later(v, by) for v in value)
    if isinstance(value, Record):
        found = {n: getattr(value, n) for n in type(value).model_fields if n != "marks"}
        moved = {n: new for n, old in found.items() if (new := _later(old, by)) is not old and new != old}
        return value.model_copy(update=moved) if moved else value
    return value
