"""Base, rail top and leg at every node, as printed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import whole
from packgen.core.nearest import nearest_of
from packgen.core.plane import Point
from packgen.core.profile import all_within_known, levels_at
from packgen.heights.kit_range import Choice, KitRange, choose_parts
from packgen.heights.top import Tops
from packgen.layout.model import Node
from packgen.survey.certainty import spreads
from packgen.survey.model import LevelPoint, Survey
from packgen.trade.grid_rules import value

Known = Literal["read", "between", "beyond"]


@dataclass(frozen=True, slots=True)
class Stand:
    """What is known of the base under one node. base_mm is exact; `reading` the point read there, if any."""

    node: Node
    base_mm: float
    known: Known
    reading: LevelPoint | None
    reading_distance_mm: float
    spread_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg: printed whole mm, and the exact levels for depths."""

    stand: Stand
    zone: int
    base_mm: int
    rail_top_mm: int
    rail_top_exact_mm: float
    choice: Choice
    raised_mm: int = 0

    @property
    def leg_mm(self) -> int:
        return self.rail_top_mm - self.base_mm

    @property
    def depth_mm(self) -> float:
        return self.rail_top_exact_mm - self.stand.base_mm  # of the fill, which a raised rail does not change


def stand_nodes(survey: Survey, nodes: Sequence[Node]) -> tuple[Stand, ...]:
    """The base under every node: what was read where a reading is the same spot, else the surface."""
    if not nodes:
        return ()
    spots = [n.at for n in nodes]
    nearest = _nearest_readings(survey.levels.points, spots)
    surface = levels_at(survey.base, spots)
    out = []
    inside = all_within_known(survey.base, spots)
    known_to: list[float | None] = [s.mm for s in spreads(survey, spots)]
    known_to = known_to or [None] * len(spots)
    for node, level, within, (point, distance), spread in zip(nodes, surface, inside, nearest, known_to, strict=True):
        if point is not None and distance <= value("same_spot"):
            out.append(Stand(node, point.level_mm, "read", point, distance, spread))
        else:
            known: Known = "between" if within else "beyond"
            out.append(Stand(node, level, known, None, distance, spread))
    return tuple(out)


def _nearest_readings(points: Sequence[LevelPoint], spots: Sequence[Point]) -> list[tuple[LevelPoint | None, float]]:
    if not points:
        return [(None, math.inf)] * len(spots)
    return [(points[i], far) for i, far in nearest_of([(p.x_mm, p.y_mm) for p in points], spots)]


def make_legs(stands: Sequence[Stand], tops: Tops, kit: KitRange, raised: Mapping[str, int]) -> tuple[Leg, ...]:
    """Legs in the nodes' order. Base and rail top are rounded first, so that the printed difference is the leg.

    raised: by node how much higher the rail lies there than its zone's rail top
    """
    out = []
    for stand in stands:
        zone = tops.zone_at(stand.node.room, stand.node.at)
        exact = tops.rail_top(zone, stand.node.at)
        up = raised.get(stand.node.id, 0)
        base, rail_top = whole(stand.base_mm), whole(exact) + up
        out.append(Leg(stand, zone, base, rail_top, exact, choose_parts(rail_top - base, kit), up))
    return tuple(out)
