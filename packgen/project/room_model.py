"""Records of the project file about the site: project, datum, base, rooms, openings, services, joints, drains."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from pydantic import Field

from packgen.project.kinds import (
    Bearing,
    Coordinate,
    Count,
    Day,
    Days,
    Degrees,
    Distance,
    Force,
    Length,
    Level,
    Load,
    Percent,
    PointMm,
    Resistance,
    WallRef,
    Words,
)
from packgen.project.record import Record

Said3 = Literal["yes", "no", "unknown", "not needed"]


class Party(Record):
    """A firm or person with an address and a logo, for the client edition."""

    name: Words
    address: Words | None = None
    logo: Words | None = None  # path of a PNG, SVG or JPEG inside the project's folder


class ProjectInfo(Record):
    name: Words
    reference: Words = ""
    revision: Words = ""
    date: Day
    prepared_by: Words = ""
    reader: Literal["site", "class", "client"] = "site"
    aim: Words = ""
    client: Words | None = None
    contractor: Party | None = None
    house_lived_in: Said3 = "unknown"


class Datum(Record):
    """The mark that all levels count from, and other marks whose level against it is known."""

    name: Words
    where: Words
    means: Words = ""
    other_marks: tuple[tuple[Words, Level], ...] = ()

    @property
    def known(self) -> dict[str, float]:
        """Level of every mark, mm."""
        return {**dict(self.other_marks), self.name: 0.0}


class DampReading(Record):
    """A reading of the base's damp; a single word in the file ("not needed", "unknown") fills `state` only."""

    state: Literal["read", "not needed", "unknown"] = "read"
    value: Percent | None = None  # figure without its unit
    unit: Literal["% RH", "CM-%", ""] = ""
    method: Words = ""
    date: Day | None = None


class Joists(Record):
    width: Length
    depth: Length
    spacing: Distance
    clear_span: Distance | None = None
    run_along: WallRef | None = None


class Boards(Record):
    thickness: Length
    condition: Words = "unknown"


class Engineer(Record):
    """The engineer's word on the structure; "no" or "unknown" in the file fills `confirmed` only."""

    confirmed: Said3 = "unknown"
    letter: Words | None = None
    date: Day | None = None
    for_load: Load | None = Field(default=None, alias="for")


class Waterproofing(Record):
    done: Said3 = "unknown"
    kind: Words = ""
    protection_mat_under_the_feet: Said3 = "unknown"


class Asbestos(Record):
    sample: Said3 = "unknown"
    report: Words | None = None
    date: Day | None = None


class Pads(Record):
    """Stiff pads or blocks under the feet."""

    width: Distance
    length: Distance
    thickness: Length = 0.0


class BaseStep(Record):
    """A step in the base, seen from above: a straight line where one slab ends and a higher one begins."""

    start: PointMm = Field(alias="from")
    end: PointMm = Field(alias="to")
    room: Words | None = None
    note: Words = ""


class Base(Record):
    kind: Words
    age: Days | None = None  # None: unknown
    membrane: Said3 = "unknown"
    insulation: Words = "none"
    insulation_carries: Resistance | None = None  # long-term bearing value, kPa
    insulation_gives: Length | None = None  # compressibility, mm
    pads: Pads | None = None
    separating_layer: Words | None = None
    damp_reading: DampReading = DampReading(state="unknown")
    old_covering: Words = "unknown"
    joists: Joists | None = None
    boards: Boards | None = None
    extra_load_allowed: Load | None = None
    imposed_load: Load | None = None
    point_load: Force | None = None  # the heaviest on one point, for the thickness tables
    engineer: Engineer | None = None
    waterproofing: Waterproofing | None = None
    steps: tuple[BaseStep, ...] = ()
    built: Words | None = None
    asbestos: Asbestos | None = None
    note: Words = ""

    @property
    def on_ground(self) -> bool:
        return "on ground" in self.kind.lower()

    @property
    def timber(self) -> bool:
        return "timber" in self.kind.lower() or "joist" in self.kind.lower()

    @property
    def suspended(self) -> bool:
        return self.timber or "suspended" in self.kind.lower() or "slab over" in self.kind.lower()


class Wall(Record):
    """A wall as walked: its length and the turn at its END, or a skew corner whose angle the tapes fix.

    A curved wall is given by its chord, the straight tape from corner to corner, with its rise or its radius.
    """

    number: Count
    length: Distance
    turn: Literal["right", "left", "straight", "skew", "skew left"] = "skew"
    angle: Degrees | None = None  # inside angle at the end corner, where the file gives it
    bearing: Bearing | None = None  # degrees from north round by east
    curve: Literal["out", "in"] | None = None  # away from the room, or into it
    rise: Distance | None = None  # from the middle of the chord to the curved wall
    radius: Distance | None = None


class Tape(Record):
    """A check tape from corner to corner."""

    start: Count
    end: Count
    length: Distance


class BaseLine(Record):
    """A line stretched from corner to corner, from which other corners are measured."""

    start: Count
    end: Count


class Offset(Record):
    """A corner by how far along the base line it lies, and how far to the right or left of it."""

    corner: Count
    along: Coordinate
    away: Distance = 0.0
    side: Literal["right", "left"] = "right"

    @property
    def right(self) -> float:
        """How far to the right of the base line, left below 0, mm."""
        return self.away if self.side == "right" else -self.away


