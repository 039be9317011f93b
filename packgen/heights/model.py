"""What the heights stage returns. Levels mm against TBM, up is plus; lengths mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point, Polygon, Segment
from packgen.core.surface import Depths, Surface
from packgen.core.worked import Assumed, Source, Worked
from packgen.survey.read_next import NextReading
from packgen.survey.sinks import Sink, down_mm


@dataclass(frozen=True, slots=True)
class BuildUp:
    """Layers above the rail from the top, and their sum."""

    layers: tuple[tuple[str, float], ...]
    finish_mm: float


@dataclass(frozen=True, slots=True)
class ZoneTop:
    """The top of one zone: finished level and rail top where the fall starts, fall in mm per metre.

    direction: unit vector down the fall; (0, 0) for a level zone and for one that falls to a sink.
    falls_from: a point on the line where it starts, or the corner that lies farthest up.
    """

    name: str
    region: tuple[Polygon, ...]
    build_up: BuildUp
    finished_mm: float
    rail_top_mm: float
    fall_per_m: float
    direction: tuple[float, float]
    falls_from: Point
    falls_in_words: str
    asked_mm: float | None  # None: left open in the file
    sink: Sink | None = None

    def down(self, at: Point) -> float:
        """Distance of a place from where the fall starts, down the fall, mm; 0 in a level zone."""
        return down_mm(self.direction, self.falls_from, self.sink, at)


@dataclass(frozen=True, slots=True)
class LegSetting:
    """What is set at one node. base and rail top as printed (whole mm), leg = rail top - base.

    parts: "plain", "extension", "packing", "does not fit"
    known: "read" at a reading, "between" readings, "beyond" the outermost readings
    target_mm: staff reading of today's set-up, where the file gives its backsight
    leg_kind, extension_kind: names of the parts in the file, "" where it gives none; adds_mm: by all extensions
    turns: of the screw from how it is delivered, up is plus; None where the kit gives no pitch
    order: setting order, from 1; set_with: "laser" at masters, else "straightedge"; along: the line it is set along
    """

    node: str
    zone: str
    base_mm: int
    known: Literal["read", "between", "beyond"]
    reading_distance_mm: float
    rail_top_mm: int
    leg_mm: int
    parts: Literal["plain", "extension", "packing", "does not fit"]
    extensions: int
    packing_mm: float
    fits: bool
    short_by_mm: int  # how far outside the kit's range; 0 where it fits
    target_mm: int | None
    master: bool
    order: int
    depth_mm: float
    set_with: Literal["laser", "straightedge"] = "straightedge"
    along: str = ""
    base_spread_mm: float | None = None  # the base there is known to within this, two times in three
    raised_mm: int = 0  # above its zone's rail top, because a service passes below the rail
    leg_kind: str = ""
    extension_kind: str = ""
    adds_mm: float = 0.0
    turns: float | None = None

    @property
    def screw_mm(self) -> float:
        """What the leg itself is set to, without extensions and packing."""
        return self.leg_mm - self.adds_mm - self.packing_mm


@dataclass(frozen=True, slots=True)
class Control:
    """A leg read again by laser once the row along a line is set. master: whether the laser set it too."""

    along: str
    node: str
    master: bool
    rail_top_mm: int


@dataclass(frozen=True, slots=True)
class Bound:
    """One rule's end of the window of finished levels. place: the node, pipe, door or rule that sets it."""

    rule: str
    level_mm: float
    place: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Window:
    """Finished levels for which every rule holds (at the line where the fall starts), sorted tightest first.

    why_offered: how the offered level was found, in words.
    advised: upper ends from memory or practice that close nothing: outside drop, headroom.
    """

    at_least: tuple[Bound, ...]
    at_most: tuple[Bound, ...]
    asked_mm: float | None
    offered_mm: float | None  # whole mm; None where the window is empty
    why_offered: str = ""
    advised: tuple[Bound, ...] = ()

    @property
    def low_mm(self) -> float:
        return self.at_least[0].level_mm

    @property
    def high_mm(self) -> float:
        return self.at_most[0].level_mm

    @property
    def empty(self) -> bool:
        return self.low_mm > self.high_mm


@dataclass(frozen=True, slots=True)
class DoorStep:
    """The step at an opening: finished level there less what it meets; up (plus) when our floor is higher."""

    door: str
    finished_mm: float
    meets_mm: float
    step_mm: float
    limit_mm: float
    judged: bool  # outside drops are printed, not judged


