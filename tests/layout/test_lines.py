"""Which lines a room gets, what they are called, and where a tape finds them."""

from __future__ import annotations

import math

import pytest

from packgen.core.plane import box
from packgen.layout.lines import letters
from packgen.project.room_model import Joint
from packgen.project.work_model import Levels


def places(layout, kind):
    return [line.at_mm for line in layout.lines if line.kind == kind]


def names(layout, kind):
    return [line.name for line in layout.lines if line.kind == kind]


def test_letters_skip_i_and_o_and_go_on_after_z():
    all_names = [letters(i) for i in range(700)]
    assert all_names[:9] == list("ABCDEFGHJ")
    assert not any("I" in n or "O" in n for n in all_names)
    assert len(set(all_names)) == 700
    assert all_names[24:26] == ["AA", "AB"]


@pytest.mark.parametrize(
    ("width", "last"),
    [(5402, 5352), (5000, 4850), (5010, 4850), (5011, 4961), (4900, 4850), (100, 50)],
    ids=["attic", "overhang 140", "overhang 150", "overhang 151", "first and last alike", "one line"],
)
def test_closing_line_where_a_rail_would_stand_over_by_more_than_150(box_room, lay, width, last):
    """Job rules 6.2.3: 50 from the wall, then every module, and a closing line 50 from the far wall."""
    found = places(lay(box_room(width, 2000)), "lettered")
    assert found[-1] == last
    assert found[: len(found) - 1] == [50 + 600 * k for k in range(len(found) - 1)]


def test_lines_start_at_corner_1_where_the_room_goes_on_beyond_it(outline, lay):
    """A wall that leans out by 160 or less beyond corner 1 needs no line there; farther out lines go on by modules."""
    leaning = lay(outline([(0, 0), (3000, 0), (3000, 3000), (-150, 3000)]))
    assert places(leaning, "lettered")[0] == 50
    stepped = lay(outline([(0, 0), (2500, 0), (2500, 3000), (-1300, 3000), (-1300, 1000), (0, 1000)]))
    assert places(stepped, "lettered")[:4] == [-1150, -550, 50, 650]
    assert names(stepped, "lettered")[:4] == ["A", "B", "C", "D"]


def test_a_line_moves_off_a_joint_that_runs_along_it(box_room, lay):
    joint = Joint(kind="structural", start=(1250.0, 0.0), end=(1250.0, 3000.0), width=20.0)
    layout = lay(box_room(3700, 3000), joints=[joint])
    near = [x for x in places(layout, "lettered") if abs(x - 1250) < 150]
    assert near[0] == 1250 - 10 - 30
    assert all(abs(x - 1250) >= 10 + 30 for x in near)
    assert len(near) == 2


def test_short_line_beside_a_wall_inside_the_room_is_named_after_the_one_before(outline, lay):
    """Chimney breast 1600 wide: rails C, D and E end at it, a short line carries its edge from B to F."""
    breast = [(2600, 3300), (2600, 2750), (1000, 2750), (1000, 3300)]
    layout = lay(outline([(0, 0), (4000, 0), (4000, 3300), *breast, (0, 3300)]))
    short = [line for line in layout.lines if not line.own]
    assert [(line.name, line.at_mm) for line in short] == [("5a", 2700)]
    assert [n.id for n in layout.nodes if n.id.endswith("5a")] == ["B5a", "C5a", "D5a", "E5a", "F5a"]


def test_a_line_is_put_just_behind_a_channel_along_the_wall(box_room, lay):
    """Job rules 6.2.4: a channel takes 0-130 from wall 1 between 1700 and 4300; the line behind it stands 50 off."""
    layout = lay(box_room(6000, 3500, [box(1700, 0, 4300, 130)], kind="channel"))
    assert 180 in places(layout, "numbered")
    ends = sorted((r.start[0], r.end[0]) for r in layout.rails if r.line == "1")
    assert [round(x) for pair in ends for x in pair] == [50, 1690, 4310, 5990]


@pytest.mark.parametrize(
    ("read", "last"), [(5350.0, 5350), (5352.0, 5352), (5310.0, 5310), (5290.0, 5352), (5360.0, 5352)]
)
def test_a_closing_line_lies_on_readings_where_it_can(box_room, lay, read, last):
    """Not nearer to the wall than a first line and not farther than 100: legs there stand on what was levelled."""
    levels = Levels(columns_at=(("A", 50.0), ("K", read)), rows_at=(("1", 50.0),), setups=())
    assert places(lay(box_room(5402, 2000), levels=levels), "lettered")[-1] == last


def test_lines_of_a_second_room_go_on_in_the_alphabet(outline, lay):
    second = outline([(5000, 0), (6500, 0), (6500, 1500), (5000, 1500)], name="second")
    layout = lay(outline([(0, 0), (1300, 0), (1300, 1300), (0, 1300)], name="first"), second)
    assert [(line.room, line.name) for line in layout.lines if line.kind == "lettered"] == [
        ("first", "A"),
        ("first", "B"),
        ("first", "C"),
        ("second", "D"),
        ("second", "E"),
        ("second", "F"),
        ("second", "G"),
    ]
    assert {n.room for n in layout.nodes if n.id.startswith("D")} == {"second"}
    assert sum(n.tributary_mm2 for n in layout.nodes if n.room == "second") == pytest.approx(1480 * 1480)


def test_two_numbers_a_line_in_a_skew_room(outline, lay):
    """Wall 3 runs back from (5000, 3400) to (-200, 3000), so a line is found farther along it than along wall 1.

    A line beyond the end of wall 1 meets wall 2 instead, and says so.
    """
    layout = lay(outline([(0, 0), (4800, 0), (5000, 3400), (-200, 3000)]))
    slope = math.hypot(5200, 400) / 5200
    for line in layout.lines:
        if line.kind == "lettered" and line.at_mm > 4800:
            assert (line.first_wall, line.first_mm) == ("wall 2", pytest.approx(50 * math.hypot(200, 3400) / 200))
        elif line.kind == "lettered":
            assert (line.first_wall, line.first_mm) == ("wall 1", pytest.approx(line.at_mm))
            assert (line.second_wall, line.second_mm) == ("wall 3", pytest.approx((line.at_mm + 200) * slope))
        elif line.at_mm < 3000:
            assert (line.first_wall, line.second_wall) == ("wall 4", "wall 2")
            assert line.first_mm == pytest.approx(line.at_mm * math.hypot(200, 3000) / 3000)


def test_check_diagonals_are_equal_and_keep_clear_of_columns(box_room, lay):
    plain = lay(box_room(4000, 3000))
    assert [(a, b) for a, b, _ in plain.diagonals] == [("A1", "H6"), ("H1", "A6")]
    assert all(d == pytest.approx(math.hypot(3900, 2900)) for *_, d in plain.diagonals)
    column = box(1900, 1400, 2100, 1600)
    first, second = lay(box_room(4000, 3000, [column])).diagonals
    assert first[2] == pytest.approx(second[2])
    assert first[2] < math.hypot(3900, 2900)
