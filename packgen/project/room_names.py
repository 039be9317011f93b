"""Names of rooms: every reference in the room's own spelling, so that later stages may compare them as they stand."""

from __future__ import annotations

from typing import TypeVar

from packgen.project.model import Begun, Project
from packgen.project.record import Record
from packgen.project.room_model import Base
from packgen.project.work_model import Levels, Zone

Named = TypeVar("Named", bound=Record)
File = TypeVar("File", Project, Begun)


def as_rooms_spell(project: File) -> File:
    """The project with "room: Hall" read as the room called "hall", wherever a room is named."""
    names = {room.name.casefold(): room.name for room in project.rooms}

    def own(name: str | None) -> str | None:
        return names.get(name.casefold(), name) if name is not None else None

    def zone(z: Zone) -> Zone:
        covers = own(z.covers) if isinstance(z.covers, str) else z.covers
        called = names.get(z.zone.casefold()) if covers not in names.values() else None
        return _with(z, room=own(z.room) or called, covers=covers)

    def base(b: Base) -> Base:
        return _with(b, steps=tuple(_with(s, room=own(s.room)) for s in b.steps))

    def levels(book: Levels) -> Levels:
        return _with(book, room=own(book.room), setups=tuple(_with(s, room=own(s.room)) for s in book.setups))

    return project.model_copy(
        update={
            "openings": tuple(_with(o, room=own(o.room)) for o in project.openings),
            "services": tuple(_with(s, room=own(s.room)) for s in project.services),
            "base": base(project.base) if project.base is not None else None,
            "joints": tuple(_with(j, room=own(j.room)) for j in project.joints),
            "drains": tuple(_with(d, room=own(d.room)) for d in project.drains),
            "finishes": tuple(zone(z) for z in project.finishes) if project.finishes is not None else None,
            "levels": levels(project.levels) if project.levels is not None else None,
        }
    )


def _with(record: Named, **values: object) -> Named:
    """The record with these values; itself where it has them already."""
    changed = {key: value for key, value in values.items() if getattr(record, key) != value}
    return record.model_copy(update=changed) if changed else record
