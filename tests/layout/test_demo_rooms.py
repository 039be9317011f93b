"""The demo projects as a floor layer would look them over."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from packgen.core.plane import segment_distance
from packgen.layout.arrange import arrange
from packgen.layout.model import Layout
from packgen.project.read import read_project
from packgen.survey.reduce import survey_project

PROJECTS = Path(__file__).parents[2] / "projects"


@cache
def laid(number: str, plainest: bool = True) -> Layout:
    """A demo room from the plainest first lines, or from those that are searched for."""
    (file,) = PROJECTS.glob(f"{number}-*.yaml")
    text = file.read_text(encoding="utf-8")
    if plainest:
        text = text.replace("first line from wall: 50", "first lines: {along wall 1: 50, from wall 1: 50}")
    project = read_project(text.encode(), file.name).project
    assert project is not None
    return arrange(project, survey_project(project))


def places(number: str, kind: str, own: bool = True) -> list[float]:
    return [line.at_mm for line in laid(number).lines if line.kind == kind and line.own == own]


# the plainest grid: 50 from walls 1 and 4, every 600, the last about 50 from the far wall, on readings where it can
@pytest.mark.parametrize(
    ("number", "last_x", "last_y"),
    [
        ("01", 5350.0, 3848.65),
        ("02", 6050.0, 4250.0),
        ("05", 5950.0, 3450.0),
        ("07", 3950.0, 2950.0),
        ("08", 5250.0, 3900.0),
    ],
)
def test_lines_stand_where_the_plainest_grid_has_them(number, last_x, last_y):
    for kind, last in (("lettered", last_x), ("numbered", last_y)):
        found = places(number, kind)
        assert found[:-1] == [50.0 + 600 * k for k in range(len(found) - 1)]
        assert found[-1] == pytest.approx(last, abs=1.0)


def test_every_leg_at_a_levelled_spot_bears_its_name():
    """J19: survey columns and rows were chosen on the lines, so C4 is one spot."""
    names = {(n.x_mm, n.y_mm): n.id for n in laid("07").nodes}
    for column, x in zip("ABCDEFGH", (50, 650, 1250, 1850, 2450, 3050, 3650, 3950), strict=True):
        for row, y in enumerate((50, 650, 1250, 1850, 2450, 2950), 1):
            assert names[x, y] == f"{column}{row}"


def test_extension_has_a_line_within_100_on_each_side_of_its_joint():
    """Job rules 6.2.1: joint at 3125, line at 3050 is 75 away, an extra one near 3200."""
    near = sorted(x for own in (True, False) for x in places("02", "lettered", own) if abs(x - 3125) <= 104)
    assert len(near) == 2
    assert near[0] == 3050
    assert laid("02").joint_crossings == ()


def test_feet_of_the_extension_on_circuit_2_and_the_first_lines_that_free_them():
    """The scenario counts 35 on circuit 2 and none on circuit 1 with square bends."""
    layout = laid("02")
    on = [c.service for c in layout.foot_clashes if c.gap_mm < 0]
    assert (on.count("circuit 2"), on.count("circuit 1")) == (35, 0)
    assert layout.better_first_lines is not None
    assert layout.better_first_lines[2] == 0
    (choice,) = laid("02", plainest=False).first_lines
    assert choice.decided == "no feet on pipes"
    assert len(choice.plain_on) == 35
    assert all(40 <= first <= 100 for first in choice.chosen)
    assert not [c for c in laid("02", plainest=False).foot_clashes if c.gap_mm < 0]


@pytest.mark.parametrize("number", ["01", "05", "07", "08"])
def test_rooms_that_were_read_on_the_plainest_grid_keep_it(number):
    (choice,) = laid(number, plainest=False).first_lines
    assert choice.chosen == choice.plain == (50, 50)


def test_the_extra_line_at_the_joint_keeps_its_feet_off_the_bends():
    layout = laid("02")
    extra = [n for n in layout.nodes if n.lines[0] == "Fa"]
    (circuit,) = [p for p in layout.services if p.name == "circuit 2"]
    assert extra
    assert min(segment_distance(n.at, s) for n in extra for s in circuit.stretches) >= 38


def test_terrace_keeps_its_channel_clear_and_has_a_line_behind_it():
    layout = laid("05")
    for rail in layout.rails:
        ends = sorted((rail.start, rail.end))
        if rail.start[1] == rail.end[1] < 150:
            assert ends[1][0] <= 1690 or ends[0][0] >= 4310
    assert 180 in places("05", "numbered", own=False)


def test_attic_has_a_line_along_its_chimney_breast_and_old_room_along_its_hearth():
    assert places("01", "numbered", own=False) == [3398.0]
    assert places("08", "numbered", own=False) == [3550.0]


@pytest.mark.parametrize(
    ("number", "litres_area"), [("01", 20.47), ("02", 27.28), ("05", 20.67), ("07", 12.0), ("08", 21.46)]
)
def test_floor_is_the_room_less_its_strip(number, litres_area):
    """Net areas of the scenarios less 10 along every wall and cut-out (about 10 mm x perimeter)."""
    layout = laid(number)
    total = sum(b.area_m2 for b in layout.bays)
    assert litres_area * 0.985 < total < litres_area


def test_cut_list_of_every_demo_is_proven():
    for number in ("01", "02", "05", "07", "08"):
        found = laid(number).cut_list
        assert found.proven
        assert found.stock_mm == 600
        assert laid(number).short_pieces == ()
