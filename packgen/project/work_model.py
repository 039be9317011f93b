"""Records of the project file about the work: finishes, kit, fills, heating, levels, crew, calendar, prices, limits."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from packgen.project.kinds import (
    ONE_OR_MANY,
    AreaMass,
    CarryRate,
    Cell,
    Conductivity,
    Count,
    Day,
    Days,
    Density,
    Distance,
    DryRate,
    FlowRate,
    Force,
    Hours,
    Length,
    Level,
    Mass,
    Minutes,
    Money,
    PointMm,
    Pressure,
    Rate,
    Share,
    Temperature,
    UnitPrice,
    Volume,
    WallRef,
    Weekday,
    Words,
)
from packgen.project.record import Record
from packgen.project.room_model import Said3, ServiceArea


class Layer(Record):
    """A layer above the rail, from the top: name and thickness; its own mass where the file gives it."""

    name: Words
    thickness: Length
    mass: AreaMass | None = None


class Fall(Record):
    """How a zone falls. "level" gives 0; else mm per metre going down from one wall to another, or to a drain.

    to_drain: the drain's name or kind; the floor then falls so much along wall 1 and so much across it, from all sides
    """

    per_metre: Length = 0.0
    from_wall: WallRef | None = None
    to_wall: WallRef | None = None
    to_drain: Words | None = None


class FinishedLevel(Record):
    """The finished level asked for; `at_wall` or `at_drain` where the zone falls; `open`: left to the plan."""

    level: Level | None = None
    at_wall: WallRef | None = None
    at_drain: Literal["yes", "no"] = "no"


class Zone(Record):
    zone: Words
    room: Words | None = None
    covers: Words | ServiceArea = "whole room"
    finished_level: FinishedLevel
    fall: Fall = Fall()
    layers: tuple[Layer, ...] = Field(default=(), alias="layers from the top")
    weight_of_layers: AreaMass | None = None
    wet: Said3 = "unknown"
    fill: Words | None = None


class RailPart(Record):
    """The rail. stock: the lengths it is sold in; none given: pieces of one module.

    clip_ends: whether a piece keeps an uncut end that clips on a leg; unsaid: only pieces of one module do
    offcuts_at_hand: lengths left over from other jobs, one uncut end each
    """

    width: Length
    height: Length
    stock: tuple[Distance, ...] = ()
    clip_ends: Said3 = "unknown"
    offcuts_at_hand: tuple[Distance, ...] = ()


class KitPart(Record):
    """A kind of leg or of extension. name: needed where there are several; price: of one."""

    name: Words = ""
    price: Money | None = None


class LegPart(KitPart):
    """A leg, from the base to the top of the rail. turn: height gained by one turn of the screw.

    delivered_at: the length at which it comes out of the box
    """

    shortest: Length
    longest: Length
    turn: Length | None = None
    delivered_at: Length | None = None


class Extension(KitPart):
    """One leg takes several of the same kind, never of two kinds."""

    adds: Length
    most_per_leg: Count = 1


class Foot(Record):
    diameter: Length
    load_limit: Force | None = None


class Packing(Record):
    """Hard packing plates under a foot, by thickness."""

    plates: tuple[Length, ...]
    most: Length | None = None


class Saddle(Record):
    """A rigid bridge over a pipe on which a foot stands. height: from the base to the foot."""

    widest_pipe: Length
    height: Length


Merit = Literal[
    "no short pieces",
    "no feet on pipes",
    "no feet near pipes",
    "legs on readings",
    "first lines by walls",
    "lines at joints",
    "lines at doors",
    "few legs",
    "little stock",
    "few cuts",
    "wide edges",
    "plain first lines",
]
"""What first lines can be good for, in the order in which they are preferred unless the file says otherwise."""


class FirstLines(Record):
    """Where the first line of each direction stands, where the plan is to keep to the user's own places."""

    along_wall_1: Distance  # first lettered line, from corner 1
    from_wall_1: Distance  # first numbered line


