"""The project's level book: levels of all spots, worked lines, or levels taken as they were given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.core.plane import Point
from packgen.project.model import Project
from packgen.survey.level_book import Run, reduce_book, sums
from packgen.survey.level_lines import book_lines, booked_lines, given_level
from packgen.survey.model import LevelBook, LevelPoint


def level_book(project: Project, corner_1: Mapping[str, Point]) -> LevelBook:
    """Levels of the base. `corner_1`: where corner 1 of each room lies in the plan, the first room first."""
    if project.levels.read_as == "levels":
        return _as_given(project, corner_1)
    reduced = reduce_book(project.levels.setups, {project.datum.name: 0.0})
    points = _points(project, corner_1, reduced.sights)
    back, fore = sums(reduced.lines)
    return LevelBook(
        reduced.setups,
        reduced.lines,
        points,
        _worst(reduced.runs),
        project.levels.largest_misclosure,
        back,
        fore,
        book_lines(project, reduced, points),
        booked_lines(project, reduced),
    )


def _worst(runs: Sequence[Run]) -> float | None:
    closed = [r.misclosure_mm for r in runs if r.misclosure_mm is not None]
    return max(closed, key=abs) if len(closed) == len(runs) and closed else None


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
    """Readings that are levels already: nothing to reduce; a closing level is held against the datum."""
    setups = project.levels.setups
    sights = [(r.spot, s.name, float(r.value), float(r.value)) for s in setups for r in s.readings]
    closing = [float(s.close_on.reading) for s in setups if s.close_on and s.close_on.point == project.datum.name]
    misclosure = max(closing, key=abs) if closing else None
    points = _points(project, corner_1, sights)
    lines = tuple(given_level(p, project) for p in points)
    return LevelBook((), (), points, misclosure, project.levels.largest_misclosure, 0.0, 0.0, lines)
