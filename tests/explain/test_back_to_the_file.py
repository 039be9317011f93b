"""Every line that can be asked for works out, and its figures lead back to the file, a source or the plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from packgen.core.worked import FILE, Given, Source, Worked
from packgen.explain.lines import Lines
from packgen.explain.quote import quote
from packgen.plan import Plan

PROJECTS = Path(__file__).parent.parent.parent / "projects"


def test_each_line_works_out_and_each_figure_is_from_a_line_the_file_a_source_or_the_plan(
    plan: Plan, reached: tuple[Worked, ...], faults_of: Callable[[Plan], list[str]]
) -> None:
    assert len(reached) > 500
    faults = faults_of(plan)
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
    plan: Plan, wrong: Callable[[Worked, Lines], str], spoilt: dict[str, object], says: str
) -> None:
    right = Worked("k", "n", "f", "2 + 3", 5.0, 0, "mm", given=(Given("two", 2), Given("three", 3)))
    assert wrong(right, Lines(plan)) == ""
    assert says in wrong(replace(right, **spoilt), Lines(plan))  # type: ignore[arg-type]


def test_a_figure_without_a_line_or_a_source_is_seen(loose: Callable[[Given], str]) -> None:
    assert "nobody says where" in loose(Given("a figure", 1))
    assert "no source" in loose(Given("a figure", 1, "mm", Source("")))


def test_lines_of_the_file_are_quoted_once_each_with_a_mark_under_every_figure(plan: Plan) -> None:
    text = (PROJECTS / plan.project.file_name).read_text(encoding="utf-8").splitlines()
    leg = plan.project.kit.shortest_leg.marks
    both = [Given(key, 1, "mm", place=leg.of(key)) for key in ("shortest", "longest")]
    line, marks = quote([*both, both[0]], text)
    assert text[leg.of("shortest").line - 1].strip() in line or line.endswith("…")
    columns = [k for k, c in enumerate(marks.partition("|")[2]) if c == "^"]
    assert columns == sorted({leg.of("shortest").column, leg.of("longest").column})
