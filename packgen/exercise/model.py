"""What a class set is made of: cases on pupils' sheets, blanks, versions. Levels mm against TBM, up is plus."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from packgen.plan import Plan
from packgen.project.model import Project

Answers = Mapping[str, float]
Writing = Literal["level", "rise", "misclosure", "correction", "number", "choice", "date"]
Goal = Literal["G1", "G2", "G3", "G4", "G5", "G6", "G7"]


class NotPossible(Exception):
    """A class set that cannot be made. `str()` is one sentence for the teacher; `key`: the key of `exercise` meant."""

    def __init__(self, says: str, key: str = "") -> None:
        super().__init__(says)
        self.key = key


# ------------------------------------------------------------------------------------ the case


@dataclass(frozen=True, slots=True)
class CaseSetUp:
    """A set-up of the level book as a pupil books it.

    start_mm     level of the start point where it is known; None: fixed by `start_reading` from set-up `start_from`
    leave        change point with the reading on it before the laser is moved, "" where there is none
    close        point the run closes on, with its reading and known level; "" where this set-up closes nothing
    place, of    set-up number `place` of the `of` set-ups of its run; misclosed: the run closes on a known level
    """

    name: str
    start: str
    start_mm: float | None
    start_from: str
    start_reading_mm: float
    back_mm: float
    leave: str
    leave_mm: float
    close: str
    close_mm: float
    close_level_mm: float
    place: int
    of: int
    misclosed: bool


@dataclass(frozen=True, slots=True)
class CaseSpot:
    """A spot of the base read once, whose level is asked."""

    id: str
    setup: str
    reading_mm: float


@dataclass(frozen=True, slots=True)
class CaseLeg:
    """A leg that is asked. spot: the spot its base was read at, "" where `base_mm` is given.

    down_m: how far, in metres along the fall, the leg stands from where the fall starts; 0 in a level zone
    """

    node: str
    spot: str
    base_mm: int
    down_m: float


@dataclass(frozen=True, slots=True)
class CasePart:
    """A part of the fill that is poured in one go.

    base_mean_mm    mean level of the base below it over the area, to 0.1
    base_spots_mm   plain mean of the levels read there, None where nothing was read there
    down_m          how far its middle lies down the fall, metres
    bays_l          litres of its bays as the plan prints them; bags: the plan's, 0 where its pour holds more than this
    """

    name: str
    date: datetime.date
    area_m2: float
    base_mean_mm: float
    base_spots_mm: float | None
    down_m: float
    bays_l: tuple[float, ...]
    bags: int


@dataclass(frozen=True, slots=True)
class CaseLayer:
    """A layer above the rail. board: it is the fill's board; bond: adhesive or mat, easily forgotten."""

    name: str
    mm: float
    board: bool
    bond: bool


@dataclass(frozen=True, slots=True)
class CaseFill:
    """A fill with its layers. covered_days None: dry fill; drying: first mm, its rate, the rest's rate."""

    name: str
    kind: str
    layers: tuple[CaseLayer, ...]
    layers_kg_m2: float
    bag_l: float
    bag_kg: float
    water_l: tuple[float, float] | None
    waste: float
    settles: float
    fresh_kg_m3: float
    hardened_kg_m3: float
    covered_days: int | None
    drying: tuple[float, float, float] | None


@dataclass(frozen=True, slots=True)
class CaseRail:
    """A rail between two walls: the distance between them and the perimeter strip at each end, mm."""

    line: str
    between_mm: float
    strip_mm: float


@dataclass(frozen=True, slots=True)
class CaseKit:
    """Lengths that a leg can have: (extensions, from, to), packing heights, and the rail's own height, mm."""

    ranges: tuple[tuple[int, float, float], ...]
    packings: tuple[float, ...]
    adds_mm: float
    rail_high_mm: float
    kg_m2: float


