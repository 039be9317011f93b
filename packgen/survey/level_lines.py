"""The arithmetic of the level book, line by line: heights of collimation, misclosure, corrections, levels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packgen.core.figures import plain
from packgen.core.worked import COUNTED, Given, Source, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.sights import Kind
from packgen.survey.level_book import Reduced, Run
from packgen.survey.model import LevelPoint, SetUpLevels, Underside
from packgen.survey.sight_lines import Leaf, leaves
from packgen.survey.terms import digits_of, joined

COLLIMATION = Source("height-of-collimation booking, levelling handbooks", known="practice")
BY_SETUPS = Source("misclosure shared equally along the set-ups, levelling handbooks", known="practice")

Sights = Mapping[tuple[str, Kind, str], Leaf]


def height_unit(mm: float) -> str:
    """The unit of a height that is printed by its size: above or below TBM."""
    return "mm above TBM" if mm > 0 else "mm below TBM"


def book_lines(
    project: Project, reduced: Reduced, points: Sequence[LevelPoint], under: Sequence[Underside]
) -> tuple[Worked, ...]:
    books, sights = {s.name: s for s in reduced.setups}, leaves(project)
    seen = [(p.id, p.level_mm, tuple((s, r, sights[s, "spot", p.id]) for s, r, _ in p.seen)) for p in points]
    seen += [(u.name, u.level_mm, ((u.setup, -u.reading_mm, sights[u.setup, "under", u.name]),)) for u in under]
    return (
        *(_collimation(s, project, sights) for s in reduced.setups),
        *(line for run in reduced.runs for line in _closing(run, reduced, project, sights)),
        *(_level(name, level, taken, books) for name, level, taken in seen),
    )


def _mark(project: Project, point: str) -> Given:
    """The level of a mark that is known: the datum's own, or one the file gives."""
    if point == project.datum.name:
        return given(project.datum, "name", f"{point}, from which all levels count", 0.0)
    return given(project.datum, f"other marks/{point}", f"level of {point}", abs(project.datum.known[point]))


def booked_lines(project: Project, reduced: Reduced) -> tuple[Worked, ...]:
    """The level of each change point as it was first booked, before the misclosure is shared out."""
    known, sights = project.datum.known, leaves(project)
    first: dict[str, tuple[str, Kind, float]] = {}
    kinds: tuple[Kind, ...] = ("spot", "under", "again", "leave", "close")
    for book in reduced.lines:
        if book.kind != "back" and book.point not in first:
            kind = next(k for k in kinds if (book.setup, k, book.point) in sights)
            first[book.point] = (book.setup, kind, book.raw_level_mm)
    used = [s.start_point for s in reduced.setups]
    used += [s.close_on.point for s in project.levels.setups if s.close_on is not None]
    out = []
    for point in dict.fromkeys(used):
        if point in known or point not in first:
            continue
        setup, kind, level = first[point]
        line = next(s.collimation_mm for s in reduced.setups if s.name == setup)
        leaf = sights[setup, kind, point]
        out.append(
            Worked(
                f"booked/{point}",
                f"level of {point} as booked from {setup}",
                "height of collimation - reading" if level > 0 else "reading - height of collimation",
                joined([line, level - line], level <= 0),
                abs(level),
                digits_of(level),
                height_unit(level),
                COLLIMATION,
                (f"collimation/{setup}", *leaf.needs),
                leaf.given,
            )
        )
    return tuple(out)


def given_level(point: LevelPoint, project: Project) -> Worked:
    """A level that was read as such; a spot read more than once counts as the mean."""
    cells = {(s.name, r.spot): r for s in project.levels.setups for r in s.readings}
    mine = tuple(
        given(cells[s, point.id], "value", f"reading on {point.id} from {s}", level) for s, _, level in point.seen
    )
    levels = [level for *_, level in point.seen]
    digits = next((d for d in (0, 1) if abs(point.level_mm - round(point.level_mm, d)) < 1e-9), 2)
    terms, mean = joined(levels, point.level_mm <= 0), len(mine) > 1
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


