"""The project's level book: levels of all spots, worked lines, or levels taken as they were given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.core.figures import plain
from packgen.core.plane import Point
from packgen.core.worked import Source, Worked
from packgen.project.model import Project
from packgen.survey.level_book import Reduced, Run, reduce_book, sums
from packgen.survey.model import LevelBook, LevelPoint, SetUpLevels

COLLIMATION = Source("height-of-collimation booking, levelling handbooks", known="practice")
BY_SETUPS = Source("misclosure shared equally along the set-ups, levelling handbooks", known="practice")


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
        _worked(reduced, points),
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
    return LevelBook((), (), points, misclosure, project.levels.largest_misclosure, 0.0, 0.0)


# ------------------------------------------------------------------------------------ worked lines


def height_unit(mm: float) -> str:
    """The unit of a height that is printed by its size: above or below TBM."""
    return "mm above TBM" if mm > 0 else "mm below TBM"


def _worked(reduced: Reduced, points: Sequence[LevelPoint]) -> tuple[Worked, ...]:
    books = {s.name: s for s in reduced.setups}
    return (
        *(_collimation(s) for s in reduced.setups),
        *_arithmetic(reduced),
        *(line for run in reduced.runs for line in _closing(run, reduced)),
        *(_level(p, books) for p in points),
    )


def _digits(*values: float) -> int:
    return 0 if all(abs(v - round(v)) < 1e-9 for v in values) else 1


def _collimation(s: SetUpLevels) -> Worked:
    start, value = s.start_level_mm, s.collimation_mm
    if value >= 0:
        numbers = f"{plain(s.backsight_mm)} {'-' if start < 0 else '+'} {plain(abs(start))}"
    else:
        numbers = f"{plain(-start)} - {plain(s.backsight_mm)}"
    side = "less depth of" if start < 0 else "+ height of"
    return Worked(
        f"collimation/{s.name}",
        f"height of collimation {s.name}",
        f"backsight {side} {s.start_point}",
        numbers,
        abs(value),
        _digits(value),
        height_unit(value),
        COLLIMATION,
    )


def _arithmetic(reduced: Reduced) -> tuple[Worked, ...]:
    """Backsights less foresights, which must be what the book ends on less what it starts on."""
    back = [b.reading_mm for b in reduced.lines if b.kind == "back"]
    fore = [b.reading_mm for b in reduced.lines if b.kind == "fore"]
    if not fore:
        return ()
    more, less = (back, fore) if sum(back) >= sum(fore) else (fore, back)
    numbers = f"({' + '.join(map(plain, more))}) - ({' + '.join(map(plain, less))})"
    value = sum(more) - sum(less)
    formula = "backsights - foresights" if more is back else "foresights - backsights"
    return (
        Worked(
            "level-book/check",
            "arithmetic check of the book",
            formula,
            numbers,
            value,
            _digits(value),
            "mm",
            COLLIMATION,
        ),
    )


def _closing(run: Run, reduced: Reduced) -> tuple[Worked, ...]:
    """The misclosure of a run and what each of its set-ups gives or takes."""
    if run.misclosure_mm is None or run.closing_level_mm is None:
        return ()
    setups, error = reduced.setups[run.first : run.last + 1], run.misclosure_mm
    last, known = setups[-1], run.closing_level_mm
    reading = next(b.reading_mm for b in reversed(reduced.lines) if b.setup == last.name and b.kind == "fore")
    key = "misclosure" if len(reduced.runs) == 1 else f"misclosure/{last.name}"
    sign = "" if known == 0 else f" {'-' if known > 0 else '+'} {plain(abs(known))}"
    other = "" if known == 0 else f" {'+' if known > 0 else '-'} {plain(abs(known))}"
    line = plain(last.collimation_mm)
    numbers = f"{line} - {plain(reading)}{sign}" if error >= 0 else f"{plain(reading)} - {line}{other}"
    which = "height of collimation - closing reading" if error >= 0 else "closing reading - height of collimation"
    says = "misclosure" if error == 0 else f"misclosure, the book ends too {'high' if error > 0 else 'low'} by"
    size = abs(error)
    out = [Worked(key, says, which, numbers, size, _digits(error), "mm", COLLIMATION, (f"collimation/{last.name}",))]
    n = len(setups)
    for k, s in enumerate(setups, 1):
        name = f"correction of {s.name}: {'take off' if error > 0 else 'add'}"
        out.append(
            Worked(
                f"correction/{s.name}",
                name,
                "misclosure x number of the set-up / number of set-ups, rounded",
                f"{plain(size)} x {k} / {n}",
                abs(s.correction_mm),
                _digits(s.correction_mm),
                "mm",
                BY_SETUPS,
                (key,),
            )
        )
    return tuple(out)


def _level(point: LevelPoint, books: dict[str, SetUpLevels]) -> Worked:
    above = point.level_mm > 0
    parts = []
    for setup, reading, _ in point.seen:
        s = books[setup]
        line, up = s.collimation_mm, s.correction_mm
        first, then = (plain(line), reading) if above else (plain(reading), line)
        text = f"{first} {'-' if then >= 0 else '+'} {plain(abs(then))}"
        if up:
            text += f" {'+' if (up > 0) == above else '-'} {plain(abs(up))}"
        parts.append(text)
    numbers = parts[0] if len(parts) == 1 else f"({' + '.join(f'({p})' for p in parts)}) / {len(parts)}"
    order = "height of collimation - reading" if above else "reading - height of collimation"
    value = abs(point.level_mm)
    digits = next((d for d in (0, 1) if abs(value - round(value, d)) < 1e-9), 2)
    needs = tuple(f"{what}/{s}" for s, *_ in point.seen for what in ("collimation", "correction"))
    return Worked(
        f"level/{point.id}",
        f"level of {point.id}",
        f"{order}, corrected" + (", mean of the sights" if len(parts) > 1 else ""),
        numbers,
        round(value, digits),
        digits,
        height_unit(point.level_mm),
        COLLIMATION,
        needs,
    )