class Kit(Record):
    module: Distance
    rail: RailPart
    legs: Annotated[tuple[LegPart, ...], ONE_OR_MANY] = Field(alias="leg")
    extensions: Annotated[tuple[Extension, ...], ONE_OR_MANY] = Field(default=(), alias="extension")
    packing: Packing | None = None
    foot: Foot
    first_line_from_wall: Distance = 50.0
    first_lines: FirstLines | None = None
    prefer: tuple[Merit, ...] = ()
    smallest_cut_piece: Distance = 150.0
    edge_strip: Length = 10.0
    saw_cut: Length | None = None
    mass: AreaMass = 0.0
    screw: Length | None = None
    move_feet_off_pipes: Length | None = None  # farthest a foot may stand from its crossing, along a rail
    saddle: Saddle | None = None
    raise_rail_locally: Length | None = None  # most that a rail is raised where a pipe passes below it

    @property
    def parts(self) -> tuple[KitPart, ...]:
        """Every kind of leg and of extension."""
        return (*self.legs, *self.extensions)

    @property
    def several(self) -> bool:
        """Whether there are parts to choose among: more than one kind of leg or of extension."""
        return len(self.legs) > 1 or len(self.extensions) > 1

    @property
    def shortest_leg(self) -> LegPart:
        """The kind of leg that can be set shortest."""
        return min(self.legs, key=lambda leg: leg.shortest)

    @property
    def longest_leg(self) -> LegPart:
        """The kind of leg that can be set longest, without extensions."""
        return max(self.legs, key=lambda leg: leg.longest)

    @property
    def stock_mm(self) -> tuple[int, ...]:
        """The lengths rails are bought in, longest first: one module where the file gives none."""
        return tuple(sorted({int(s) for s in self.rail.stock}, reverse=True)) or (int(self.module),)

    @property
    def clipped(self) -> bool:
        """Whether every piece clips on legs by an uncut end."""
        return self.rail.clip_ends == "yes" or (not self.rail.stock and self.rail.clip_ends != "no")

    @property
    def starts_mm(self) -> tuple[float, float]:
        """First lettered line along wall 1, first numbered line from wall 1: pinned, or where the plainest lie."""
        own = self.first_lines
        return (own.along_wall_1, own.from_wall_1) if own else (self.first_line_from_wall, self.first_line_from_wall)

    @property
    def preferred(self) -> tuple[Merit, ...]:
        """All merits in the order in which they count: those the file names, then the others."""
        return tuple(dict.fromkeys((*self.prefer, *get_args(Merit))))


class Bag(Record):
    mass: Mass
    makes: Volume
    price: Money | None = None
    use_before: Day | None = None


class Water(Record):
    """Water per bag; "none" in the file gives no record."""

    least: Volume
    most: Volume


class Thickness(Record):
    least: Length
    most: Length


class Drying(Record):
    """First so many mm at one rate, the rest at another, mm per day."""

    first_mm: Length
    first_rate: DryRate
    rest_rate: DryRate


class BoardOnTop(Record):
    """The board on the rails. length, width: of a board as bought; edges: what its long edges need below them."""

    thickness: Length
    material: Words
    length: Distance | None = None
    width: Distance | None = None
    edges: Literal["on rails", "tongue and groove"] = "on rails"


class Fill(Record):
    kind: Words
    cls: Words | None = Field(default=None, alias="class")
    bag: Bag
    water: Water | None = None
    fresh_density: Density
    hardened_density: Density
    waste: Share
    settles: Share = 0.0
    thickness: Thickness
    why_least: Words = ""
    conductivity: Conductivity | None = None
    working_time: Minutes | None = None
    mixing_time: Minutes | None = None
    walk_on_after: Days | None = None
    keep_covered: Days | None = None
    load_after: Days | None = None
    drying: Drying | None = None
    lowest_temperature: Temperature | None = None
    board_on_top: BoardOnTop | None = None

    @property
    def family(self) -> Literal["sand-cement", "bead", "granulate", "drainage", "wool", "calcium sulfate", "other"]:
        k = self.kind.lower()
        for word, family in (
            ("bead", "bead"),
            ("granulate", "granulate"),
            ("drainage", "drainage"),
            ("wool", "wool"),
            ("calcium sulfate", "calcium sulfate"),
            ("calcium sulphate", "calcium sulfate"),
            ("cement", "sand-cement"),
        ):
            if word in k:
                return family  # type: ignore[return-value]
        return "other"

    @property
    def mixed(self) -> bool:
        """Whether water is mixed in: such a fill has batches, curing and waiting times."""
        return self.water is not None

    @property
    def cement(self) -> bool:
        return self.mixed and self.family in ("sand-cement", "bead", "drainage")


class Fills(Record):
    use: Words
    compare: tuple[Words, ...] = ()
    described: tuple[tuple[Words, Fill], ...] = ()  # every other key under `fills`, in the file's order

    @property
    def used(self) -> Fill:
        return dict(self.described)[self.use]


class Stage(Record):
    flow: Temperature
    days: Days


class CoolDown(Record):
    days: Days


class TestPressure(Record):
    least: Pressure
    most: Pressure


class Heating(Record):
    least_cover_over_pipe: Length | None = None
    test_medium: Words = "water"
    test_pressure: TestPressure | None = None
    keep_pressure_during_pour: Said3 = "unknown"
    heat_up_not_before: Days | None = None
    first_stage: Stage | None = None
    second_stage: Stage | None = None
    cool_down: CoolDown | None = None


class Sight(Record):
    """A named point and what was read on it: from the point up to the line, or down to it with the staff upside down.

    distance   from the laser to the point; wanted only where the line is put right by a two-peg test
    """

    point: Words
    reading: Distance
    staff: Literal["upright", "upside down"] = "upright"
    distance: Distance | None = None

    @property
    def below_line_mm(self) -> float:
        """How far the point lies below the line; less than 0 for a point above it (staff upside down)."""
        return -self.reading if self.staff == "upside down" else float(self.reading)


