"""A pocket calculator, and all lines that a plan can be asked for."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache

import pytest

from packgen.core.figures import half_up
from packgen.core.worked import FILE, Given, Worked
from packgen.explain.lines import Lines
from packgen.explain.subjects import list_subjects
from packgen.plan import Plan

FIGURE = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
UNITS_AND_HALVES = {0, 1, 2, 4, 10, 60, 100, 1000, 1000000}  # figures that turn one unit into another, or halve
KEYS = re.compile(r"[\d\s.+\-*/(),]|ceil|floor|max|min")


def pressed(text: str) -> float:
    """The result of figures, + - x / ( ), ceil, floor, max and min, and of nothing else."""
    plain = text.replace(" x ", " * ")
    assert not KEYS.sub("", plain), text
    functions = {
        "ceil": lambda v: math.ceil(round(v, 9)),
        "floor": lambda v: math.floor(round(v, 9)),
        "max": max,
        "min": min,
    }
    return float(eval(plain, {"__builtins__": {}}, functions))  # only what KEYS lets through


def wrong_line(line: Worked, lines: Lines) -> str:
    """What is wrong with a line; nothing where it is right."""
    got = pressed(line.numbers)
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


def loose_end(given: Given) -> str:
    """What is wrong with a figure that is not worked any further."""
    if given.source == FILE and given.place is None:
        return f"{given.says} is said to stand in the file, and nobody says where"
    return "" if given.source.title else f"{given.says} has no source"


@cache
def reached_from(plan: Plan) -> tuple[Worked, ...]:
    """All lines below all subjects."""
    lines = Lines(plan)
    todo = [key for s in list_subjects(plan, lines) for key in s.keys] + list(lines.known)
    for s in list_subjects(plan, lines):
        if s.finding is not None:
            todo += s.finding.more
    found: dict[str, Worked] = {}
    while todo:
        key = todo.pop()
        line = lines.find(key)
        if key not in found and line is not None:
            found[key] = line
            todo += line.needs
    return tuple(found.values())


@pytest.fixture
def reached(plan: Plan) -> tuple[Worked, ...]:
    return reached_from(plan)


@pytest.fixture(scope="session")
def wrong() -> Callable[[Worked, Lines], str]:
    return wrong_line


@pytest.fixture(scope="session")
def loose() -> Callable[[Given], str]:
    return loose_end


@pytest.fixture(scope="session")
def faults_of() -> Callable[[Plan], list[str]]:
    """All that is wrong with the lines of a plan."""

    def faults(plan: Plan) -> list[str]:
        lines, found = Lines(plan), reached_from(plan)
        ends = [f"{line.key}: {f}" for line in found for g in line.given if (f := loose_end(g))]
        return [f for line in found if (f := wrong_line(line, lines))] + ends

    return faults
