"""Blanks of the level book: change points, heights of collimation, misclosure, corrections, levels of spots."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from packgen.exercise import ways_book as book
from packgen.exercise.blanks import make, slip
from packgen.exercise.model import Blank, Case, CaseSetUp, CaseSpot

RISE_RULE = "rise or fall = reading before - reading here: a smaller reading is a rise"
LINE_RULE = "height of collimation = level of the point + backsight"
LEVEL_RULE = "level = height of collimation + correction - reading"


def book_blanks(case: Case) -> Iterator[Blank]:
    """In the order of booking: line by line, then what closes, then the spots."""
    for setup in case.setups:
        rows = book.booked(case, setup)
        for (_, earlier), (point, here) in pairwise(rows):
            yield _rise(setup, point, earlier, here)
        if setup.start_mm is None:
            yield _change_point(case, setup)
        yield _line(case, setup)
        if setup.close:
            yield _misclosure(case, setup)
            for member in _run(case, setup):
                yield _correction(case, member)
    for spot in case.spots:
        yield _level(case, spot)


def _run(case: Case, last: CaseSetUp) -> list[CaseSetUp]:
    at = case.setups.index(last)
    return list(case.setups[at - last.of + 1 : at + 1])


def _rise(setup: CaseSetUp, point: str, before_mm: float, here_mm: float) -> Blank:
    return make(
        f"rise/{setup.name}/{point}",
        "rise or fall",
        f"rise or fall to {point}, from {setup.name}",
        RISE_RULE,
        "mm",
        partial(book.rise, before_mm, here_mm),
        slips=(slip("W31", book.rise_turned, before_mm, here_mm),),
        writing="rise",
    )


def _change_point(case: Case, setup: CaseSetUp) -> Blank:
    return make(
        f"point/{setup.name}",
        "level",
        f"level of {setup.start} as read from {setup.start_from}, not yet corrected",
        "level = height of collimation - reading",
        "mm",
        partial(book.change_point, case, setup),
        needs=(book.line_id(setup.start_from),),
        slips=(slip("W1", book.change_point_turned, case, setup),),
        writing="level",
    )


def _line(case: Case, setup: CaseSetUp) -> Blank:
    return make(
        book.line_id(setup.name),
        "height of collimation",
        f"height of collimation of {setup.name}",
        LINE_RULE,
        "mm",
        partial(book.collimation, case, setup),
        needs=(f"point/{setup.name}",) if setup.start_mm is None else (),
        slips=(
            slip("W2", book.collimation_old, case, setup),
            slip("W25", book.collimation_fore, case, setup),
            slip("W26", book.collimation_no_point, case, setup),
            slip("W30", book.collimation_turned, case, setup),
        ),
        writing="level",
    )


def _misclosure(case: Case, last: CaseSetUp) -> Blank:
    return make(
        book.misclosure_id(case, last),
        "misclosure",
        "misclosure, and whether the book ends too high or too low",
        "misclosure = height of collimation of the last set-up - closing reading - known level",
        "mm",
        partial(book.misclosure, case, last),
        needs=(book.line_id(last.name),),
        slips=(
            slip("W29", book.misclosure_turned, case, last),
            slip("W26", book.misclosure_no_point, case, last),
        ),
        writing="misclosure",
    )


def _correction(case: Case, setup: CaseSetUp) -> Blank:
    return make(
        book.correction_id(setup.name),
        "correction",
        f"correction of every reading from {setup.name}",
        f"set-up {setup.place} of {setup.of} takes {setup.place}/{setup.of} of the misclosure"
        if setup.of > 1
        else "the one set-up takes all of the misclosure",
        "mm",
        partial(book.correction, case, setup),
        needs=(book.misclosure_id(case, setup),),
        slips=(slip("W3", book.correction_turned, case, setup), slip("W4", book.correction_all, case, setup)),
        writing="correction",
    )


def _level(case: Case, spot: CaseSpot) -> Blank:
    misclosed = book.setup_of(case, spot.setup).misclosed
    return make(
        f"level/{spot.id}",
        "level",
        f"level of {spot.id}" + (", corrected" if misclosed else ""),
        LEVEL_RULE if misclosed else "level = height of collimation - reading",
        "mm",
        partial(book.level, case, spot),
        needs=(book.line_id(spot.setup), *((book.correction_id(spot.setup),) if misclosed else ())),
        slips=(
            slip("W1", book.level_turned, case, spot),
            slip("W2", book.level_old_line, case, spot),
            slip("W3", book.level_correction_turned, case, spot),
            slip("W4", book.level_all, case, spot),
            slip("W27", book.level_uncorrected, case, spot),
        ),
        writing="level",
    )
