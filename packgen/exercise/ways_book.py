"""The level book: right and wrong ways from readings to levels. Levels mm, up is plus.

height of collimation = level of the start point + backsight;  level = height of collimation + correction - reading;
misclosure = computed - known;  correction of set-up k of N = - misclosure x k / N.
Source: height-of-collimation booking, levelling handbooks; survey/level_book.py, whose figures these must give.
"""

from __future__ import annotations

from packgen.core.figures import half_up, plain
from packgen.exercise.model import Answers, Case, CaseSetUp, CaseSpot, Way
from packgen.exercise.ways import signed_sum, summed
from packgen.survey.level_book import shared


def line_id(setup: str) -> str:
    return f"collimation/{setup}"


def correction_id(setup: str) -> str:
    return f"correction/{setup}"


def misclosure_id(case: Case, setup: CaseSetUp) -> str:
    """Blank of the misclosure of the run a set-up belongs to: one run has a bare name."""
    at = case.setups.index(setup)
    last = case.setups[at + setup.of - setup.place]
    runs = sum(bool(s.close) for s in case.setups)
    return "misclosure" if runs <= 1 else f"misclosure/{last.name}"


def setup_of(case: Case, name: str) -> CaseSetUp:
    """The set-up of that name; StopIteration where there is none."""
    return next(s for s in case.setups if s.name == name)


def before(case: Case, setup: CaseSetUp) -> CaseSetUp | None:
    """The set-up that fixed the start point of this one."""
    return next((s for s in case.setups if s.name == setup.start_from), None)


# ------------------------------------------------------------------------------------ height of collimation


def change_point(case: Case, setup: CaseSetUp, a: Answers) -> Way:
    """Level, as read, of the point on which a later set-up starts."""
    return summed(
        f"line of {setup.start_from} - reading", a[line_id(setup.start_from)], -setup.start_reading_mm, digits=1
    )


def change_point_turned(case: Case, setup: CaseSetUp, a: Answers) -> Way:
    """W1 at a change point."""
    return summed("reading - line", setup.start_reading_mm, -a[line_id(setup.start_from)], digits=1)


def collimation(case: Case, setup: CaseSetUp, a: Answers) -> Way:
    start = setup.start_mm if setup.start_mm is not None else a[f"point/{setup.name}"]
    return summed(f"level of {setup.start} + backsight", start, setup.back_mm, digits=1)


def collimation_old(case: Case, setup: CaseSetUp, a: Answers) -> Way | None:
    """W2: the line of the set-up before."""
    old = before(case, setup)
    if old is None:
        return None
    value = a[line_id(old.name)]
    return Way(value, f"line of {old.name}", plain(abs(value)))


def collimation_no_point(case: Case, setup: CaseSetUp, a: Answers) -> Way | None:
    """W26: starts as if on the datum."""
    return None if setup.start_mm is not None else Way(setup.back_mm, "backsight alone", plain(setup.back_mm))


def collimation_turned(case: Case, setup: CaseSetUp, a: Answers) -> Way | None:
    """W30: the change point's depth taken for a height."""
    if setup.start_mm is not None:
        return None
    return summed("backsight, point turned round", setup.back_mm, -a[f"point/{setup.name}"], digits=1)


def collimation_fore(case: Case, setup: CaseSetUp, a: Answers) -> Way | None:
    """W25: the foresight taken for the backsight; for a later set-up, the reading taken there before the move."""
    if setup.start_mm is not None:
        if not setup.leave:
            return None
        return summed("level + foresight", setup.start_mm, setup.leave_mm, digits=1)
    return None  # level of the point + its foresight is the old line: W2 says it


# ------------------------------------------------------------------------------------ rise and fall


def booked(case: Case, setup: CaseSetUp) -> list[tuple[str, float]]:
    """Points of a set-up with their readings in booking order, as far as they stand on the answer sheet."""
    rows = [(setup.start, setup.back_mm)]
    rows += [(s.id, s.reading_mm) for s in case.spots if s.setup == setup.name]
    if setup.leave:
        rows.append((setup.leave, setup.leave_mm))
    if setup.close:
        rows.append((setup.close, setup.close_mm))
    return rows


def rise(before_mm: float, here_mm: float, a: Answers) -> Way:
    """Up is plus: a smaller reading is a higher place."""
    return summed("reading before - reading here", before_mm, -here_mm, digits=1)


