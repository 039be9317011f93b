"""Where a reading of the book comes from: as it was read, or put right for a laser line that is not level."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Source, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.sights import ERROR_DIGITS, Kind, Taken, corrected, error_per_m, taken

TWO_PEGS = Source("two-peg test, levelling handbooks", known="practice")
SAYS: dict[Kind, str] = {
    "start": "backsight",
    "spot": "reading",
    "under": "reading upside down",
    "again": "second reading",
    "leave": "foresight",
    "close": "closing reading",
}


@dataclass(frozen=True, slots=True)
class Leaf:
    """What a sum that uses a reading rests on: a line of its own, or the figure as it was read."""

    needs: tuple[str, ...]
    given: tuple[Given, ...]


def says(setup: str, t: Taken) -> str:
    return f"{SAYS[t.kind]} on {t.point} from {setup}"


def leaves(project: Project) -> Mapping[tuple[str, Kind, str], Leaf]:
    """For each reading, by set-up, kind and point, what it rests on."""
    error = error_per_m(project.laser)
    out: dict[tuple[str, Kind, str], Leaf] = {}
    for setup in project.levels.setups:
        for t in taken(project.levels, setup):
            if error is not None and t.distance_m is not None:
                out[setup.name, t.kind, t.point] = Leaf((_key(setup.name, t),), ())
            else:
                out[setup.name, t.kind, t.point] = Leaf((), (_read(setup.name, t),))
    return out


def sight_lines(project: Project) -> tuple[tuple[Worked, ...], tuple[Worked, ...]]:
    """The error of the laser line by the two-peg test, and each reading that was corrected for it."""
    error = error_per_m(project.laser)
    if error is None:
        return (), ()
    lines = tuple(
        _corrected(setup.name, t, error)
        for setup in project.levels.setups
        for t in taken(project.levels, setup)
        if t.distance_m is not None
    )
    return (_error(project, error),), lines


def _key(setup: str, t: Taken) -> str:
    return f"reading/{setup}/{t.kind}/{t.point}"


def _read(setup: str, t: Taken) -> Given:
    return given(t.record, "value" if t.kind == "spot" else "reading", says(setup, t), abs(t.below_line_mm))


def _error(project: Project, error: float) -> Worked:
    test = project.laser.two_peg_test if project.laser else None
    assert test is not None
    far, near = test.end_to_b / 1000, test.end_to_a / 1000
    second = f"({plain(test.b_from_end)} - {plain(test.a_from_end)})"
    first = f"({plain(test.b_from_middle)} - {plain(test.a_from_middle)})"
    up, down = (second, first) if (error >= 0) == (far >= near) else (first, second)
    metres = f"({plain(max(far, near))} - {plain(min(far, near))})"
    names = ("A from middle", "B from middle", "A from end", "B from end")
    values = (test.a_from_middle, test.b_from_middle, test.a_from_end, test.b_from_end)
    read = [given(test, n, f"two-peg test, {n}", v) for n, v in zip(names, values, strict=True)]
    for name, metres_to in (("end to A", near), ("end to B", far)):
        read.append(given(test, name, f"two-peg test, {name}", metres_to, "m"))
    return Worked(
        "two-peg/error",
        f"the laser line {'rises' if error >= 0 else 'falls'} in a metre by",
        "difference of B less A from the end and from the middle / difference of the two distances",
        f"({up} - {down}) / {metres}",
        abs(error),
        ERROR_DIGITS,
        "mm per m",
        TWO_PEGS,
        given=tuple(read),
    )


def _corrected(setup: str, t: Taken, error: float) -> Worked:
    """A reading less what the line stands too high there; an underside reads so much more instead."""
    assert t.distance_m is not None
    inverted = t.below_line_mm < 0
    off = (error > 0) != inverted
    by = f"{plain(abs(error), ERROR_DIGITS)} x {plain(t.distance_m)}"
    value = abs(corrected(t.below_line_mm, error, t.distance_m))
    places = t.record.marks
    distance = Given(
        f"distance from {setup} to {t.point}",
        t.distance_m,
        "m",
        FILE if places and any(k == "distance" for k, _ in places.keys) else ON_PLAN,
    )
    return Worked(
        _key(setup, t),
        f"{says(setup, t)}, corrected",
        "reading less error of the line x distance" if off else "reading + error of the line x distance",
        f"{plain(abs(t.below_line_mm))} {'-' if off else '+'} {by}",
        half_up(value),
        0,
        "mm",
        TWO_PEGS,
        ("two-peg/error",),
        (_read(setup, t), distance),
    )
