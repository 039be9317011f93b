"""A pocket calculator, and all lines that a plan can be asked for."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache

import pytest

from packgen.core.worked import Worked
from packgen.explain.lines import Lines
from packgen.explain.subjects import list_subjects
from packgen.plan import Plan

FIGURE = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
KEYS = re.compile(r"[\d\s.+\-*/(),]|ceil|floor|max|min")


def _pressed(text: str) -> float:
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


@pytest.fixture(scope="session")
def calculate() -> Callable[[str], float]:
    return _pressed


@cache
def _reached(plan: Plan) -> tuple[Worked, ...]:
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
    return _reached(plan)
