"""Points for the staff: no gap wider than the trade's spacing, corners, doors, columns and joints served."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.plane import contains, edge_distance
from packgen.project.read import read_begun
from packgen.survey.fieldwork_model import Fieldwork
from packgen.survey.prepare import prepare_survey

Prepared = Callable[[str], tuple[Fieldwork, ...]]


def test_every_point_lies_on_the_floor_a_staff_from_the_walls(any_room: str, prepared: Prepared) -> None:
    for work in prepared(any_room):
        columns, rows = dict(work.columns), dict(work.rows)
        assert work.points
        for p in work.points:
            assert (columns[p.column], rows[p.row]) == (p.x_mm, p.y_mm)
            assert p.name == f"{p.column}{p.row}"
            near = [q for q in work.outline.floor if contains(q, (p.x_mm, p.y_mm), 0.0)]
            assert near
            assert edge_distance(near[0], (p.x_mm, p.y_mm)) >= 30


def test_each_corner_has_a_point_of_its_own_beside_it(any_room: str, prepared: Prepared) -> None:
    for work in prepared(any_room):
        for n, corner in enumerate(work.outline.corners, 1):
            named = [p for p in work.points if f"corner {n}" in p.why.split(", ")]
            assert len(named) == 1
            assert math.dist(corner, (named[0].x_mm, named[0].y_mm)) < 260


def test_doors_columns_and_joints(prepared: Prepared) -> None:
    (work,) = prepared("corner")
    door = next(p for p in work.points if "hall door" in p.why)
    assert 1500 < door.x_mm < 2360
    assert door.y_mm <= 150
    wide = next(p for p in work.points if "garden door" in p.why)
    assert 1000 < wide.x_mm < 2600
    assert wide.y_mm >= 4550
    beside = {(p.x_mm < 2150, p.y_mm < 2050) for p in work.points if "beside column" in p.why}
    assert beside == {(True, True), (True, False), (False, True), (False, False)}
    joint = [p for p in work.points if "beside the joint" in p.why]
    over, under = {p.column for p in joint if p.y_mm < 3100}, {p.column for p in joint if p.y_mm > 3100}
    assert over == under
    assert len(over) >= 3


@given(
    st.integers(700, 9000),
    st.integers(700, 9000),
)
def test_no_gap_is_wider_than_the_spacing(prepared: Prepared, along: int, into: int) -> None:
    walls = [along, into, along, into]
    lines = "".join(f"      - wall {n}: {mm}, turn right\n" for n, mm in enumerate(walls, 1))
    (work,) = prepared(f"rooms:\n  - name: any\n    walls:\n{lines}")
    for named, whole in ((work.columns, along), (work.rows, into)):
        at = [mm for _, mm in named]
        assert at == sorted(at)
        assert all(b - a <= 1200 for a, b in pairwise(at))
        assert at[0] <= 50 or len(at) == 1
        assert whole - at[-1] < 60 or len(at) == 1
    assert len(work.points) == len(work.columns) * len(work.rows)


def test_points_keep_to_the_lines_of_the_legs_where_the_file_names_them(prepared: Prepared) -> None:
    kit = """\
kit:
  module: 500
  rail: {width: 35, height: 20}
  leg: {shortest: 46, longest: 94}
  foot: {diameter: 60}
  first lines: {along wall 1: 130, from wall 1: 90}
"""
    walls = "".join(f"      - wall {n}: {mm}, turn right\n" for n, mm in enumerate((5000, 4000) * 2, 1))
    (work,) = prepared(f"rooms:\n  - name: den\n    walls:\n{walls}{kit}")
    assert [mm for _, mm in work.columns][:4] == [130, 1130, 2130, 3130]
    assert [mm for _, mm in work.rows][:3] == [90, 1090, 2090]
    assert work.spacing_mm == 1000


def test_a_hall_is_read_twice_as_far_apart(prepared: Prepared) -> None:
    walls = "".join(f"      - wall {n}: {m} m, turn right\n" for n, m in enumerate((40, 20) * 2, 1))
    (work,) = prepared(f"rooms:\n  - name: hall\n    walls:\n{walls}")
    gaps = [b - a for (_, a), (_, b) in pairwise(work.columns)]
    assert max(gaps) == 2400
    assert len(work.points) < 250


def test_names_are_given_once_in_a_flat(prepared: Prepared) -> None:
    first, second = prepared("flat")
    assert not {p.name for p in first.points} & {p.name for p in second.points}
    assert not {name for name, _ in first.columns} & {name for name, _ in second.columns}
    assert not any(letter in "IO" for work in (first, second) for name, _ in work.columns for letter in name)


def test_a_room_that_lies_behind_wall_1_is_said_to_be_out_of_reach(prepared: Prepared) -> None:
    walls = (
        "wall 1: 2000, turn left",
        "wall 2: 1500, turn right",
        "wall 3: 2000, turn right",
        "wall 4: 4000, turn right",
        "wall 5: 4000, turn right",
        "wall 6: 2500, turn right",
    )
    lines = "".join(f"      - {w}\n" for w in walls)
    (work,) = prepared(f"rooms:\n  - name: bay\n    walls:\n{lines}")
    assert work.out_of_reach
    assert all(p.y_mm > 0 for p in work.points)


@pytest.mark.parametrize("name", ["01-attic-studio", "08-skew-old-house-room"])
def test_a_file_with_readings_keeps_its_own_points(name: str) -> None:
    file = Path(__file__).parent.parent.parent / "projects" / f"{name}.yaml"
    read = read_begun(file.read_bytes(), file.name).begun
    assert read is not None
    assert read.levels is not None
    (work,) = prepare_survey(read)
    assert {p.name for p in work.points} == {r.spot for s in read.levels.setups for r in s.readings}
    assert work.spacing_mm is None


def test_both_sides_of_a_step_in_the_base_are_read(prepared: Prepared) -> None:
    walls = "".join(f"      - wall {n}: {mm}, turn right\n" for n, mm in enumerate((4000, 3000) * 2, 1))
    base = "base:\n  kind: concrete on ground\n  steps:\n    - {from: [1210, 0], to: [1270, 3000]}\n"
    (work,) = prepared(f"rooms:\n  - name: den\n    walls:\n{walls}{base}")
    beside = [p for p in work.points if "beside the step" in p.why]

    def edge(y: float) -> float:
        return 1210 + 60 * y / 3000

    left, right = ([p for p in beside if (p.x_mm < edge(p.y_mm)) == low] for low in (True, False))
    assert {p.row for p in left} == {p.row for p in right}
    assert len(left) >= 4
    assert all(abs(p.x_mm - edge(p.y_mm)) <= 150 for p in beside)
