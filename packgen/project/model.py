"""The project as one frozen record, whole or begun; the parts are in room_model and work_model."""

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
        return lies_outside(self.rooms, self.base)


class Begun(Record):
    """A project file that is still being written: the rooms are there, every other section may be.

    The sections are those of `Project`, each None (or empty) until the file has it.
    """

    pack_layout: Count = 1
    project: ProjectInfo | None = None
    exercise: Exercise | None = None
    datum: Datum | None = None
    base: Base | None = None
    rooms: tuple[Room, ...]
    openings: tuple[Opening, ...] = ()
    finishes: tuple[Zone, ...] | None = None
    services: tuple[Service, ...] = ()
    joints: tuple[Joint, ...] = ()
    drains: tuple[Drain, ...] = ()
    kit: Kit | None = None
    fills: Fills | None = None
    heating: Heating | None = None
    levels: Levels | None = None
    crew: tuple[Person, ...] | None = None
    plant: tuple[Plant, ...] | None = None
    rates: Rates | None = None
    calendar: Calendar | None = None
    prices: Prices | None = None
    limits: Limits = Limits()
    lifted: tuple[Lifted, ...] = ()
    today: Today | None = None
    laser: Laser | None = None
    services_found: ServicesFound | None = None
    file_name: str = Field(default="project.yaml", exclude=True)

    @property
    def outside(self) -> bool:
        """As `Project.outside`."""
        return lies_outside(self.rooms, self.base)


WHOLE_FILES = (Project, Begun)  # the records that stand for a whole file


def lies_outside(rooms: tuple[Room, ...], base: Base | None) -> bool:
    said = [r.place for r in rooms if r.place]
    if said:
        return "outside" in said
    return any(r.free_edges for r in rooms) and base is not None and base.waterproofing is not None
