"""A level book written anew: given the levels that are to come out, the readings that give them."""

from __future__ import annotations

import random
from collections.abc import Mapping

from packgen.core.figures import whole
from packgen.exercise.model import NotPossible
from packgen.project.misclosure import allowed_misclosure
from packgen.project.model import Project
from packgen.project.sights import true_setups
from packgen.project.work_model import Levels, Reading, SetUp, Sight
from packgen.survey.level_book import reduce_levels, shared


def book_for(
    project: Project,
    levels_mm: Mapping[str, int],
    misclosures: Mapping[str, int],
    shifts: Mapping[str, int],
    scatter: Mapping[tuple[str, str], int],
) -> Levels:
    """The project's levels with new readings, whole mm.

    levels_mm      corrected level wanted at every spot and change point; misclosures: by the last set-up of a run
    shifts         how much higher the laser stands in each set-up than in the project, by its name
    scatter        what a sight is to read off its level, by (set-up, spot): for spots read twice
    Set-up k of N gets k/N of the misclosure taken off, as survey/level_book.py does; so its readings hang from the
    line plus that correction. A book of levels just takes the levels.
    """
    book = project.levels
    if book.read_as != "staff readings":
        setups = tuple(
            s.model_copy(update={"readings": tuple(_cell(r, levels_mm[r.spot]) for r in s.readings)})
            for s in book.setups
        )
        return book.model_copy(update={"setups": setups})
    reduced = reduce_levels(project)
    raw = project.datum.known
    out: list[SetUp] = []
    for index, setup in enumerate(book.setups):
        run = next(r for r in reduced.runs if r.first <= index <= r.last)
        last = book.setups[run.last]
        miss = misclosures.get(last.name, whole(run.misclosure_mm or 0.0))
        corrected = (
            shared(miss, index - run.first + 1, run.last - run.first + 1) if run.misclosure_mm is not None else 0
        )
        back = whole(setup.start_on.reading) + shifts.get(setup.name, 0)
        line = raw[setup.start_on.point] + back
        hang = line + corrected
        cells = []
        for r in setup.readings:
            value = whole(hang - levels_mm[r.spot] + scatter.get((setup.name, r.spot), 0))
            cells.append(_cell(r, value))
            raw.setdefault(r.spot, line - value)
        update: dict[str, object] = {"start_on": _sight(setup.start_on, back), "readings": tuple(cells)}
        update |= {"read_again": None, "upside_down": ()}  # nobody asks for them, and their old figures would be wrong
        if setup.leave_on is not None:
            value = whole(hang - levels_mm[setup.leave_on.point])
            update["leave_on"] = _sight(setup.leave_on, value)
            raw.setdefault(setup.leave_on.point, line - value)
        if setup.close_on is not None:
            update["close_on"] = _sight(setup.close_on, whole(line - raw[setup.close_on.point] - miss))
        out.append(setup.model_copy(update=update))
    return book.model_copy(update={"setups": tuple(out)})


def _cell(r: Reading, value: float) -> Reading:
    return r.model_copy(update={"value": float(value)})


def _sight(s: Sight, value: float) -> Sight:
    return s.model_copy(update={"reading": float(value)})


def plain_book(project: Project) -> bool:
    """Whether every sight that carries a level counts as it was read: staff upright, laser line level."""
    book = project.levels
    return all(
        (s.start_on, s.readings, s.leave_on, s.close_on) == (t.start_on, t.readings, t.leave_on, t.close_on)
        for s, t in zip(book.setups, true_setups(book, project.laser), strict=True)
    )


def levels_of(project: Project) -> dict[str, int]:
    """Corrected level of every spot and change point of a project, whole mm."""
    if project.levels.read_as != "staff readings":
        return {r.spot: whole(r.value) for s in project.levels.setups for r in s.readings}
    book = reduce_levels(project)
    found: dict[str, list[float]] = {}
    for line in book.lines:
        if line.kind != "back" and line.point != project.datum.name:
            found.setdefault(line.point, []).append(line.level_mm)
    return {point: whole(sum(v) / len(v)) for point, v in found.items()}


def chosen_misclosures(project: Project, least: float, most: float, chance: random.Random) -> dict[str, int]:
    """A new misclosure for every run that closes on the datum, by its last set-up: within the file's limit.

    With several set-ups in a run it is one that can be shared: the first part is not 0 and not all of it.
    """
    if project.levels.read_as != "staff readings":
        return {}
    out: dict[str, int] = {}
    for run in reduce_levels(project).runs:
        last = project.levels.setups[run.last]
        if run.misclosure_mm is None or last.close_on is None or last.close_on.point != project.datum.name:
            continue
        n = run.last - run.first + 1
        limit = min(most, allowed_misclosure(project.levels, project.levels.setups[run.first : run.last + 1])[0])
        sizes = [m for m in range(max(1, whole(least)), int(limit) + 1) if n == 1 or 0 < -shared(m, 1, n) < m]
        if not sizes:
            raise NotPossible(
                f"exercise: no misclosure of at most {limit:g} can be shared among {n} set-ups in whole mm: "
                "let 'largest misclosure' be larger, or take misclosure out of 'vary'",
                "vary",
            )
        out[last.name] = chance.choice(sizes) * chance.choice((1, -1))
    return out
