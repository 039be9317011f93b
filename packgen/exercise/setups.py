"""The set-ups of the level book as a pupil books them."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.exercise.model import CaseSetUp, CaseSpot
from packgen.project.model import Project
from packgen.project.work_model import SetUp
from packgen.survey.level_book import Reduced, Run, reduce_levels


def case_setups(project: Project) -> tuple[CaseSetUp, ...]:
    """Set-ups in booking order; none where the file gives levels and no readings.

    A run that closes on a point other than the datum is given as it is corrected: its start level then holds the
    correction, and nothing is left to share out.
    """
    if project.levels.read_as != "staff readings":
        return ()
    datum = project.datum.name
    book = reduce_levels(project)
    out = []
    for index, setup in enumerate(project.levels.setups):
        run = next(r for r in book.runs if r.first <= index <= r.last)
        out.append(_setup(project.levels.setups, index, setup, run, book, datum))
    return tuple(out)


def needed_setups(setups: Sequence[CaseSetUp], spots: Sequence[CaseSpot]) -> tuple[CaseSetUp, ...]:
    """The runs from which spots are asked, and those they start from; a run is booked and closed as a whole."""
    run_of = {s.name: setups[i + s.of - s.place].name for i, s in enumerate(setups)}
    wanted = {run_of[spot.setup] for spot in spots}
    for setup in reversed(setups):
        if run_of[setup.name] in wanted and setup.start_from:
            wanted.add(run_of[setup.start_from])
    return tuple(s for s in setups if run_of[s.name] in wanted)


def _setup(setups: tuple[SetUp, ...], index: int, setup: SetUp, run: Run, book: Reduced, datum: str) -> CaseSetUp:
    last = setups[run.last].close_on
    on_datum = last is not None and last.point == datum
    misclosed = run.misclosure_mm is not None and on_datum
    start_mm: float | None = None
    fixed = _fixed_by(setups[:index], setup.start_on.point)
    if setup.start_on.point == datum:
        start_mm = 0.0
    elif fixed is None or (run.misclosure_mm is not None and not on_datum):
        reduced = book.setups[index]
        start_mm = reduced.adjusted_collimation_mm - reduced.backsight_mm
    close = setup.close_on if misclosed and index == run.last else None
    return CaseSetUp(
        name=setup.name,
        start=setup.start_on.point,
        start_mm=start_mm,
        start_from=fixed[0] if fixed and start_mm is None else "",
        start_reading_mm=fixed[1] if fixed and start_mm is None else 0.0,
        back_mm=float(setup.start_on.reading),
        leave=setup.leave_on.point if setup.leave_on else "",
        leave_mm=float(setup.leave_on.reading) if setup.leave_on else 0.0,
        close=close.point if close else "",
        close_mm=float(close.reading) if close else 0.0,
        close_level_mm=0.0,
        place=index - run.first + 1,
        of=run.last - run.first + 1,
        misclosed=misclosed,
    )


def _fixed_by(earlier: tuple[SetUp, ...], point: str) -> tuple[str, float] | None:
    """Set-up and reading that first fixed a point."""
    for setup in earlier:
        for r in setup.readings:
            if r.spot == point:
                return setup.name, float(r.value)
        if setup.leave_on is not None and setup.leave_on.point == point:
            return setup.name, float(setup.leave_on.reading)
    return None