def _collimation(s: SetUpLevels, project: Project, sights: Sights) -> Worked:
    start, value = s.start_level_mm, s.collimation_mm
    leaf = sights[s.name, "start", s.start_point]
    side = "less depth of" if start < 0 else "+ height of"
    from_mark = s.start_point in project.datum.known
    return Worked(
        f"collimation/{s.name}",
        f"height of collimation {s.name}",
        f"backsight {side} {s.start_point}",
        joined([s.backsight_mm, start], value < 0),
        abs(value),
        digits_of(value),
        height_unit(value),
        COLLIMATION,
        (*leaf.needs, *(() if from_mark else (f"booked/{s.start_point}",))),
        (*leaf.given, *((_mark(project, s.start_point),) if from_mark else ())),
    )


def _closing(run: Run, reduced: Reduced, project: Project, sights: Sights) -> tuple[Worked, ...]:
    """The misclosure of a run and what each of its set-ups gives or takes."""
    if run.misclosure_mm is None or run.closing_level_mm is None:
        return ()
    setups, error = reduced.setups[run.first : run.last + 1], run.misclosure_mm
    last, known = setups[-1], run.closing_level_mm
    closing = next(b for b in reversed(reduced.lines) if b.setup == last.name and b.kind == "fore")
    key = "misclosure" if len(reduced.runs) == 1 else f"misclosure/{last.name}"
    which = "height of collimation - closing reading" if error >= 0 else "closing reading - height of collimation"
    says = "misclosure" if error == 0 else f"misclosure, the book ends too {'high' if error > 0 else 'low'} by"
    if known:
        which += f", level of {closing.point} taken off"
    size = abs(error)
    leaf, on_mark = sights[last.name, "close", closing.point], closing.point in project.datum.known
    needs = (f"collimation/{last.name}", *leaf.needs, *((f"booked/{closing.point}",) if not on_mark else ()))
    out = [
        Worked(
            key,
            says,
            which,
            joined([last.collimation_mm, -closing.reading_mm, *([-known] if known else [])], error < 0),
            size,
            digits_of(error),
            "mm",
            COLLIMATION,
            needs,
            (*leaf.given, *((_mark(project, closing.point),) if on_mark and known else ())),
        )
    ]
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
                digits_of(s.correction_mm),
                "mm",
                BY_SETUPS,
                (key,),
                (Given(f"number of {s.name} in its run", k, "", COUNTED), Given("set-ups of the run", n, "", COUNTED)),
            )
        )
    return tuple(out)


def _level(
    name: str, level: float, seen: Sequence[tuple[str, float, Leaf]], books: Mapping[str, SetUpLevels]
) -> Worked:
    """The level of a spot from each of its sights: (set-up, reading, what the reading rests on)."""
    above = level > 0
    parts = []
    for setup, reading, _ in seen:
        s = books[setup]
        parts.append(joined([s.collimation_mm, -reading, *([s.correction_mm] if s.correction_mm else [])], not above))
    n = len(parts)
    numbers = parts[0] if n == 1 else f"({' + '.join(f'({p})' for p in parts)}) / {n}"
    order = "height of collimation - reading" if above else "reading - height of collimation"
    if seen[0][1] < 0 and above:
        order = "height of collimation + reading upside down"
    value = abs(level)
    digits = next((d for d in (0, 1) if abs(value - round(value, d)) < 1e-9), 2)
    needs = tuple(
        f"{what}/{s}"
        for s, *_ in seen
        for what in (("collimation", "correction") if books[s].correction_mm else ("collimation",))
    )
    return Worked(
        f"level/{name}",
        f"level of {name}",
        f"{order}, corrected" + (", mean of the sights" if n > 1 else ""),
        numbers,
        round(value, digits),
        digits,
        height_unit(level),
        COLLIMATION,
        (*needs, *(key for *_, leaf in seen for key in leaf.needs)),
        (*(g for *_, leaf in seen for g in leaf.given), *([Given("times read", n, "", COUNTED)] if n > 1 else [])),
    )