class Corner(Record):
    """A corner by its coordinates: along wall 1 and from wall 1 into the room."""

    number: Count
    at: PointMm


class Ceiling(Record):
    lowest: Distance
    highest: Distance | None = None


class Obstacle(Record):
    """Something in the room that stays: a rectangle (`from` to `to`) or a circle (`at`, `diameter`)."""

    name: Words
    shape: Literal["rectangle", "circle"] = "rectangle"
    start: PointMm | None = Field(default=None, alias="from")
    end: PointMm | None = Field(default=None, alias="to")
    at: PointMm | None = None
    diameter: Distance | None = None
    stays: Said3 = "yes"
    top: Level | None = None


class Room(Record):
    name: Words
    start: Words = ""
    walls: tuple[Wall, ...]
    check_tapes: tuple[Tape, ...] = ()
    base_line: BaseLine | None = None
    offsets: tuple[Offset, ...] = ()
    corners: tuple[Corner, ...] = ()  # without walls: the outline itself; with walls: more measurements
    ceiling: Ceiling | None = None
    obstacles: tuple[Obstacle, ...] = ()
    free_edges: tuple[WallRef, ...] = ()
    edge_profile: Words | None = None  # what closes the free edges while filling
    place: Literal["inside", "outside"] | None = None
    guard_at_edge: Said3 = "unknown"


class Opening(Record):
    name: Words
    in_wall: WallRef = Field(alias="in")
    room: Words | None = None  # needed only where there are several rooms
    start: Distance = Field(alias="from")
    width: Distance
    leads_to: Words = ""
    floor_there: Level | None = None
    sill: Level | None = None  # None: no sill ("none")
    depth: Distance | None = None
    same_doorway_as: Words | None = None  # the opening of another room that this one is the other side of
    wall_thickness: Distance | None = None  # between the two rooms that a doorway joins
    ramp_strip: Said3 = "no"
    others_behind: Said3 = "unknown"


class ServiceArea(Record):
    start: PointMm = Field(alias="from")
    end: PointMm = Field(alias="to")


class Service(Record):
    """A pipe, cable, conduit or manifold in the floor; heating pipes by area and spacing."""

    name: Words
    kind: Words
    room: Words | None = None  # whose corner 1 places are measured from; the first room where the file names none
    outside: Length | None = None
    lies_on: Words = ""
    support: Length = 0.0  # height under the pipe, read from "clip rail 5 high"
    start: PointMm | None = Field(default=None, alias="from")
    end: PointMm | None = Field(default=None, alias="to")
    at: PointMm | None = None
    number: Count = 1
    apart: Distance | None = None
    pattern: Words | None = None
    runs_along: WallRef | None = None
    area: ServiceArea | None = None
    zone: Words | None = None  # the zone a heating pipe covers, instead of an area
    from_walls: Distance | None = None  # how far it keeps from the zone's edges
    spacing: Distance | None = None
    leads: Length | None = None
    longest_allowed: Length | None = None
    pressure_test: Words | None = None  # "not done", "done", or the paper
    saddle: Said3 = "no"

    @property
    def heating(self) -> bool:
        return "heating" in self.kind.lower()


class Joint(Record):
    kind: Literal["movement", "structural"]
    room: Words | None = None
    start: PointMm = Field(alias="from")
    end: PointMm = Field(alias="to")
    width: Length = 0.0
    note: Words = ""


class Drain(Record):
    """A channel along a wall, or a point drain."""

    kind: Words
    name: Words | None = None
    room: Words | None = None
    along: WallRef | None = None
    start: Distance | None = Field(default=None, alias="from")
    end: Distance | None = Field(default=None, alias="to")
    width: Distance | None = None
    at: PointMm | None = None
    diameter: Length | None = None
    size: PointMm | None = None
    body_height: Length | None = None  # what the drain needs below the grating
    top: Level | None = None


def drains_called(said: str, drains: Iterable[Drain]) -> tuple[Drain, ...]:
    """The drains that a word may mean: by name, else by kind, else every drain for "drain"."""
    word = said.casefold()
    everything = tuple(drains)
    for words in ([d.name or "" for d in everything], [d.kind for d in everything]):
        if found := tuple(d for d, called in zip(everything, words, strict=True) if called.casefold() == word):
            return found
    return everything if word in ("drain", "gully") else ()


class Lifted(Record):
    """Who lifted a stop that rests on a missing paper."""

    stop: Words
    where: Words | None = None
    by: Words
    date: Day
    paper: Words
    covers: Words | None = Field(default=None, alias="for")


class Today(Record):
    """The set-up of the day the legs are set."""

    date: Day
    setup: Words | None = Field(default=None, alias="set-up")
    backsight: Distance


class TwoPeg(Record):
    """The two-peg test as it was read: marks A and B from the middle between them, and again from beyond one end."""

    a_from_middle: Distance = Field(alias="A from middle")
    b_from_middle: Distance = Field(alias="B from middle")
    a_from_end: Distance = Field(alias="A from end")
    b_from_end: Distance = Field(alias="B from end")
    end_to_a: Distance = Field(alias="end to A")
    end_to_b: Distance = Field(alias="end to B")


class Laser(Record):
    tested: Day | None = None
    error_per_10_m: Length | None = None
    two_peg_test: TwoPeg | None = Field(default=None, alias="two-peg test")


class ServicesFound(Record):
    by: Words
    date: Day
    how: Words
