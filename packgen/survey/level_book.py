"""Staff readings to levels by height of collimation, the misclosure shared along the set-ups."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from packgen.core.figures import half_up
from packgen.project.model import Project
from packgen.project.sights import true_setups
from packgen.project.work_model import SetUp
from packgen.survey.model import Again, BookLine, SetUpLevels


@dataclass(frozen=True, slots=True)
class Run:
    """Set-ups from a known point until one closes on a known point: `first` to `last` count from 0.

    misclosure_mm   computed - known; None where the run was never closed
    """

    first: int
    last: int
    misclosure_mm: float | None
    closing_level_mm: float | None  # known level of the closing point


@dataclass(frozen=True, slots=True)
class Reduced:
    """A level book reduced: set-ups, lines in booking order, runs, and the level of each spot per sight."""

    setups: tuple[SetUpLevels, ...]
    lines: tuple[BookLine, ...]
    runs: tuple[Run, ...]
    sights: tuple[tuple[str, str, float, float], ...]  # spot, set-up, reading, adjusted level


def reduce_levels(project: Project) -> Reduced:
    """The project's own book, from its marks, its readings as a level line would have given them."""
    return reduce_book(true_setups(project.levels, project.laser), project.datum.known)


def reduce_book(setups: Sequence[SetUp], known: Mapping[str, float]) -> Reduced:
    """Reduces set-ups in booking order. `known` holds the fixed points and their levels, mm.

    height of collimation = level of the start point + backsight;  level = height of collimation - reading
    correction of set-up k of N = - misclosure x k / N, rounded to whole mm half up in size, taken cumulatively,
    so that the last set-up takes all of it. Every reading taken from set-up k gets its correction, its foresight too:
    a change point is fixed by the set-up that read its foresight. One set-up that closes is k = N = 1.

    Source: height-of-collimation booking; shared by set-ups as in checks L2 and L5 of the published books.
    """
    raw, runs = _walk(setups, known)
    corrections = _corrections(runs, len(setups))
    reduced = tuple(
        replace(s, correction_mm=c, adjusted_collimation_mm=s.collimation_mm + c)
        for s, c in zip(raw, corrections, strict=True)
    )
    lines = _lines(setups, reduced, known)
    sights = tuple(
        (r.spot, book.name, float(r.value), book.adjusted_collimation_mm - r.value)
        for setup, book in zip(setups, reduced, strict=True)
        for r in setup.readings
    )
    return Reduced(reduced, lines, runs, sights)


def _walk(setups: Sequence[SetUp], known: Mapping[str, float]) -> tuple[list[SetUpLevels], tuple[Run, ...]]:
    """Heights of collimation as booked, and where runs begin and close."""
    levels = dict(known)
    out: list[SetUpLevels] = []
    runs: list[Run] = []
    first, still_open = 0, False
    for k, setup in enumerate(setups):
        if setup.start_on.point in known and still_open:
            runs.append(Run(first, k - 1, None, None))
            still_open = False
        if not still_open:
            first, still_open = k, True
        start = levels[setup.start_on.point]
        line = start + setup.start_on.reading
        date = setup.date.isoformat() if setup.date else ""
        out.append(
            SetUpLevels(setup.name, date, setup.start_on.point, start, float(setup.start_on.reading), line, 0.0, line)
        )
        for r in setup.readings:
            levels.setdefault(r.spot, line - r.value)
        for under in setup.upside_down:
            levels.setdefault(under.point, line - under.reading)
        if setup.leave_on is not None:
            levels.setdefault(setup.leave_on.point, line - setup.leave_on.reading)
        if setup.close_on is not None:
            there = levels[setup.close_on.point]
            runs.append(Run(first, k, line - setup.close_on.reading - there, there))
            still_open = False
    if still_open:
        runs.append(Run(first, len(setups) - 1, None, None))
    return out, tuple(runs)


def _corrections(runs: Sequence[Run], count: int) -> list[float]:
    out = [0.0] * count
    for run in runs:
        n = run.last - run.first + 1
        for k in range(1, n + 1):
            out[run.first + k - 1] = shared(run.misclosure_mm or 0.0, k, n)
    return out


