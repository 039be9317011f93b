"""Legs: where rails end, where feet cannot stand, and how each is named."""

from __future__ import annotations

import math

import pytest

from packgen.core.plane import box, circle, nearest_areas
from packgen.project.room_model import Joint


def at(layout, node):
    return next(n for n in layout.nodes if n.id == node)


def test_single_rail_at_a_column_gets_a_leg_on_each_side_50_from_it(box_room, lay):
    """A column of 200 on line 3: its faces are shorter than a module, so each rail end gets a leg, no line."""
    layout = lay(box_room(3700, 3700, [box(1450, 1150, 1650, 1350)]))
    beside = {n.id: n.at for n in layout.nodes if n.why == "wall"}
    assert beside == {"3o1": (1400, 1250), "3o1b": (1700, 1250)}
    assert [line.name for line in layout.lines if not line.own] == []


def test_a_rail_end_up_to_150_beyond_its_leg_needs_none(box_room, lay):
    """Left of the column the strip is 150 from the crossing, right of it 160."""
    layout = lay(box_room(3700, 3700, [box(1410, 1150, 1680, 1350)]))
    assert {n.id for n in layout.nodes if n.why == "wall"} == {"3o1"}
    assert at(layout, "3o1").x_mm == 1730


def test_legs_stand_beside_a_joint_that_meets_rails_aslant(box_room, lay):
    joint = Joint(kind="movement", start=(700.0, 0.0), end=(2900.0, 3700.0), width=8.0)
    layout = lay(box_room(3700, 3700), joints=[joint])
    marked = [n for n in layout.nodes if n.why == "joint"]
    assert {n.id[-3:-1] for n in marked} == {"j1"}
    slope = 2200 / 3700
    for node in marked:
        side = (node.x_mm - 700 - slope * node.y_mm) / math.hypot(1, slope)
        assert abs(side) > 4 + 30 - 0.1
        assert (side > 0) == ((node.id[-1] == "b") == node.id[0].isdigit())
    assert layout.joint_crossings == ()


def test_where_two_rails_meet_beside_a_corner_one_of_them_ends(box_room, lay):
    """The corner of a column lies 28 from the crossing B2, so no foot stands there: rail B goes on, rail 2 ends."""
    layout = lay(box_room(2500, 2500, [box(680, 680, 900, 900)]))
    assert "B2" not in {n.id for n in layout.nodes}
    assert [r.id for r in layout.rails if r.line == "B"] == ["B"]
    assert [r.id for r in layout.rails if r.line == "2"] == ["2-1", "2-2"]


def test_a_rail_along_a_face_too_near_for_feet_is_left_out_there(outline, lay):
    """A pier's face 20 from line E leaves room for the rail but not for a foot; rail 7 runs on to the pier."""
    pier = [(2600, 4000), (2600, 3000), (2480, 3000), (2480, 4000)]
    layout = lay(outline([(0, 0), (5000, 0), (5000, 4000), *pier, (0, 4000)]))
    (upper,) = [r for r in layout.rails if r.line == "E"]
    assert upper.end[1] < 3150
    left = next(r for r in layout.rails if r.line == "7" and r.start[0] < 1000)
    assert left.nodes[-1] == "7w6"
    assert at(layout, "7w6").x_mm == 2430


def test_shares_are_half_way_to_the_next_leg_and_at_edges_to_the_strip(box_room, lay):
    layout = lay(box_room(4000, 3000))
    assert at(layout, "C3").tributary_mm2 == pytest.approx(600 * 600)
    assert at(layout, "A1").tributary_mm2 == pytest.approx(340 * 340)
    assert at(layout, "A3").tributary_mm2 == pytest.approx(340 * 600)
    assert at(layout, "G3").tributary_mm2 == pytest.approx(450 * 600)


def test_share_of_one_spot_is_everything_and_of_two_is_halved():
    floor = [box(0, 0, 100, 60)]
    assert nearest_areas(floor, [(10, 10)]) == (6000,)
    assert nearest_areas(floor, [(20, 30), (60, 30)]) == pytest.approx((40 * 60, 60 * 60))


def test_tiny_and_empty_floors_give_no_rails_and_no_error(box_room, lay):
    closet = lay(box_room(60, 2000))
    assert closet.rails == ()
    assert sum(b.area_m2 for b in closet.bays) == pytest.approx(0.04 * 1.98)
    gone = lay(box_room(15, 2000))
    assert (gone.nodes, gone.bays, gone.floor) == ((), (), ())


def test_a_pipe_through_the_floor_leaves_every_rail_carried(box_room, lay):
    """A soil pipe of 110 on the crossing B2 itself."""
    layout = lay(box_room(2500, 2500, [circle((650, 650), 55)]))
    assert {n.id for n in layout.nodes if n.why == "wall"} == {"Bo1", "Bo1b", "2o1", "2o1b"}
    assert min(math.dist(n.at, (650, 650)) for n in layout.nodes) >= 55 + 10 + 30
