"""What the survey stage returns: outlines with residuals, levels with misclosure, the surface of the base."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.place import Place
from packgen.core.plane import Point, Polygon, Segment
from packgen.core.surface import Surface
from packgen.core.worked import FILE, Source, Worked


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
    """A wall of the adjusted outline, in walking order (inside on the right). `name` is "wall 3"."""

    name: str
    number: int
    line: Segment
    taped_mm: float
    free_edge: bool = False


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

    @property
    def meets_mm(self) -> float | None:
        return self.sill_mm if self.sill_mm is not None else self.floor_there_mm


@dataclass(frozen=True, slots=True)
class RoomOutline:
    """A room after adjustment.

    corners   corner 1 first, along wall 1, mm
    floor     the outline less its cut-outs, one polygon or more
    area_m2   the outline less obstacles that stay; a channel or a drain lies in the floor and counts
    wall_residuals_mm   taped - adjusted, in the order of the walls
    by        "right angles kept" or "least squares from tapes"
    spare_tapes   tapes beyond those that fix the shape; below 0: so many are missing, named in `measure`
    blamed    when something disagrees by more than a tape does: the measurements one of which is wrong
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