def shared(misclosure_mm: float, k: int, n: int) -> float:
    """Correction of set-up k of n: whole mm, half up in size; the last takes the misclosure as it is.

    >>> [shared(-7, k, 3) for k in (1, 2, 3)]
    [2.0, 5.0, 7.0]
    """
    return -misclosure_mm + 0.0 if k == n else half_up(-misclosure_mm * k / n)


def _lines(setups: Sequence[SetUp], reduced: Sequence[SetUpLevels], known: Mapping[str, float]) -> tuple[BookLine, ...]:
    """Every reading in the order in which it was booked. A start point keeps the level its foresight gave it."""
    fixed = dict(known)
    out: list[BookLine] = []
    for setup, book in zip(setups, reduced, strict=True):
        start = setup.start_on.point
        adjusted = fixed.get(start, book.start_level_mm)
        moved = adjusted - book.start_level_mm
        out.append(
            BookLine(
                book.name, start, "back", book.backsight_mm, book.collimation_mm, book.start_level_mm, moved, adjusted
            )
        )
        for r in setup.readings:
            out.append(_line(book, r.spot, "between", r.value))
            fixed.setdefault(r.spot, out[-1].level_mm)
        for sight in (*setup.upside_down, *([setup.read_again] if setup.read_again else [])):
            out.append(_line(book, sight.point, "between", sight.reading))
            fixed.setdefault(sight.point, out[-1].level_mm)
        for end in (setup.leave_on, setup.close_on):
            if end is not None:
                out.append(_line(book, end.point, "fore", end.reading))
                fixed.setdefault(end.point, out[-1].level_mm)
    return tuple(out)


def _line(book: SetUpLevels, point: str, kind: Literal["between", "fore"], reading: float) -> BookLine:
    raw = book.collimation_mm - reading
    return BookLine(
        book.name, point, kind, float(reading), book.collimation_mm, raw, book.correction_mm, raw + book.correction_mm
    )


def sums(lines: Sequence[BookLine]) -> tuple[float, float]:
    """Sum of backsights and sum of foresights, mm. Their difference is last level less first, as booked."""
    return (
        sum(b.reading_mm for b in lines if b.kind == "back"),
        sum(b.reading_mm for b in lines if b.kind == "fore"),
    )


def rise_mm(before: BookLine | None, line: BookLine) -> float | None:
    """How much higher a sight lies than the one before it in its set-up, less than 0 lower; None for a backsight."""
    if line.kind == "back" or before is None or before.setup != line.setup:
        return None
    return before.reading_mm - line.reading_mm


def rises_and_falls(lines: Sequence[BookLine]) -> tuple[float, float]:
    """Sum of rises and sum of falls from sight to sight within the set-ups, as booked, mm.

    Source: rise-and-fall booking: rise = previous reading - this reading.
    """
    steps = [rise for a, b in pairwise(lines) if (rise := rise_mm(a, b)) is not None]
    return sum(s for s in steps if s > 0), -sum(s for s in steps if s < 0)


def read_again(setups: Sequence[SetUp], lines: Sequence[BookLine], known: Mapping[str, float]) -> tuple[Again, ...]:
    """The repeat sights of reduced set-ups: expected is height of collimation - level booked at the first sight."""
    first = dict(known)
    for line in lines:
        first.setdefault(line.point, line.raw_level_mm)
    line_of = {b.setup: b.collimation_mm for b in lines}
    return tuple(
        Again(s.name, s.read_again.point, float(s.read_again.reading), line_of[s.name] - first[s.read_again.point])
        for s in setups
        if s.read_again is not None
    )


def in_a_chain(run: Run, setups: Sequence[SetUp]) -> bool:
    """Whether each set-up of a run starts on the point the one before left on: then backsights and foresights add up.

    The last set-up has to end on a foresight.
    """
    here = setups[run.first : run.last + 1]
    joined = all(a.leave_on is not None and a.leave_on.point == b.start_on.point for a, b in pairwise(here))
    return joined and (here[-1].close_on is not None or here[-1].leave_on is not None)


def full_check(lines: Sequence[BookLine]) -> tuple[float, float]:
    """Both sides of the check that covers intermediate sights too; they must be equal.

    sum of all sights but backsights + sum of all their levels = sum of (height of collimation x sights taken from it)

    Source: full arithmetic check of the height-of-collimation book (checks L5).
    """
    taken = [b for b in lines if b.kind != "back"]
    return sum(b.reading_mm + b.raw_level_mm for b in taken), sum(b.collimation_mm for b in taken)
