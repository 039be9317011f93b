"""What the survey stage returns: outlines with residuals, levels with misclosure, the surface of the base."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Literal

from packgen.core.place import Place
from packgen.core.plane import Point, Polygon, Segment, arc, arc_length
from packgen.core.surface import Surface
from packgen.core.worked import FILE, Source, Worked
from packgen.trade.survey import measuring


@dataclass(frozen=True, slots=True)
class CheckTape:
    """A check tape against the adjusted outline: residual = taped - from outline, mm."""

    start: int
    end: int
    taped_mm: float
    from_outline_mm: float
    residual_mm: float
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class WallLine:
    """A wall of the adjusted outline, in walking order (inside on the right). `name` is "wall 3".

    line     from corner to corner; of a curved wall its chord
    rise_mm  how far a curved wall bows out of the room in the middle of its chord; into the room below 0, straight 0
    """

    name: str
    number: int
    line: Segment
    taped_mm: float
    free_edge: bool = False
    rise_mm: float = 0.0

    @property
    def length_mm(self) -> float:
        """Along the wall: of a curved one along its arc."""
        return arc_length(self.line.length_mm, abs(self.rise_mm))

    @property
    def path(self) -> tuple[Point, ...]:
        """The wall's start and, of a curved wall, the ends of the straight pieces it is drawn by; its end left out."""
        return arc(self.line.a, self.line.b, self.rise_mm, measuring().chord_within_mm)

    @property
    def pieces(self) -> tuple[Segment, ...]:
        """The straight pieces it is drawn by; one where it is straight."""
        points = (*self.path, self.line.b)
        return tuple(Segment(a, b) for a, b in itertools.pairwise(points))


@dataclass(frozen=True, slots=True)
class OtherMeasure:
    """An angle (degrees) or an offset (mm) against the adjusted outline: residual = measured - from outline."""

    what: Literal["angle", "along", "beside"]
    corner: int
    measured: float
    from_outline: float

    @property
    def residual(self) -> float:
        return self.measured - self.from_outline


@dataclass(frozen=True, slots=True)
class Joined:
    """A doorway between this room and one placed before it.

    miss_mm  what the two sides miss each other by where other doorways had placed the room already; else None
    turn_deg what the walls on both sides are out of parallel by
    """

    door: str
    other_door: str
    other_room: str
    wall_mm: float
    miss_mm: float | None
    turn_deg: float


@dataclass(frozen=True, slots=True)
class CutOut:
    """Something cut out of the floor: an obstacle that stays, a channel, a point drain. Clipped to the room."""

    name: str
    kind: Literal["obstacle", "channel", "drain"]
    shape: Polygon
    top_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Door:
    """An opening on the adjusted outline: from and to along its wall, the levels it must meet (mm, up plus)."""

    name: str
    wall: str
    line: Segment
    leads_to: str
    sill_mm: float | None
    floor_there_mm: float | None
    outside: bool
    place: Place | None = None
    wall_mm: float | None = None  # behind it another room of the plan begins, so far on

    @property
    def meets_mm(self) -> float | None:
        return self.sill_mm if self.sill_mm is not None else self.floor_there_mm


@dataclass(frozen=True, slots=True)
class RoomOutline:
    """A room after adjustment.

    corners   corner 1 first, along wall 1, mm; between the ends of a curved wall `ring` has further points
    floor     the outline less its cut-outs, one polygon or more
    area_m2   the outline less obstacles that stay; a channel or a drain lies in the floor and counts
    wall_residuals_mm   taped - adjusted, in the order of the walls
    by        "right angles kept" or "least squares from tapes"
    spare_tapes   tapes beyond those that fix the shape; below 0: so many are missing, named in `measure`, and at 0
              `measure` names the one that would check it best
    blamed    when something disagrees by more than a tape does: the measurements one of which is wrong
    would_be_mm  where a single one is blamed: what all the others say it is
    others    angles and offsets against the outline
    joined    the doorways that place it on the plan
    origin    where corner 1 lies in the plan; (0, 0) for the first room
    """

    name: str
    corners: tuple[Point, ...]
    walls: tuple[WallLine, ...]
    floor: tuple[Polygon, ...]
    cut_outs: tuple[CutOut, ...]
    doors: tuple[Door, ...]
    area_m2: float
    gross_area_m2: float
    perimeter_mm: float
    closing_error_mm: float | None
    closing_xy_mm: tuple[float, float] | None
    tapes: tuple[CheckTape, ...]
    wall_residuals_mm: tuple[float, ...]
    by: str
    spare_tapes: int
    outside: bool
    worked: tuple[Worked, ...] = ()
    measure: tuple[str, ...] = ()
    blamed: tuple[str, ...] = ()
    origin: Point = (0.0, 0.0)
    further: tuple[Worked, ...] = ()
    would_be_mm: float | None = None
    others: tuple[OtherMeasure, ...] = ()
    joined: tuple[Joined, ...] = ()

    @property
    def ring(self) -> tuple[Point, ...]:
        """The outline by straight pieces, corner 1 first: what the floor is bounded by."""
        return tuple(p for w in self.walls for p in w.path)

    @property
    def shape_fixed(self) -> bool:
        return self.spare_tapes >= 0