class Reading(Record):
    """One cell of a table of readings. `value` is the staff reading or the level, as `read as` says."""

    row: Words
    column: Words
    value: Cell

    @property
    def spot(self) -> str:
        return f"{self.column}{self.row}"


class SetUp(Record):
    name: Words
    room: Words | None = None  # the room its spots lie in, where it is not the one that `levels` names
    date: Day | None = None
    by: Words = ""
    stands_at: PointMm | None = None  # where the laser stood, for the distances of its readings
    start_on: Sight
    readings_file: Words | None = None  # a table beside the project file, in place of `readings`
    readings: tuple[Reading, ...] = ()
    upside_down: tuple[Sight, ...] = ()  # undersides: lintels, ceilings, pipes
    read_again: Sight | None = None  # a point read before, read once more before the laser was moved
    leave_on: Sight | None = None
    close_on: Sight | None = None


class Levels(Record):
    read_as: Literal["staff readings", "levels"] = "staff readings"
    largest_misclosure: Length = 3.0
    misclosure_rule: Literal["", "set-ups", "building", "first order", "third order", "ordinary"] = ""
    levelled_way: Distance | None = None  # length of the way along which the levels were carried
    instrument: Literal["", "rotating laser", "line laser", "optical level", "water level"] = ""
    booked_by: Literal["height of collimation", "rise and fall"] = "height of collimation"
    further_readings: Count | None = None  # at most so many places to read next are named
    note: Words = ""
    room: Words | None = None
    columns_at: tuple[tuple[Words, Distance], ...]  # name, distance from corner 1 along wall 1
    rows_at: tuple[tuple[Words, Distance], ...]  # name, distance from wall 1 into the room
    readings_file: Words | None = None  # the level book in a CSV file beside the project file, in place of `setups`
    setups: tuple[SetUp, ...]

    def room_of(self, setup: SetUp) -> str | None:
        """The room a set-up's spots lie in; None: the first of the file."""
        return setup.room or self.room

    def rooms_read(self, what: Literal["column", "row"]) -> dict[str, tuple[str | None, ...]]:
        """Of each column or row the rooms in which it is read; where nobody reads it, the room of the levels."""
        used: dict[str, dict[str | None, None]] = {}
        for setup in self.setups:
            for name in {getattr(r, what) for r in setup.readings}:
                used.setdefault(name, {})[self.room_of(setup)] = None
        names = self.columns_at if what == "column" else self.rows_at
        return {name: tuple(used.get(name, {self.room: None})) for name, _ in names}


class Person(Record):
    role: Words
    hours_a_day: Hours
    number: Count = 1


class Plant(Record):
    item: Words
    number: Count = 1
    output: FlowRate | None = None  # litres per hour
    drum: Volume | None = None
    power: Words = ""


class Rates(Record):
    """Rates per person hour. `place_fill` is litres or m² an hour, as its unit says."""

    set_grid: Rate
    place_fill: Rate
    finish: Rate | None = None
    carry_bags: CarryRate | None = None
    lay_boards: Rate | None = None


class NightTemperature(Record):
    """Lowest night temperature: one figure for all nights, or a figure a night (named by its evening's date)."""

    always: Temperature | None = None
    by_night: tuple[tuple[Day, Temperature], ...] = ()


class Calendar(Record):
    start: Day
    working_days: tuple[Weekday, ...] = (0, 1, 2, 3, 4)  # 0 is Monday
    not_working: tuple[Day, ...] = ()
    lowest_night_temperature: NightTemperature | None = None
    rain_expected: tuple[Day, ...] = ()
    ready_by: Day | None = None


class Prices(Record):
    """Prices the file gives; every key not named here is a priced item with its unit."""

    currency: Words = "EUR"
    labour: UnitPrice | None = None
    overhead_and_profit: Share | None = None
    tax: Share | None = None
    items: tuple[tuple[Words, UnitPrice], ...] = ()


class Limits(Record):
    rail_top: Length = 2.0
    next_node: Length = 2.0
    surface: Words = "SR2"
    step_without_ramp_strip: Length = 4.0
    rules: Literal["", "din", "bs"] = ""  # which published depth rules judge: DIN 18560 or BS 8204


class Marksheet(Record):
    method: Share
    answer: Share
    units_and_tidiness: Share


class Exercise(Record):
    cls: Words = Field(alias="class")
    pupils: Count
    group_size: Count = 1
    seed: Count = 1
    versions: Count = 1
    vary: tuple[Words, ...] = ()
    bounds: tuple[tuple[Words, Words], ...] = ()  # how far each of `vary` goes: 300, 6 to 25
    keep: tuple[Words, ...] = ()
    leave_out: tuple[Words, ...] = ()  # codes of usual mistakes that need not be told apart: W13
    blanks: tuple[Words, ...] = ()
    tolerance: tuple[tuple[Words, Words], ...] = ()
    marks_for: Marksheet | None = Field(default=None, alias="marks")
    time: Minutes | None = None
    lessons: Count | None = None
