"""Class sets of projects nobody had in mind: other books, other rooms, other fills. Every sheet is made."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from packgen.booklet.classroom.make import sheets_of
from packgen.booklet.classroom.pages import body_of
from packgen.booklet.classroom.teacher import teacher_sheets
from packgen.exercise.choose import choose_versions
from packgen.exercise.model import ClassSet
from packgen.exercise.settings import settings_of
from packgen.project.read import read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"
BAY = (PROJECTS / "07-school-exercise-bay.yaml").read_text(encoding="utf-8")


def as_levels(text: str) -> str:
    """The bay with levels instead of readings: nothing to reduce."""
    head, rest = text.split("  read as: staff readings", 1)
    book = """  read as: levels
  columns at: {A: 50, B: 650, C: 1250, D: 1850, E: 2450, F: 3050, G: 3650, H: 3950}
  rows at: {1: 50, 3: 1250, 5: 2450, 6: 2950}
  setups:
    - name: S1
      start on: {point: TBM, reading: 0}
      readings: |
        row     A     B     C     D     E     F     G     H
        1     -105  -104  -103  -102  -101  -100   -99   -99
        3     -107  -107  -105   -99   -90   -97  -101  -101
        5     -114  -119  -113  -106  -104  -103  -103  -102
        6     -112  -115  -111  -107  -105  -104  -103  -103
"""
    after = rest.split("\ncrew:", 1)[1]
    return head + book + "\ncrew:" + after


def one_set_up(text: str) -> str:
    """One position of the laser that reads all and closes on the datum: S2's readings hung from S1's line."""
    head, rest = text.split("    - name: S2", 1)
    second, after = rest.split("\ncrew:", 1)
    first = head.split("readings: |", 1)[1]
    lower = 1436 - 1299
    rows = []
    for one, two in zip(_rows(first), _rows(second), strict=True):
        rows.append("  ".join([*one, *(str(int(v) + lower) for v in two[2:])]))
    table = "\n".join(f"        {row}" for row in ["row A B C D E F G H", *rows])
    start = head.split("readings: |", 1)[0]
    return f"{start}readings: |\n{table}\n      close on: {{point: TBM, reading: 1434}}\n\ncrew:{after}"


def _rows(text: str) -> list[list[str]]:
    return [line.split() for line in text.splitlines() if re.match(r"^ {8}[0-9]\s", line)]


def never_closed(text: str) -> str:
    return text.replace("      close on: {point: TBM, reading: 1297}\n", "")


def three_set_ups(text: str) -> str:
    """A third position between the change point and the datum."""
    more = """      leave on: {point: CP2, reading: 1310}
    - name: S3
      start on: {point: CP2, reading: 1400}
      close on: {point: TBM, reading: 1387}
"""
    return text.replace("      close on: {point: TBM, reading: 1297}\n", more)


def with_column(text: str) -> str:
    """A column in the room, and an L-shaped outline."""
    walls = """      - wall 1: 4000, turn right
      - wall 2: 1800, turn right
      - wall 3: 900, turn left
      - wall 4: 1200, turn right
      - wall 5: 3100, turn right
      - wall 6: 3000, turn right
    obstacles:
      - {name: column, shape: rectangle, from: [2000, 2000], to: [2200, 2200], stays: yes}
"""
    start, end = text.index("      - wall 1: 4000"), text.index("\nopenings:")
    text = text[:start] + walls + text[end:]
    text = text.replace("in: wall 4", "in: wall 6")
    rows = text.splitlines()
    return "\n".join(_without(r) for r in rows) + "\n"


def _without(row: str) -> str:
    """Readings beyond the shorter wall are gone."""
    found = re.match(r"^( {8}[456]\s+)(.*)$", row)
    if not found:
        return row
    cells = found[2].split()
    return found[1] + "  ".join([*cells[:-2], "-", "-"] if len(cells) == 5 else cells)


def other_fill(text: str) -> str:
    """Mixed fill in use, nothing to compare, falls to the door, no exercise section."""
    start, end = text.index("exercise:"), text.index("datum:")
    text = text[:start] + text[end:]
    return (
        text.replace("use: granulate", "use: sand cement")
        .replace("compare: [granulate, sand cement]", "compare: [sand cement]")
        .replace("      - OSB board: 18\n", "")
        .replace("fall: level", "fall: 10 per metre, going down from wall 2 to wall 4")
        .replace("finished level: 20 below TBM", "finished level: 20 below TBM at wall 4")
    )


def two_rooms(text: str) -> str:
    """A second room, levelled from a set-up of its own that closes too: two runs, two zones."""
    store = """  - name: store
    walls:
      - wall 1: 3000, turn right
      - wall 2: 2000, turn right
      - wall 3: 3000, turn right
      - wall 4: 2000, turn right

openings:
"""
    more = """      close on: {point: TBM, reading: 1297}
    - name: S3
      room: store
      start on: {point: TBM, reading: 1400}
      readings: |
        row      K      L
        8     1500   1501
        9     1502   1503
      close on: {point: TBM, reading: 1400}
"""
    for was, now in (
        ("openings:\n", store),
        ("{name: way in, in: wall 4,", "{name: way in, room: bay, in: wall 4,"),
        ("covers: whole room", "covers: bay"),
        ("services: []", "  - {zone: store floor, covers: store, finished level: 20 below TBM}\nservices: []"),
        ("H: 3950}", "H: 3950, K: 50, L: 2950}"),
        ("6: 2950}", "6: 2950, 8: 50, 9: 1950}"),
        ("      close on: {point: TBM, reading: 1297}\n", more),
    ):
        text = text.replace(was, now, 1)
    return text


CHANGES: dict[str, Callable[[str], str]] = {
    "levels": as_levels,
    "one set-up": one_set_up,
    "never closed": never_closed,
    "three set-ups": three_set_ups,
    "column and L": with_column,
    "falls, mixed": other_fill,
    "two rooms": two_rooms,
}


@pytest.fixture(params=[(name, level) for name in CHANGES for level in (2, 3)], ids=lambda p: f"{p[0]}, {p[1]}")
def some(request: pytest.FixtureRequest) -> ClassSet:
    name, level = request.param
    text = CHANGES[name](BAY).replace("answers that differ for each usual mistake", "same number of set-ups")
    found = read_project(text.encode("utf-8"), f"{name}.yaml")
    assert found.project is not None, found.faults
    return choose_versions(found.project, 1, level)


def test_every_sheet_is_made(some: ClassSet) -> None:
    settings = settings_of(some.base)
    for v in some.versions:
        assert len(v.blanks) >= 8
        for blank in v.blanks:
            assert blank.work(v.known).value == v.right[blank.id]
        sheets = sheets_of(v, settings, some.level)
        assert len(sheets) % 2 == 0
        assert all(body_of(s) for s in sheets)
        printed = " ".join(str(body_of(s)) for s in sheets)
        for blank in v.blanks:
            assert re.search(rf">{blank.number}<", printed), f"question {blank.number} stands on a sheet"
    assert all(body_of(s) for s in teacher_sheets(some, settings))
