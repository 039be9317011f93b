"""What the layout stage returns: lines, nodes, rails, bays, clashes, cut list. All in plan, mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point, Polygon, Segment
from packgen.project.work_model import Merit


@dataclass(frozen=True, slots=True)
class Line:
    """A line to set out. Lettered lines stand at one x and run into the room; numbered lines stand at one y.

    first_mm / second_mm: where a tape hooked at the room's corner finds the line on the two walls it meets: for a
    lettered line from corner 1 along wall 1, and along the wall opposite from its end by the last wall; for a
    numbered line from wall 1 along the last wall, and along wall 2. Equal in a square room, not in a skew one.
    first_wall / second_wall: the two walls; where a line does not meet the named ones it is the wall it does meet, and
    the tape is hooked at that wall's corner nearer to corner 1.
    own: it has a name of its own; else it is a short line beside a wall, cut-out or joint, named after the one before.
    """

    name: str
    kind: Literal["lettered", "numbered"]
    at_mm: float
    first_mm: float
    second_mm: float
    first_wall: str = ""
    second_wall: str = ""
    room: str = ""
    own: bool = True


@dataclass(frozen=True, slots=True)
class Node:
    """A leg. `id` is C4 at a crossing, Cw3 where line C ends at wall 3, Co1 at cut-out 1, 4j1a beside joint 1, 4z1a
    beside border 1 of two zones.

    why: "crossing", "wall" (a rail end at a wall or cut-out), "joint" (a rail end at a joint or border), "between" (a
    leg of a rail's own where a span would be too long or nothing stops its end: Cm)
    """

    id: str
    x_mm: float
    y_mm: float
    lines: tuple[str, ...]
    why: Literal["crossing", "wall", "joint", "between"]
    room: str
    tributary_mm2: float  # floor nearer to this leg than half way to the next on each side

    @property
    def at(self) -> Point:
        return (self.x_mm, self.y_mm)


@dataclass(frozen=True, slots=True)
class Rail:
    """One continuous run of rail on a line, from one end to the other, over its nodes in order."""

    id: str
    line: str
    start: Point
    end: Point
    nodes: tuple[str, ...]
    length_mm: int
    pieces: tuple[str, ...]  # ids of its pieces, in laying order
    room: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of rail to lay: whole stock or cut. Lengths whole mm, rounded down.

    factory_ends: how many of its ends must be uncut (they clip on a node)
    """

    id: str
    rail: str
    start: Point
    end: Point
    length_mm: int
    cut: bool
    factory_ends: int


@dataclass(frozen=True, slots=True)
class Stock:
    """A length that bars come in. number: how many lie at hand; None: bought, as many as are wanted."""

    length_mm: int
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length of the cut list with its pieces in sawing order: sum of cuts + kerf + offcut = stock.

    at_hand: an offcut of another job, not bought
    offcut_ends: how many uncut ends the offcut has, where pieces clip on legs by their uncut ends
    """

    number: int
    stock_mm: int
    pieces: tuple[str, ...]
    lengths_mm: tuple[int, ...]
    saw_cuts: int
    saw_cut_mm: float
    offcut_mm: float
    at_hand: bool = False
    offcut_ends: int | None = None


@dataclass(frozen=True, slots=True)
class Bought:
    """How many bars of one stock length are bought: used whole, and to be cut."""

    stock_mm: int
    whole: int
    cut: int

    @property
    def number(self) -> int:
        return self.whole + self.cut


@dataclass(frozen=True)
class CutList:
    """stock_mm: the longest stock length; stocks: every one that is used, longest first.

    whole: bars used uncut. bars: bars that are cut. bound: no list can do it with fewer bars to cut.
    bound_mm: no list can do it with less stock bought for the bars that are cut; proven: the list reaches it
    """

    stock_mm: int
    whole: int
    bars: tuple[Bar, ...]
    bound: int
    proven: bool
    offcuts_kept_mm: tuple[int, ...] = ()
    stocks: tuple[Bought, ...] = ()
    bound_mm: int = 0

    @property
    def stock_lengths(self) -> int:
        """Bars bought."""
        return self.whole + sum(not b.at_hand for b in self.bars)

    @property
    def bought_mm(self) -> int:
        return sum(s.stock_mm * s.number for s in self.stocks)


@dataclass(frozen=True, slots=True)
class Bay:
    """A box between rails that is filled in one go. Its share runs to the rails' centre lines and the strip.

    name: the lines round it, "CD-45"; a wall in a line's place is "w": "Lw-12"; "F/Fa-9/10" where a line's name has
    more than one sign. Pieces of one box parted by a joint or a cut-out get a, b.
    column, row: which gap between lettered / numbered lines, from 0 (before the first line)
    """

    name: str
    shape: Polygon
    area_m2: float
    column: int
    row: int
    room: str
    merged: tuple[str, ...] = ()  # needle bays taken in


@dataclass(frozen=True, slots=True)
class PipeRun:
    """A service as laid out: straight stretches of its axis. Bends of a serpentine are drawn square.

    at: where it is a spot (a manifold, a floor box) and has no stretches
    covers_mm2: the floor that a coil covers
    """

    name: str
    kind: str
    outside_mm: float
    support_mm: float
    stretches: tuple[Segment, ...]
    length_mm: float
    heating: bool
    at: Point | None = None
    covers_mm2: float = 0.0


@dataclass(frozen=True, slots=True)
class FootClash:
    """A foot on or too near a service. gap_mm: clear distance between foot and pipe, below 0 where it overlaps."""

    node: str
    service: str
    distance_mm: float
    reach_mm: float
    gap_mm: float
    move_mm: float | None  # least move along one of its rails that frees it
    saddle: bool = False  # it stands on a saddle over the service


@dataclass(frozen=True, slots=True)
class MovedFoot:
    """A foot that stands beside its crossing, clear of services, still under one of its rails."""

    node: str
    rail: str
    by_mm: float
    crossing: Point
    at: Point


@dataclass(frozen=True, slots=True)
class Crossing:
    """A rail over a service, or a rail over a joint."""

    rail: str
    other: str
    at: Point


@dataclass(frozen=True, slots=True)
class JointLine:
    """A joint clipped to the floor."""

    number: int
    kind: Literal["movement", "structural"]
    line: Segment
    width_mm: float
    note: str


@dataclass(frozen=True, slots=True)
class Weighed:
    """One merit of the chosen first lines beside the plainest, both counted on rooms laid out in full.

    Figures count what is named by the merit: legs, stock lengths, pieces to cut, short pieces, feet on services, legs
    where the base was read, sides of joints and doors without a line, narrow edges.
    """

    merit: Merit
    plain: int
    chosen: int


@dataclass(frozen=True, slots=True)
class FirstLinesChoice:
    """Where the first lines of a room lie from its corner 1, along x and y, and what speaks for it.

    by: "file" where the file pins them; "search" where they were searched for, over all whole mm of a module both ways
    plain: the plainest, both as far from their wall as the kit says
    decided: the merit, first in the order, in which the chosen are better than the plainest; None where they are these
    plain_rails, plain_on: rails of the plainest and their feet on services, for a drawing; empty where they are chosen
    """

    room: str
    by: Literal["file", "search"]
    chosen: tuple[float, float]
    plain: tuple[float, float]
    order: tuple[Merit, ...]
    decided: Merit | None
    weighed: tuple[Weighed, ...]
    plain_rails: tuple[Segment, ...] = ()
    plain_on: tuple[Point, ...] = ()


@dataclass(frozen=True)
class Layout:
    lines: tuple[Line, ...]
    nodes: tuple[Node, ...]
    rails: tuple[Rail, ...]
    pieces: tuple[Piece, ...]
    bays: tuple[Bay, ...]
    cut_list: CutList
    services: tuple[PipeRun, ...]
    joints: tuple[JointLine, ...]
    foot_clashes: tuple[FootClash, ...]
    service_crossings: tuple[Crossing, ...]
    joint_crossings: tuple[Crossing, ...]  # rails that still cross a joint
    short_pieces: tuple[str, ...]  # rail ends left out or too short to clip, by node
    floor: tuple[Polygon, ...]  # the fill's outline: rooms less cut-outs, inside the perimeter strip
    diagonals: tuple[tuple[str, str, float], ...]  # check diagonals between outer nodes, mm
    moved_feet: tuple[MovedFoot, ...] = ()  # feet that stand beside their crossing because of a service
    feet_on_services: int = 0  # feet on or too near services before any was moved
    better_first_lines: tuple[float, float, int] | None = None  # where the file's pinned ones leave feet on pipes
    first_lines: tuple[FirstLinesChoice, ...] = ()  # a room each