@dataclass(frozen=True, slots=True)
class BookLine:
    """A line of the level book as it is printed: one reading and the level that follows from it.

    kind: "back", "between" (an intermediate sight) or "fore"; a change point gives two lines. Heights mm against TBM.
    """

    setup: str
    point: str
    kind: Literal["back", "between", "fore"]
    reading_mm: float
    collimation_mm: float
    raw_level_mm: float
    correction_mm: float
    level_mm: float

    @property
    def upside_down(self) -> bool:
        """Whether the point lies above the line: its reading counts less than 0 and is printed as it was read."""
        return self.reading_mm < 0


@dataclass(frozen=True, slots=True)
class Again:
    """A point read again before the laser was moved: what it reads now and what it ought to by its first sight, mm."""

    setup: str
    point: str
    reading_mm: float
    expected_mm: float

    @property
    def differs_mm(self) -> float:
        return self.reading_mm - self.expected_mm


@dataclass(frozen=True, slots=True)
class Underside:
    """The underside of a lintel, a ceiling or a pipe, read with the staff upside down; level against TBM, mm."""

    name: str
    setup: str
    reading_mm: float
    level_mm: float


@dataclass(frozen=True, slots=True)
class SetUpLevels:
    """A set-up reduced: height of collimation as booked and corrected (mm above TBM)."""

    name: str
    date: str
    start_point: str
    start_level_mm: float
    backsight_mm: float
    collimation_mm: float
    correction_mm: float
    adjusted_collimation_mm: float


@dataclass(frozen=True, slots=True)
class LevelPoint:
    """A spot of the base with its adjusted level; `seen` holds (set-up, reading, adjusted level) per sight."""

    id: str
    x_mm: float
    y_mm: float
    level_mm: float
    seen: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True, slots=True)
class LevelBook:
    """The book reduced. Of several runs from mark to mark `misclosure_mm` is the worst against what is allowed.

    misclosure_mm   computed - known where the run closes; None when one was never closed
    allowed_by      the rule behind `allowed_mm` and its source: the project file's own figure, or a rule by its name
    line_error      mm the laser line rises in a metre, where readings were corrected for it
    in_a_chain      whether each set-up starts where the one before left, so that backsights less foresights check it
    """

    setups: tuple[SetUpLevels, ...]
    lines: tuple[BookLine, ...]
    points: tuple[LevelPoint, ...]
    misclosure_mm: float | None
    allowed_mm: float
    sum_backsights_mm: float
    sum_foresights_mm: float
    worked: tuple[Worked, ...] = ()
    further: tuple[Worked, ...] = ()  # lines that others need and no sheet prints
    allowed_by: Source = FILE
    undersides: tuple[Underside, ...] = ()
    again: tuple[Again, ...] = ()
    line_error: float | None = None
    in_a_chain: bool = False


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that stands off all its neighbours, or a spot whose two sights disagree.

    from_neighbours_mm   the nearest level its neighbours would explain (or the level of the other sight)
    off_mm               level - from_neighbours, plus is too high
    likely_mm            the reading with one digit changed, or two exchanged, that would fit; None where none does:
                         then the floor may well be so, and a second reading tells
    """

    point: str
    level_mm: float
    from_neighbours_mm: float
    off_mm: float
    why: Literal["neighbours", "two sights"] = "neighbours"
    setup: str = ""
    reading_mm: float | None = None
    likely_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Certainty:
    """How well the base is known: at a reading to `reading_mm`, and between readings so much worse a metre away.

    rough_mm_per_m   of each reading, in the order of the level book's points: what the base round it strays in a metre
    fall_mm_per_m    of each reading: how the base of its side falls as a whole, which counts beyond all readings
    side             of each reading: which side of the steps it lies on
    tested           readings foretold from their neighbours; 0: too few, and the roughness is taken from practice
    """

    reading_mm: float
    rough_mm_per_m: tuple[float, ...]
    fall_mm_per_m: tuple[float, ...]
    side: tuple[int, ...]
    tested: int
    parts: tuple[Polygon, ...] = ()


@dataclass(frozen=True, slots=True)
class StepLine:
    """A step of the base in the plan, and whether the base is known on both sides of it.

    state   "parts" the readings; "ends inside" the room, so that it parts nothing; "unread" on one side
    on_it   readings so near to the step that nobody can tell which side they belong to
    """

    line: Segment
    room: str
    state: Literal["parts", "ends inside", "unread"]
    on_it: tuple[str, ...] = ()
    place: Place | None = None


@dataclass(frozen=True)
class Survey:
    rooms: tuple[RoomOutline, ...]
    levels: LevelBook
    base: Surface
    suspects: tuple[Suspect, ...] = ()
    steps: tuple[StepLine, ...] = ()
    certainty: Certainty | None = None