@dataclass(frozen=True, slots=True)
class Case:
    """All numbers that stand on one pupil's sheets, and nothing that is asked. It can be kept as plain data."""

    pupil: int
    seed: str
    sign: str
    datum: str
    setups: tuple[CaseSetUp, ...]
    spots: tuple[CaseSpot, ...]
    zone: str
    finished_mm: float
    fall_per_m: float
    fall_words: str
    backsight_mm: float
    legs: tuple[CaseLeg, ...]
    parts: tuple[CasePart, ...]
    fill: CaseFill
    other: CaseFill | None
    whole: CasePart | None
    rail: CaseRail | None
    kit: CaseKit


# ------------------------------------------------------------------------------------ blanks


@dataclass(frozen=True, slots=True)
class Way:
    """One way of working a blank out, right or wrong: value, formula in words, and the numbers that give it.

    `numbers` evaluates to the size of `value` (see core.worked.Worked); for a choice or a date it is a sentence.
    """

    value: float
    formula: str
    numbers: str


@dataclass(frozen=True, slots=True)
class Slip:
    """A usual mistake at one blank. work gives None where it cannot be made here.

    near: an approximation; where it comes within the tolerance it is simply right.
    """

    code: str
    work: Callable[[Answers], Way | None]
    near: bool = False


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What is accepted round a right answer: so much either way, or a share of it."""

    amount: float
    relative: bool = False

    def mm(self, value: float) -> float:
        """Half the width of what is accepted round `value`, in the answer's own unit."""
        return abs(value) * self.amount if self.relative else self.amount


@dataclass(frozen=True, slots=True)
class Blank:
    """A blank on a pupil's sheets: a pure function of the blanks it needs.

    number    as printed, from 1; id: stable, such as "level/A1"; kind: as the file's `blanks` names it
    asks      what is asked, with no figure of the answer; rule: the formula in words, printed at level 1
    writing   how the answer is written; choices: for "choice", the words to tick
    steps     count of operations, 1 to 4; needs: ids of the blanks whose answers it starts from
    """

    number: int
    id: str
    kind: str
    goal: Goal
    asks: str
    rule: str
    unit: str
    digits: int
    writing: Writing
    tolerance: Tolerance
    steps: int
    needs: tuple[str, ...]
    work: Callable[[Answers], Way]
    slips: tuple[Slip, ...] = ()
    choices: tuple[str, ...] = ()


# ------------------------------------------------------------------------------------ versions


@dataclass(frozen=True, slots=True)
class Difficulty:
    """What must be alike in all versions."""

    setups: int
    zones: int
    nodes: int
    parts: int
    extended: int
    packed: int
    misfits: int
    holds: tuple[str, ...]
    blanks: int
    leg_least_mm: int
    leg_most_mm: int
    digits: int

    @property
    def leg_spread_mm(self) -> int:
        return self.leg_most_mm - self.leg_least_mm


@dataclass(frozen=True)
class Version:
    """One pupil's exercise. given: what is printed instead of asked; right: the right answers, both by blank id;
    attempt: which try of its seed it was."""

    case: Case
    project: Project
    plan: Plan
    blanks: tuple[Blank, ...]
    given: Mapping[str, float]
    right: Mapping[str, float]
    difficulty: Difficulty
    attempt: int

    @property
    def known(self) -> dict[str, float]:
        """All that is known when every answer is right."""
        return {**self.given, **self.right}


@dataclass(frozen=True)
class Tally:
    """Seeds tried and kept, and why others were thrown away: (reason, how often), the commonest first.

    shares_closing: versions may share misclosure and corrections, since too few are possible
    """

    tried: int
    kept: int
    thrown: tuple[tuple[str, int], ...]
    shares_closing: bool = False


@dataclass(frozen=True)
class ClassSet:
    """Versions for pupils 1 to n. left_out: mistakes not told apart, (kind of blank, code, why)."""

    base: Project
    level: int
    versions: tuple[Version, ...]
    tally: Tally
    left_out: tuple[tuple[str, str, str], ...] = ()
