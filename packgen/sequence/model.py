"""What the sequence stage returns: order of bays, days, batches, waiting, dates. Day of a pour is day 0."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point, Segment
from packgen.core.worked import Worked


@dataclass(frozen=True, slots=True)
class Turn:
    """One bay at its turn. order counts over the whole job from 1; ends_at: hours after midnight."""

    order: int
    bay: str
    area_m2: float
    mean_depth_mm: float
    volume_l: float
    cumulative_l: float
    ends_at: float
    close_edge: bool  # a free edge, channel or door edge has to be closed first
    way_out: tuple[str, ...]  # unfilled bays from here to the door, in order


@dataclass(frozen=True, slots=True)
class StopLine:
    """Where work may stop: after this bay, along these edges, said in words."""

    after_bay: str
    edges: tuple[Segment, ...]
    length_mm: float
    says: str


@dataclass(frozen=True, slots=True)
class Pour:
    """One day's fill. bags and batches rounded up once for the pour."""

    number: int
    date: datetime.date
    turns: tuple[Turn, ...]
    volume_l: int
    bags: int
    batches: int
    bags_per_batch: int
    last_batch_bags: int
    water_l: tuple[float, float] | None
    water_per_batch_l: tuple[float, float] | None
    last_batch_water_l: tuple[float, float] | None
    persons: int
    starts_at: float
    ends_at: float
    greatest_mm: float
    nights: tuple[tuple[datetime.date, float | None], ...]
    stop_line: StopLine | None
    earlier_stops: tuple[StopLine, ...]
    leave_by: str
    arrow: tuple[Point, ...]

    @property
    def bays(self) -> tuple[str, ...]:
        return tuple(t.bay for t in self.turns)


@dataclass(frozen=True, slots=True)
class WorkDay:
    """A day of the programme that is not a pour: grid, boards."""

    date: datetime.date
    task: str
    hours: float
    persons: int


@dataclass(frozen=True, slots=True)
class Waiting:
    """One row of the waiting table: event = from date + days."""

    event: str
    key: Literal[
        "covered_until",
        "walk_on",
        "load",
        "heat_up_not_before",
        "second_stage",
        "heating_done",
        "cooled_down",
        "test_not_before",
        "next_pour",
    ]
    rule: str
    counted_from: datetime.date
    days: int
    date: datetime.date
    source: str


@dataclass(frozen=True)
class Sequence:
    order: tuple[str, ...]
    pours: tuple[Pour, ...]
    work_days: tuple[WorkDay, ...]
    waiting: tuple[Waiting, ...]
    skipped: tuple[tuple[datetime.date, str], ...]  # days not poured on and why
    trapped: tuple[str, ...]  # bays without a dry way out
    started: datetime.date
    boards_same_day: bool
    worked: tuple[Worked, ...] = ()

    @property
    def dates(self) -> dict[str, datetime.date]:
        """Latest date of each event by its key."""
        latest: dict[str, datetime.date] = {}
        for w in self.waiting:
            latest[w.key] = max(w.date, latest.get(w.key, w.date))
        return latest
