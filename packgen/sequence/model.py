"""What the sequence stage returns: order of bays, days, batches, waiting, dates. Day of a pour is day 0."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point, Segment
from packgen.core.worked import Assumed, Source, Worked


@dataclass(frozen=True, slots=True)
class Turn:
    """One bay at its turn. order counts over the whole job from 1; ends_at: hours after midnight.

    by_reach: a corner too small to stand in, filled from its neighbour
    """

    order: int
    bay: str
    area_m2: float
    mean_depth_mm: float
    volume_l: float
    cumulative_l: float
    ends_at: float
    close_edge: bool  # a free edge, channel or door edge has to be closed first
    way_out: tuple[str, ...]  # unfilled bays from here to the door, in order
    by_reach: bool = False


@dataclass(frozen=True, slots=True)
class StopLine:
    """Where work may stop: after this bay, along these edges, said in words; bags used by then."""

    after_bay: str
    edges: tuple[Segment, ...]
    length_mm: float
    says: str
    bags_used: int = 0


@dataclass(frozen=True, slots=True)
class Batch:
    """A mixer filling of one fill: whole bags, and what limits them.

    overfull   even one bag is more than the useful volume
    minutes    age of a batch when its bay is finished; None where the bag gives no working time
    source     where the drum's size comes from when the file does not tell; None when it does
    """

    fill: str
    bags: int
    litres: float
    drum_l: float
    useful_l: float
    limited_by: Literal["mixer", "working time"]
    overfull: bool
    minutes: float | None
    water_l: tuple[float, float] | None
    source: Source | None


@dataclass(frozen=True, slots=True)
class Pour:
    """One day's fill. bags and batches rounded up once for the pour.

    fill            name of the fill
    starts_at       work begins; ends_at: the last bay is finished (dry fill: and boarded)
    work_ends_at    the crew's hours end
    hours           filling hours used, of `hours_free`
    pace            what sets the pace: "mixing", "placing" or "finishing"
    placing         how many place and finish
    """

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
    fill: str = ""
    to_order_l: float = 0.0
    bags_mass_kg: float = 0.0
    placing: int = 0
    hours: float = 0.0
    hours_free: float = 0.0
    work_ends_at: float = 24.0
    pace: str = ""
    zones: tuple[str, ...] = ()
    rain: bool = False
    night_limit_c: float | None = None

    @property
    def bays(self) -> tuple[str, ...]:
        return tuple(t.bay for t in self.turns)

    @property
    def cold_nights(self) -> tuple[tuple[datetime.date, float], ...]:
        """Nights colder than the fill allows."""
        if self.night_limit_c is None:
            return ()
        return tuple((n, t) for n, t in self.nights if t is not None and t < self.night_limit_c)

    @property
    def nights_without_forecast(self) -> tuple[datetime.date, ...]:
        return tuple(n for n, t in self.nights if t is None)


@dataclass(frozen=True, slots=True)
class WorkDay:
    """A day of the programme that is not a pour: grid. hours: of each person."""

    date: datetime.date
    task: str
    hours: float
    persons: int


@dataclass(frozen=True, slots=True)
class MissedDay:
    """A working day on which nothing is poured: the night that is too cold with its temperature, or rain outside."""

    date: datetime.date
    why: Literal["frost", "rain"]
    night: datetime.date | None
    celsius: float | None
    least_celsius: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """One row of the waiting table: event = from date + days. pour: its number, 0 for the whole job."""

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
    pour: int = 0


@dataclass(frozen=True, slots=True)
class WayOut:
    """A door or free edge that people leave by, and the bays they step out from."""

    name: str
    kind: Literal["door", "free edge"]
    room: str
    bays: tuple[str, ...]
    main: bool


@dataclass(frozen=True)
class Sequence:
    """order: bays by name, first filled first. missed: working days lost to frost or rain; `skipped` says the same."""

    order: tuple[str, ...]
    pours: tuple[Pour, ...]
    work_days: tuple[WorkDay, ...]
    waiting: tuple[Waiting, ...]
    skipped: tuple[tuple[datetime.date, str], ...]  # days not poured on and why
    trapped: tuple[str, ...]  # bays without a dry way out
    started: datetime.date
    boards_same_day: bool
    worked: tuple[Worked, ...] = ()
    batches: tuple[Batch, ...] = ()
    missed: tuple[MissedDay, ...] = ()
    ways_out: tuple[WayOut, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    person_hours: tuple[tuple[str, float], ...] = ()  # work by task, person hours
    further: tuple[Worked, ...] = ()  # lines that others need and no sheet prints

    @property
    def dates(self) -> dict[str, datetime.date]:
        """Latest date of each event by its key."""
        latest: dict[str, datetime.date] = {}
        for w in self.waiting:
            latest[w.key] = max(w.date, latest.get(w.key, w.date))
        return latest
