"""The six records of a plan in one hand, with the look-ups that most checks need, and places in words."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from packgen.core import figures
from packgen.core.plane import Point, Polygon, contains
from packgen.core.surface import level_at
from packgen.heights.model import DoorStep, Heights, LegSetting, RailOverService, ZoneTop
from packgen.layout.model import FootClash, Layout, Node
from packgen.project.model import Project
from packgen.project.room_model import Opening, Service
from packgen.project.work_model import Fill, Zone
from packgen.quantities.model import Quantities
from packgen.sequence.model import Sequence
from packgen.survey.model import Door, Survey
from packgen.trade.limits import Binder


@dataclass(frozen=True)
class Job:
    project: Project
    survey: Survey
    layout: Layout
    heights: Heights
    quantities: Quantities
    sequence: Sequence

    @property
    def fill(self) -> Fill:
        return self.project.fills.used

    def fill_of(self, name: str) -> Fill:
        """The fill of a pour by its name."""
        return dict(self.project.fills.described).get(name, self.fill)

    @property
    def outside(self) -> bool:
        return self.project.outside

    @cached_property
    def heated(self) -> bool:
        return self.project.heating is not None or any(s.heating for s in self.project.services)

    @property
    def binder(self) -> Binder:
        return "calcium sulfate" if self.fill.family == "calcium sulfate" else "cement"

    @property
    def screed(self) -> bool:
        """Whether the fill is a screed that shrinks, cracks and dries as one: no bead fill, no loose fill."""
        return self.fill.family in ("sand-cement", "calcium sulfate")

    @property
    def datum(self) -> str:
        return self.project.datum.name

    @property
    def first_pour(self) -> datetime.date | None:
        return min((p.date for p in self.sequence.pours), default=None)

    @property
    def last_pour(self) -> datetime.date | None:
        return max((p.date for p in self.sequence.pours), default=None)

    @cached_property
    def nodes(self) -> dict[str, Node]:
        return {n.id: n for n in self.layout.nodes}

    @cached_property
    def legs(self) -> dict[str, LegSetting]:
        return {leg.node: leg for leg in self.heights.legs}

    @cached_property
    def crossings(self) -> dict[str, list[RailOverService]]:
        """Rails over each service, tightest first."""
        found: dict[str, list[RailOverService]] = {}
        for c in self.heights.crossings:
            found.setdefault(c.service, []).append(c)
        return found

    @cached_property
    def clashes(self) -> dict[str, list[FootClash]]:
        """Feet on or near each service."""
        found: dict[str, list[FootClash]] = {}
        for c in self.layout.foot_clashes:
            found.setdefault(c.service, []).append(c)
        return found

    @cached_property
    def doors(self) -> dict[str, Door]:
        return {d.name: d for room in self.survey.rooms for d in room.doors}

    @property
    def judged_doors(self) -> tuple[DoorStep, ...]:
        return tuple(d for d in self.heights.doors if d.judged)

    def opening(self, name: str) -> Opening:
        return next(o for o in self.project.openings if o.name == name)

    def service(self, name: str) -> Service | None:
        """The service of the file that a laid-out run belongs to ("radiator pipes 2" is one of "radiator pipes")."""
        exact = [s for s in self.project.services if s.name == name]
        return next(iter(exact or [s for s in self.project.services if name.startswith(s.name)]), None)

    def zone_at(self, at: Point) -> ZoneTop:
        """The zone over a place; beyond all of them the first."""
        over = (z for z in self.heights.zones if any(contains(p, at, 10.0) for p in z.region))
        return next(over, self.heights.zones[0])

    def file_zone(self, name: str) -> Zone | None:
        return next((z for z in self.project.finishes if z.zone == name), None)

    def finished_at(self, at: Point) -> float:
        """Finished level at a place, mm against the datum."""
        return level_at(self.heights.rail_top, at) + self.zone_at(at).build_up.finish_mm

    def near(self, at: Point) -> str:
        """A place in words: the node beside it, else its distances from corner 1's two walls."""
        if self.layout.nodes:
            far = np.hypot(*(self._feet - at).T)
            beside = min(self.layout.nodes[i].id for i in np.flatnonzero(far == far.min()))
            if far.min() <= self.project.kit.module:
                return beside
        return self.taped(at, "into the room")

    @cached_property
    def _feet(self) -> np.ndarray:
        return np.array([n.at for n in self.layout.nodes])

    def taped(self, at: Point, into: str = "from wall 1") -> str:
        """A place by its distances in its room, which is named where there are several."""
        rooms = self.survey.rooms
        room = next((r for r in rooms if contains(Polygon(r.ring), at, 1.0)), rooms[0])
        x, y = (c - o for c, o in zip(at, room.origin, strict=True))
        across = f"{figures.number(y)} {into}" if y > -0.5 else f"{figures.number(-y)} outside the line of wall 1"
        along = f"{figures.number(x)} along wall 1" if x > -0.5 else f"{figures.number(-x)} before corner 1"
        return f"{along}, {across}{f' of {room.name}' if len(rooms) > 1 else ''}"

    def level(self, mm: float) -> str:
        return figures.level(mm, self.datum)


def mm(value: float) -> str:
    """A length whole where it is whole, else to a tenth, so that a shortfall never rounds away."""
    return figures.plain(value, 1)


def many(count: int, one: str, more: str | None = None) -> str:
    """ "1 leg", "35 legs"."""
    return f"{count} {one if count == 1 else more or one + 's'}"
