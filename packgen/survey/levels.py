"""The project's level book: levels of all spots, worked lines, or levels taken as they were given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.core.plane import Point
from packgen.core.worked import FILE, Source
from packgen.project.misclosure import allowed_misclosure
from packgen.project.model import Project
from packgen.project.sights import error_per_m, true_setups
from packgen.project.work_model import SetUp
from packgen.survey.level_book import Reduced, Run, in_a_chain, read_again, reduce_book, sums
from packgen.survey.level_checks import check_lines
from packgen.survey.level_lines import book_lines, booked_lines, given_level
from packgen.survey.model import LevelBook, LevelPoint, Underside
from packgen.survey.sight_lines import sight_lines


def level_book(project: Project, corner_1: Mapping[str, Point]) -> LevelBook:
    """Levels of the base. `corner_1`: where corner 1 of each room lies in the plan, the first room first."""
    if project.levels.read_as == "levels":
        return _as_given(project, corner_1)
    setups = true_setups(project.levels, project.laser)
    reduced = reduce_book(setups, project.datum.known)
    points = _points(project, corner_1, reduced.sights)
    back, fore = sums(reduced.lines)
    misclosure, allowed, rule = _worst(project, setups, reduced.runs)
    under = _undersides(setups, reduced)
    laser_lines, corrected = sight_lines(project)
    return LevelBook(
        reduced.setups,
        reduced.lines,
        points,
        misclosure,
        allowed,
        back,
        fore,
        (*laser_lines, *book_lines(project, reduced, points, under), *check_lines(project, reduced)),
        (*corrected, *booked_lines(project, reduced)),
        rule,
        under,
        read_again(setups, reduced.lines, project.datum.known),
        error_per_m(project.laser) if corrected else None,
        all(in_a_chain(run, setups) for run in reduced.runs),
    )


def _worst(project: Project, setups: Sequence[SetUp], runs: Sequence[Run]) -> tuple[float | None, float, Source]:
    """The run that closes worst against what it is allowed; where one never closed, what the longest is allowed."""
    found = []
    for run in runs:
        here = setups[run.first : run.last + 1]
        allowed, rule = allowed_misclosure(project.levels, here)
        found.append((run.misclosure_mm, allowed, rule))
    if not found or any(miss is None for miss, *_ in found):
        longest = max(found, key=lambda f: f[1], default=(None, project.levels.largest_misclosure, FILE))
        return None, longest[1], longest[2]
    return max(found, key=lambda f: (abs(f[0] or 0.0) - f[1], abs(f[0] or 0.0)))


def _undersides(setups: Sequence[SetUp], reduced: Reduced) -> tuple[Underside, ...]:
    return tuple(
        Underside(u.point, s.name, -float(u.reading), book.adjusted_collimation_mm - u.reading)
        for s, book in zip(setups, reduced.setups, strict=True)
        for u in s.upside_down
    )


def _points(
    project: Project, corner_1: Mapping[str, Point], sights: Sequence[tuple[str, str, float, float]]
) -> tuple[LevelPoint, ...]:
    """Spots in reading order; a spot read more than once counts as the mean of its adjusted levels."""
    x_of, y_of = dict(project.levels.columns_at), dict(project.levels.rows_at)
    at: dict[str, Point] = {}
    for s in project.levels.setups:
        x, y = corner_1[project.levels.room_of(s) or next(iter(corner_1))]
        at |= {r.spot: (x + x_of[r.column], y + y_of[r.row]) for r in s.readings}
    seen: dict[str, list[tuple[str, float, float]]] = {}
    for spot, setup, reading, level in sights:
        seen.setdefault(spot, []).append((setup, reading, level))
    return tuple(
        LevelPoint(
            spot,
            *at[spot],
            sum(level for *_, level in taken) / len(taken),
            tuple(taken),
        )
        for spot, taken in seen.items()
    )


def _as_given(project: Project, corner_1: Mapping[str, Point]) -> LevelBook:
    """Readings that are levels already: nothing to reduce; a closing level is held against the mark's own."""
    setups, known = project.levels.setups, project.datum.known
    sights = [(r.spot, s.name, float(r.value), float(r.value)) for s in setups for r in s.readings]
    ends = [s.close_on for s in setups if s.close_on and s.close_on.point in known]
    closing = [float(e.reading) - known[e.point] for e in ends]
    misclosure = max(closing, key=abs) if closing else None
    points = _points(project, corner_1, sights)
    lines = tuple(given_level(p, project) for p in points)
    allowed, rule = allowed_misclosure(project.levels, setups)
    return LevelBook((), (), points, misclosure, allowed, 0.0, 0.0, lines, allowed_by=rule)
