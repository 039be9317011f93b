"""Every line that can be asked for works out, and its figures lead back to the file, a source or the plan."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from packgen.core.figures import half_up
from packgen.core.worked import FILE, Given, Source, Worked
from packgen.explain.lines import Lines
from packgen.explain.quote import quote
from packgen.plan import Plan

FIGURE = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
UNITS_AND_HALVES = {0, 1, 2, 4, 10, 60, 100, 1000, 1000000}  # figures that turn one unit into another, or halve
PROJECTS = Path(__file__).parent.parent.parent / "projects"


def wrong(line: Worked, lines: Lines, calculate: Callable[[str], float]) -> str:
    """What is wrong with a line; nothing where it is right."""
    got = calculate(line.numbers)
    if abs(half_up(got, line.digits) - half_up(line.value, line.digits)) > 1e-9:
        return f"{line.key}: {line.numbers} gives {got}, printed {line.value}"
    needs = [lines.find(key) for key in line.needs]
    if None in needs:
        return f"{line.key}: needs {line.needs}, of which one does not exist"
    parts = [w.value for w in needs if w is not None] + [g.value for g in line.given]
    figures = FIGURE.findall(line.numbers)
    for text in figures:
        if float(text) not in UNITS_AND_HALVES and not any(same(text, v) for v in parts):
            return f"{line.key}: nobody says where {text} comes from in {line.numbers}"
    for value in parts:
        if not any(same(text, value) for text in figures):
            return f"{line.key}: {value} does not stand in {line.numbers}"
    return "" if parts else f"{line.key}: comes from nothing"


def same(text: str, value: float) -> bool:
    """Whether a printed figure stands for a value."""
    return half_up(abs(value), len(text.partition(".")[2])) == float(text)


def loose(given: Given) -> str:
    """What is wrong with a figure that is not worked any further."""
    if given.source == FILE and given.place is None:
        return f"{given.says} is said to stand in the file, and nobody says where"
    return "" if given.source.title else f"{given.says} has no source"


def test_each_line_works_out_and_each_figure_in_it_is_from_somewhere(
    plan: Plan, reached: tuple[Worked, ...], calculate: Callable[[str], float]
) -> None:
    lines = Lines(plan)
    assert len(reached) > 500
    faults = [f for line in reached if (f := wrong(line, lines, calculate))]
    assert not faults, "\n".join(faults[:20])


def test_each_end_is_in_the_file_or_published_or_measured_on_the_plan(reached: tuple[Worked, ...]) -> None:
    faults = [f"{line.key}: {f}" for line in reached for g in line.given if (f := loose(g))]
    assert not faults, "\n".join(faults[:20])


def test_no_line_stands_on_itself(plan: Plan, reached: tuple[Worked, ...]) -> None:
    below = {line.key: line.needs for line in reached}
    done: set[str] = set()

    def walk(key: str, above: tuple[str, ...]) -> None:
        assert key not in above, (*above, key)
        if key not in done:
            for need in below[key]:
                walk(need, (*above, key))
            done.add(key)

    for key in below:
        walk(key, ())


def test_figures_of_the_file_stand_where_they_are_said_to(plan: Plan, reached: tuple[Worked, ...]) -> None:
    """At the line and column stands the figure itself, in its own unit; a layer's or a wall's line in words."""
    text = (PROJECTS / plan.project.file_name).read_text(encoding="utf-8").splitlines()
    checked = 0
    for line in reached:
        for given in line.given:
            if given.source != FILE or given.place is None or not line.key.startswith(("level/", "collimation/")):
                continue
            rest = text[given.place.line - 1][given.place.column - 1 :]
            if given.value == 0:
                assert rest.startswith(plan.project.datum.name)
            else:
                assert rest.startswith(f"{given.value:.0f}"), (line.key, given, rest)
            checked += 1
    assert checked > 30


@pytest.mark.parametrize(
    ("spoilt", "says"),
    [
        ({"numbers": "2 + 4"}, "gives"),
        ({"needs": ("no such line",)}, "does not exist"),
        ({"given": (Given("two", 2), Given("seven", 7))}, "where 3 comes from"),
        ({"numbers": "2 + 4 - 1", "given": (Given("two", 2), Given("four", 4), Given("nine", 9))}, "9 does not stand"),
        ({"given": (), "numbers": "1000 / 100", "value": 10.0}, "comes from nothing"),
    ],
)
def test_the_test_sees_what_is_wrong(
    plan: Plan, calculate: Callable[[str], float], spoilt: dict[str, object], says: str
) -> None:
    right = Worked("k", "n", "f", "2 + 3", 5.0, 0, "mm", given=(Given("two", 2), Given("three", 3)))
    assert wrong(right, Lines(plan), calculate) == ""
    assert says in wrong(replace(right, **spoilt), Lines(plan), calculate)  # type: ignore[arg-type]


def test_a_figure_without_a_line_or_a_source_is_seen() -> None:
    assert "nobody says where" in loose(Given("a figure", 1))
    assert "no source" in loose(Given("a figure", 1, "mm", Source("")))


def test_lines_of_the_file_are_quoted_once_each_with_a_mark_under_every_figure(plan: Plan) -> None:
    text = (PROJECTS / plan.project.file_name).read_text(encoding="utf-8").splitlines()
    leg = plan.project.kit.leg.marks
    both = [Given(key, 1, "mm", place=leg.of(key)) for key in ("shortest", "longest")]
    line, marks = quote([*both, both[0]], text)
    assert text[leg.of("shortest").line - 1].strip() in line or line.endswith("…")
    columns = [k for k, c in enumerate(marks.partition("|")[2]) if c == "^"]
    assert columns == sorted({leg.of("shortest").column, leg.of("longest").column})
