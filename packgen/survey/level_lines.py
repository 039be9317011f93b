"""The arithmetic of the level book, line by line: heights of collimation, misclosure, corrections, levels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.core.figures import plain
from packgen.core.worked import COUNTED, Given, Source, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import SetUp, Sight
from packgen.survey.level_book import Reduced, Run
from packgen.survey.model import LevelPoint, SetUpLevels

COLLIMATION = Source("height-of-collimation booking, levelling handbooks", known="practice")
BY_SETUPS = Source("misclosure shared equally along the set-ups, levelling handbooks", known="practice")


def height_unit(mm: float) -> str:
    """The unit of a height that is printed by its size: above or below TBM."""
    return "mm above TBM" if mm > 0 else "mm below TBM"


def book_lines(project: Project, reduced: Reduced, points: Sequence[LevelPoint]) -> tuple[Worked, ...]:
    books, setups = {s.name: s for s in reduced.setups}, project.levels.setups
    seen = _readings(setups)
    return (
        *(_collimation(s, setup, project) for s, setup in zip(reduced.setups, setups, strict=True)),
        *_arithmetic(reduced, setups),
        *(line for run in reduced.runs for line in _closing(run, reduced, project)),
        *(_level(p, books, seen) for p in points),
    )


def _readings(setups: Sequence[SetUp]) -> dict[tuple[str, str], Given]:
    """What was read from each set-up on each spot."""
    return {
        (s.name, r.spot): given(r, "value", f"reading on {r.spot} from {s.name}", float(r.value))
        for s in setups
        for r in s.readings
    }


def _sight(sight: Sight, kind: str, setup: str) -> Given:
    return given(sight, "reading", f"{kind} on {sight.point} from {setup}", float(sight.reading))


def _datum(project: Project) -> Given:
    return given(project.datum, "name", f"{project.datum.name}, from which all levels count", 0.0)


def booked_lines(project: Project, reduced: Reduced) -> tuple[Worked, ...]:
    """The level of each change point as it was first booked, before the misclosure is shared out."""
    books = {s.name: s for s in reduced.setups}
    seen = _readings(project.levels.setups)
    sights: dict[str, tuple[str, Given]] = {}
    for s in project.levels.setups:
        for r in s.readings:
            sights.setdefault(r.spot, (s.name, seen[s.name, r.spot]))
        if s.leave_on is not None:
            sights.setdefault(s.leave_on.point, (s.name, _sight(s.leave_on, "foresight", s.name)))
    used = [s.start_point for s in reduced.setups]
    used += [s.close_on.point for s in project.levels.setups if s.close_on is not None]
    out = []
    for point in dict.fromkeys(used):
        if point == project.datum.name or point not in sights:
            continue
        setup, reading = sights[point]
        line = books[setup].collimation_mm
        above = line - reading.value > 0
        first, then = (line, reading.value) if above else (reading.value, line)
        value = abs(line - reading.value)
        out.append(
            Worked(
                f"booked/{point}",
                f"level of {point} as booked from {setup}",
                "height of collimation - reading" if above else "reading - height of collimation",
                f"{plain(first)} {'-' if then >= 0 else '+'} {plain(abs(then))}",
                value,
                _digits(value),
                height_unit(line - reading.value),
                COLLIMATION,
                (f"collimation/{setup}",),
                (reading,),
            )
        )
    return tuple(out)


def given_level(point: LevelPoint, project: Project) -> Worked:
    """A level that was read as such; a spot read more than once counts as the mean."""
    seen = _readings(project.levels.setups)
    mine = tuple(seen[setup, point.id] for setup, *_ in point.seen)
    above = point.level_mm > 0
    turned = [level if above else -level for *_, level in point.seen]
    terms = " + ".join(plain(v) for v in turned if v >= 0) + "".join(f" - {plain(-v)}" for v in turned if v < 0)
    digits = next((d for d in (0, 1) if abs(point.level_mm - round(point.level_mm, d)) < 1e-9), 2)
    mean = len(mine) > 1
    return Worked(
        f"level/{point.id}",
        f"level of {point.id}",
        "mean of the levels given" if mean else "as given",
        f"({terms}) / {len(mine)}" if mean else terms,
        round(abs(point.level_mm), digits),
        digits,
        height_unit(point.level_mm),
        None,
        (),
        (*mine, Given("times read", len(mine), "", COUNTED)) if mean else mine,
    )


def _digits(*values: float) -> int:
    return 0 if all(abs(v - round(v)) < 1e-9 for v in values) else 1


def _collimation(s: SetUpLevels, setup: SetUp, project: Project) -> Worked:
    start, value = s.start_level_mm, s.collimation_mm
    if value >= 0:
        numbers = f"{plain(s.backsight_mm)} {'-' if start < 0 else '+'} {plain(abs(start))}"
    else:
        numbers = f"{plain(-start)} - {plain(s.backsight_mm)}"
    side = "less depth of" if start < 0 else "+ height of"
    from_datum = s.start_point == project.datum.name
    read = _sight(setup.start_on, "backsight", s.name)
    return Worked(
        f"collimation/{s.name}",
        f"height of collimation {s.name}",
        f"backsight {side} {s.start_point}",
        numbers,
        abs(value),
        _digits(value),
        height_unit(value),
        COLLIMATION,
        () if from_datum else (f"booked/{s.start_point}",),
        (read, _datum(project)) if from_datum else (read,),
    )


def _arithmetic(reduced: Reduced, setups: Sequence[SetUp]) -> tuple[Worked, ...]:
    """Backsights less foresights, which must be what the book ends on less what it starts on."""
    back = [b.reading_mm for b in reduced.lines if b.kind == "back"]
    fore = [b.reading_mm for b in reduced.lines if b.kind == "fore"]
    if not fore:
        return ()
    more, less = (back, fore) if sum(back) >= sum(fore) else (fore, back)
    numbers = f"({' + '.join(map(plain, more))}) - ({' + '.join(map(plain, less))})"
    value = sum(more) - sum(less)
    formula = "backsights - foresights" if more is back else "foresights - backsights"
    seen = [_sight(s.start_on, "backsight", s.name) for s in setups]
    seen += [_sight(end, "foresight", s.name) for s in setups for end in (s.leave_on, s.close_on) if end is not None]
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
            given=tuple(seen),
        ),
    )


def _closing(run: Run, reduced: Reduced, project: Project) -> tuple[Worked, ...]:
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
    sight = project.levels.setups[run.last].close_on
    read = (_sight(sight, "closing reading", last.name),) if sight else ()
    needs = (f"collimation/{last.name}", *((f"booked/{sight.point}",) if sight and known else ()))
    out = [Worked(key, says, which, numbers, size, _digits(error), "mm", COLLIMATION, needs, read)]
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
                (Given(f"number of {s.name} in its run", k, "", COUNTED), Given("set-ups of the run", n, "", COUNTED)),
            )
        )
    return tuple(out)


def _level(point: LevelPoint, books: Mapping[str, SetUpLevels], seen: Mapping[tuple[str, str], Given]) -> Worked:
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
    n = len(parts)
    needs = tuple(
        f"{what}/{s}"
        for s, *_ in point.seen
        for what in (("collimation", "correction") if books[s].correction_mm else ("collimation",))
    )
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
        (*(seen[s, point.id] for s, *_ in point.seen), *([Given("times read", n, "", COUNTED)] if n > 1 else [])),
    )
