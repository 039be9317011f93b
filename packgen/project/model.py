"""The project as one frozen record; the parts are in room_model and work_model."""

from __future__ import annotations

from pydantic import Field

from packgen.project.kinds import Count
from packgen.project.record import Record
from packgen.project.room_model import (
    Base,
    Datum,
    Drain,
    Joint,
    Laser,
    Lifted,
    Opening,
    ProjectInfo,
    Room,
    Service,
    ServicesFound,
    Today,
)
from packgen.project.work_model import (
    Calendar,
    Exercise,
    Fills,
    Heating,
    Kit,
    Levels,
    Limits,
    Person,
    Plant,
    Prices,
    Rates,
    Zone,
)


class Project(Record):
    pack_layout: Count = 1
    project: ProjectInfo
    exercise: Exercise | None = None
    datum: Datum
    base: Base
    rooms: tuple[Room, ...]
    openings: tuple[Opening, ...] = ()
    finishes: tuple[Zone, ...]
    services: tuple[Service, ...] = ()
    joints: tuple[Joint, ...] = ()
    drains: tuple[Drain, ...] = ()
    kit: Kit
    fills: Fills
    heating: Heating | None = None
    levels: Levels
    crew: tuple[Person, ...]
    plant: tuple[Plant, ...] = ()
    rates: Rates
    calendar: Calendar
    prices: Prices = Prices()
    limits: Limits = Limits()
    lifted: tuple[Lifted, ...] = ()
    today: Today | None = None
    laser: Laser | None = None
    services_found: ServicesFound | None = None
    file_name: str = Field(default="project.yaml", exclude=True)

    @property
    def outside(self) -> bool:
        """Whether the work lies outside: said by the room, else told by free edges with waterproofing."""
        said = [r.place for r in self.rooms if r.place]
        if said:
            return "outside" in said
        return any(r.free_edges for r in self.rooms) and self.base.waterproofing is not None
