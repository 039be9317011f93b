"""Shorthand of the project file written out: what people type for a record to the record's own keys, places kept."""

from __future__ import annotations

from packgen.project import short_outline, short_room, short_walls, short_work
from packgen.project.pieces import Rewrite
from packgen.project.record import Record
from packgen.project.room_model import (
    Asbestos,
    BaseLine,
    Ceiling,
    Corner,
    DampReading,
    Engineer,
    Offset,
    Room,
    Service,
    Tape,
    Wall,
    Waterproofing,
)
from packgen.project.work_model import (
    BoardOnTop,
    Calendar,
    CoolDown,
    Drying,
    Fall,
    Fills,
    FinishedLevel,
    Layer,
    Levels,
    NightTemperature,
    Packing,
    Prices,
    RailPart,
    SetUp,
    Water,
    Zone,
)

SHORTHAND: dict[type[Record], Rewrite] = {
    Asbestos: short_room.one_word("sample"),
    BaseLine: short_outline.base_line,
    BoardOnTop: short_work.board_on_top,
    Calendar: short_work.calendar,
    Ceiling: short_room.one_word("lowest"),
    Corner: short_outline.corner,
    CoolDown: short_room.one_word("days"),
    DampReading: short_room.damp_reading,
    Drying: short_work.drying,
    Engineer: short_room.one_word("confirmed"),
    Fall: short_room.fall_words,
    Fills: short_work.fills,
    FinishedLevel: short_room.finished_level,
    Layer: short_room.layer,
    Levels: short_work.levels,
    NightTemperature: short_work.night_temperature,
    Offset: short_outline.offset,
    Packing: short_work.packing,
    Prices: short_work.prices,
    RailPart: short_work.rail,
    Room: short_outline.room,
    Service: short_room.service,
    SetUp: short_work.setup,
    Tape: short_outline.tape,
    Wall: short_walls.wall,
    Water: short_work.water,
    Waterproofing: short_room.one_word("done"),
    Zone: short_room.zone,
}


FREE_KEYS = (
    Corner,
    Drying,
    Fills,
    Layer,
    NightTemperature,
    Offset,
    Prices,
    Tape,
    Wall,
)  # records whose keys the user makes up


SPEAKS = (Asbestos, DampReading, Engineer, Fall, FinishedLevel, Waterproofing)  # records for which "no" says something