def rise_turned(before_mm: float, here_mm: float, a: Answers) -> Way | None:
    """W31."""
    return None if before_mm == here_mm else summed("reading here - reading before", here_mm, -before_mm, digits=1)


# ------------------------------------------------------------------------------------ closing


def misclosure(case: Case, last: CaseSetUp, a: Answers) -> Way:
    return summed(
        "line - closing reading - known level", a[line_id(last.name)], -last.close_mm, -last.close_level_mm, digits=1
    )


def misclosure_turned(case: Case, last: CaseSetUp, a: Answers) -> Way:
    """W29: known - found."""
    right = misclosure(case, last, a)
    return Way(-right.value + 0.0, "known level - found", right.numbers)


def misclosure_no_point(case: Case, last: CaseSetUp, a: Answers) -> Way | None:
    """W26: first backsight less closing reading, as if the laser had never been moved."""
    first = case.setups[case.setups.index(last) - last.place + 1]
    if last.of == 1 or first.start_mm is None:
        return None
    return summed("first line - closing reading", first.start_mm + first.back_mm, -last.close_mm, digits=1)


def correction(case: Case, setup: CaseSetUp, a: Answers) -> Way:
    miss, k, n = a[misclosure_id(case, setup)], setup.place, setup.of
    return Way(shared(miss, k, n), "misclosure × number of the set-up / set-ups", f"{plain(abs(miss))} x {k} / {n}")


def correction_turned(case: Case, setup: CaseSetUp, a: Answers) -> Way:
    """W3."""
    right = correction(case, setup, a)
    return Way(-right.value + 0.0, "the other way", right.numbers)


def correction_all(case: Case, setup: CaseSetUp, a: Answers) -> Way | None:
    """W4: structurally the right answer at the last set-up of a run."""
    if setup.place == setup.of:
        return None
    return Way(-a[misclosure_id(case, setup)] + 0.0, "all of the misclosure", plain(abs(a[misclosure_id(case, setup)])))


# ------------------------------------------------------------------------------------ levels


def _level(formula: str, line: float, corrected: float, reading: float) -> Way:
    """The correction that is 0 because nothing closes is not written out."""
    terms = [line, corrected, -reading] if corrected else [line, -reading]
    return Way(half_up(sum(terms)), formula, signed_sum(terms))


def _corrected(case: Case, name: str, a: Answers) -> float:
    return a.get(correction_id(name), 0.0) if setup_of(case, name).misclosed else 0.0


def level(case: Case, spot: CaseSpot, a: Answers) -> Way:
    return _level(
        "line + correction - reading", a[line_id(spot.setup)], _corrected(case, spot.setup, a), spot.reading_mm
    )


def level_turned(case: Case, spot: CaseSpot, a: Answers) -> Way:
    """W1: reading - line, said as a height; the correction is used as it is."""
    return _level(
        "reading - line + correction", -a[line_id(spot.setup)], _corrected(case, spot.setup, a), -spot.reading_mm
    )


def level_old_line(case: Case, spot: CaseSpot, a: Answers) -> Way | None:
    """W2: the first set-up's line for a later set-up's reading."""
    first = case.setups[0]
    if first.name == spot.setup:
        return None
    return _level(
        "line of the first set-up - reading", a[line_id(first.name)], _corrected(case, spot.setup, a), spot.reading_mm
    )


def level_correction_turned(case: Case, spot: CaseSpot, a: Answers) -> Way | None:
    """W3."""
    c = _corrected(case, spot.setup, a)
    if not c:
        return None
    return _level("line - correction - reading", a[line_id(spot.setup)], -c, spot.reading_mm)


def level_uncorrected(case: Case, spot: CaseSpot, a: Answers) -> Way | None:
    """W27."""
    if not _corrected(case, spot.setup, a):
        return None
    return _level("line - reading", a[line_id(spot.setup)], 0.0, spot.reading_mm)


def level_all(case: Case, spot: CaseSpot, a: Answers) -> Way | None:
    """W4: the whole misclosure at an early set-up."""
    setup = setup_of(case, spot.setup)
    if setup.place == setup.of or not setup.misclosed or misclosure_id(case, setup) not in a:
        return None
    return _level(
        "line - misclosure - reading", a[line_id(spot.setup)], -a[misclosure_id(case, setup)], spot.reading_mm
    )
