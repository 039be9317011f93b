"""The arithmetic checks of the level book: by sights, by levels, by rises and falls, and with intermediate sights."""

from __future__ import annotations

from packgen.core.figures import plain
from packgen.core.worked import COUNTED, Given, Source, Worked
from packgen.project.model import Project
from packgen.project.sights import Kind, true_setups
from packgen.survey.level_book import Reduced, full_check, in_a_chain, read_again, rises_and_falls
from packgen.survey.level_lines import Sights
from packgen.survey.sight_lines import Leaf, leaves
from packgen.survey.terms import digits_of, joined

BOOKING = Source("arithmetic checks of the level book, levelling handbooks", known="practice")
ADDED = Source("added up from the level book as printed", known="calculated")


def check_lines(project: Project, reduced: Reduced) -> tuple[Worked, ...]:
    """What has to come out equal: backsights less foresights, ends, rises less falls; then all sights with levels."""
    sights = leaves(project)
    return (*_by_sights(project, reduced, sights), *_with_between(reduced), *_again(project, reduced, sights))


def _by_sights(project: Project, reduced: Reduced, sights: Sights) -> tuple[Worked, ...]:
    """Backsights less foresights = last level less first = rises less falls."""
    setups = project.levels.setups
    if not reduced.runs or not all(in_a_chain(run, setups) for run in reduced.runs):
        return ()
    back = [b for b in reduced.lines if b.kind == "back"]
    fore = [b for b in reduced.lines if b.kind == "fore"]
    kinds: dict[str, Kind] = {s.name: "close" if s.close_on is not None else "leave" for s in setups}
    if any(s.close_on is not None and s.leave_on is not None for s in setups):
        return ()
    total = sum(b.reading_mm for b in back) - sum(b.reading_mm for b in fore)
    more, less = (back, fore) if total >= 0 else (fore, back)
    numbers = f"({joined([b.reading_mm for b in more])}) - ({joined([b.reading_mm for b in less])})"
    used: list[Leaf] = [sights[b.setup, "start", b.point] for b in back]
    used += [sights[b.setup, kinds[b.setup], b.point] for b in fore]
    needs = tuple(n for leaf in used for n in leaf.needs)
    read = tuple(g for leaf in used for g in leaf.given)
    size, digits = abs(total), digits_of(total)
    end_terms: list[float] = []
    lines = {s.name: s for s in reduced.setups}
    end_needs: list[str] = []
    end_given: list[Given] = []
    for run in reduced.runs:
        first, last = reduced.setups[run.first], reduced.setups[run.last]
        closing = next(b for b in reversed(reduced.lines) if b.setup == last.name and b.kind == "fore")
        end_terms += [lines[last.name].collimation_mm, -closing.reading_mm]
        end_needs.append(f"collimation/{last.name}")
        leaf = sights[last.name, kinds[last.name], closing.point]
        end_needs += leaf.needs
        end_given += leaf.given
        if first.start_level_mm:
            end_terms.append(-first.start_level_mm)
            end_given.append(Given(f"level of {first.start_point}", abs(first.start_level_mm), "mm", ADDED))
    rises, falls = rises_and_falls(reduced.lines)
    high, low = (rises, falls) if total >= 0 else (falls, rises)
    which = ("rise", "fall") if total >= 0 else ("fall", "rise")
    return (
        Worked(
            "level-book/check",
            "arithmetic check of the book",
            "backsights - foresights" if more is back else "foresights - backsights",
            numbers,
            size,
            digits,
            "mm",
            BOOKING,
            needs,
            read,
        ),
        Worked(
            "level-book/ends",
            "which is: last level less first, as booked",
            "last height of collimation - last reading, less first level" if total >= 0 else "first level less last",
            joined(end_terms, total < 0),
            size,
            digits,
            "mm",
            BOOKING,
            tuple(end_needs),
            tuple(end_given),
        ),
        Worked(
            "level-book/rises",
            "and is: rises less falls" if total >= 0 else "and is: falls less rises",
            f"sum of {which[0]}s - sum of {which[1]}s",
            f"{plain(high)} - {plain(low)}",
            size,
            digits,
            "mm",
            BOOKING,
            given=(
                Given(f"sum of the {which[0]}s from sight to sight", high, "mm", ADDED),
                Given(f"sum of the {which[1]}s from sight to sight", low, "mm", ADDED),
            ),
        ),
    )


def _with_between(reduced: Reduced) -> tuple[Worked, ...]:
    """Sights other than backsights and their levels, added = heights of collimation, each as often as it was used."""
    seen = [b for b in reduced.lines if b.kind != "back"]
    if not seen:
        return ()
    left, right = full_check(reduced.lines)
    if abs(left - right) > 1e-6:
        raise AssertionError("the level book does not add up")
    groups = (
        ("sum of the readings other than backsights", [b.reading_mm for b in seen if not b.upside_down], 1),
        ("sum of the readings upside down", [-b.reading_mm for b in seen if b.upside_down], -1),
        ("sum of the levels above the mark", [b.raw_level_mm for b in seen if b.raw_level_mm > 0], 1),
        ("sum of the levels below the mark", [-b.raw_level_mm for b in seen if b.raw_level_mm < 0], -1),
    )
    sums = [(text, sum(values), sign) for text, values, sign in groups if values]
    counts = [(s, sum(b.setup == s.name for b in seen)) for s in reduced.setups]
    counts = [(s, n) for s, n in counts if n]
    flip = right < 0
    terms = [(s.collimation_mm * n, f"{plain(abs(s.collimation_mm))} x {n}") for s, n in counts]
    numbers = ""
    for value, text in sorted(terms, key=lambda t: (t[0] < 0) != flip):
        minus = (value < 0) != flip
        numbers += (f" {'-' if minus else '+'} " if numbers else "") + text
    return (
        Worked(
            "level-book/between",
            "check with all sights",
            "readings + levels as booked",
            joined([v * sign for _, v, sign in sums], left < 0),
            abs(left),
            digits_of(left),
            "mm",
            BOOKING,
            given=tuple(Given(text, v, "mm", ADDED) for text, v, _ in sums),
        ),
        Worked(
            "level-book/lines",
            "which is: heights of collimation x sights",
            "height of collimation x sights taken from it",
            numbers,
            abs(right),
            digits_of(right),
            "mm",
            BOOKING,
            tuple(f"collimation/{s.name}" for s, _ in counts),
            tuple(Given(f"sights from {s.name} without the backsight", n, "", COUNTED) for s, n in counts),
        ),
    )


def _again(project: Project, reduced: Reduced, sights: Sights) -> tuple[Worked, ...]:
    """How far each second reading of a point is off what its level as booked lets one expect."""
    out = []
    for again in read_again(true_setups(project.levels, project.laser), reduced.lines, project.datum.known):
        line = next(s.collimation_mm for s in reduced.setups if s.name == again.setup)
        leaf, level = sights[again.setup, "again", again.point], line - again.expected_mm
        booked = Given(f"level of {again.point} as booked first", abs(level), "mm", ADDED)
        out.append(
            Worked(
                f"again/{again.setup}",
                f"{again.point} read again from {again.setup}: differs by",
                "second reading + level as booked - height of collimation",
                joined([again.reading_mm, -line, *([level] if level else [])], again.differs_mm < 0),
                abs(again.differs_mm),
                digits_of(again.differs_mm),
                "mm",
                BOOKING,
                (f"collimation/{again.setup}", *leaf.needs),
                (*leaf.given, *((booked,) if level else ())),
            )
        )
    return tuple(out)