@dataclass(frozen=True, slots=True)
class PipeCover:
    """Depth over a service at its tightest place, and the room under a rail where it is least."""

    service: str
    cover_mm: float
    at: Point
    needed_mm: float | None
    under_rail_mm: float | None  # depth at the tightest crossing
    under_rail_at: Point | None
    under_rail_rail: str | None
    under_rail_needed_mm: float


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule of depth with its figure and source. governs: whether it is the one that is judged by."""

    rule: Literal["least depth", "most depth", "cover over pipes", "in one layer"]
    says: str
    mm: float
    source: Source
    governs: bool


@dataclass(frozen=True, slots=True)
class DepthRule:
    """The least depth asked of this fill: larger of the file and the published rule, both printed.

    published: source of `rule_mm`; cover: what the rule set asks over heating pipes; lines: all rules, to print
    """

    least_mm: float
    most_mm: float
    rule_mm: float | None
    rule_text: str
    source: str
    published: Source | None = None
    cover: Source | None = None
    lines: tuple[RuleLine, ...] = ()


@dataclass(frozen=True, slots=True)
class RailOverService:
    """Room where a rail crosses a service: depth there against pipe, support, rail and clearance (J6)."""

    rail: str
    service: str
    at: Point
    depth_mm: float
    needed_mm: float
    raised_mm: float = 0.0  # what the rail is raised by locally, at the legs on both sides

    @property
    def free_mm(self) -> float:
        return self.depth_mm + self.raised_mm - self.needed_mm


@dataclass(frozen=True, slots=True)
class Border:
    """Where two zones meet: step = finished level of `second` less that of `first`, at its largest; both their tops."""

    first: str
    second: str
    line: Segment
    step_mm: float
    rail_step_mm: float


@dataclass(frozen=True, slots=True)
class Cure:
    """One way to make a finished level fit, and its work.

    rule: which rule it answers. hours: person hours at usual rates, to rank by; None where nobody can foresee them.
    area_m2, depth_mm, volume_l: base to be taken off or filled, the deepest place; None where the base stays.
    """

    rule: str
    says: str
    hours: float | None
    area_m2: float | None
    depth_mm: float | None
    volume_l: float | None


@dataclass(frozen=True, slots=True)
class ZoneHeights:
    """What is judged zone by zone where there are several: the window, the depth rule and the depths.

    cures: ways out where the level of the plan breaks a rule, the least work first
    """

    zone: str
    fill: str
    window: Window
    rule: DepthRule
    depth: Depths
    cures: tuple[Cure, ...] = ()


@dataclass(frozen=True)
class Heights:
    """Window and rule are those of the largest zone; `by_zone` holds every zone's own (one entry for one zone).

    doors      openings; `edges` things that stay in the floor and have a top, as if they were doors, never judged
    crossings  every rail over a service, tightest first
    borders    where zones meet; `border_rails` run over a border at which the rail tops differ
    unclaimed  floor that no zone covers: it takes the nearest zone's top so that the plan can be drawn
    """

    zones: tuple[ZoneTop, ...]
    rail_top: Surface
    legs: tuple[LegSetting, ...]
    bay_depths: tuple[tuple[str, Depths], ...]
    depth: Depths
    rule: DepthRule
    window: Window
    doors: tuple[DoorStep, ...]
    covers: tuple[PipeCover, ...]
    spot_depths: tuple[tuple[Point, float], ...] = ()
    worked: tuple[Worked, ...] = ()
    straightedge: tuple[tuple[str, str, tuple[str, ...]], ...] = ()  # set nodes a, b, nodes set between or just beyond
    straightedge_mm: float = 0.0  # length that the masters ask for
    controls: tuple[Control, ...] = ()  # a row each, in setting order
    by_zone: tuple[ZoneHeights, ...] = ()
    edges: tuple[DoorStep, ...] = ()
    crossings: tuple[RailOverService, ...] = ()
    borders: tuple[Border, ...] = ()
    border_rails: tuple[str, ...] = ()
    unclaimed: tuple[Polygon, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    further: tuple[Worked, ...] = ()  # lines that others need and no sheet prints
    read_next: tuple[NextReading, ...] = ()  # where to read the base next, the best first
