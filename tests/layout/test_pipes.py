"""Services in plan, feet on them and where the first lines would free them."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.plane import Segment, box, segment_distance
from packgen.layout.clashes import feet_on, to_stretch
from packgen.layout.model import PipeRun
from packgen.layout.pipes import pipe_run, rings, serpentine, side_by_side
from packgen.project.room_model import Service, ServiceArea
from packgen.project.work_model import FirstLines


def pipe(*stretches, outside=16.0):
    return PipeRun("pipe", "pipe", outside, 0.0, stretches, 0.0, False)


def coil(start, end, **more):
    given_ = {"name": "circuit", "kind": "heating pipe", "outside": 16.0, "support": 5.0, "spacing": 150.0}
    return Service(**{**given_, "runs_along": 1, "area": ServiceArea(start=start, end=end), **more})


def straight(start, end, **more):
    return Service(**{"name": "cable", "kind": "conduit", "outside": 20.0, "start": start, "end": end, **more})


def test_a_serpentine_turns_at_the_far_end_first_and_goes_on_without_a_gap():
    found = serpentine((150.0, 150.0), (3050.0, 4200.0), 150.0, True)
    assert len(found) == 28 + 27
    assert all(s.b == t.a for s, t in itertools.pairwise(found))
    assert found[1] == Segment((3050, 150), (3050, 300))
    assert math.isclose(sum(s.length_mm for s in found), 28 * 2900 + 27 * 150)


def test_printed_length_is_area_by_spacing_and_leads(box_room):
    """Reckoned by hand: 2900 x 4050 / 150 + 6000, and 2820 x 4050 / 150 + 9000."""
    room = box_room(6200, 4400)
    assert pipe_run(coil((150.0, 150.0), (3050.0, 4200.0), leads=6000.0), room).length_mm == 84_300
    assert pipe_run(coil((3200.0, 200.0), (6020.0, 4250.0), leads=9000.0), room).length_mm == 85_140


@pytest.mark.parametrize(("wall", "first"), [(1, (900.0, 100.0)), (2, (100.0, 700.0)), (3, (900.0, 100.0))])
def test_runs_lie_along_the_wall_that_is_named(box_room, wall, first):
    found = pipe_run(coil((100.0, 100.0), (900.0, 700.0), runs_along=wall), box_room(2000, 2000))
    assert found.stretches[0] == Segment((100, 100), first)


def test_a_coil_from_the_far_corner_runs_back():
    found = serpentine((900.0, 450.0), (0.0, 0.0), 150.0, True)
    assert (found[0].a, found[-1].a[1]) == ((900, 450), 0)


def test_a_spiral_is_rings_at_the_spacing():
    found = rings((0.0, 0.0), (900.0, 600.0), 150.0, True)
    assert [s.length_mm for s in found[::4]] == [900, 600, 300]
    assert {segment_distance((450.0, 300.0), s) for s in found[-1:]} == {0.0}


def test_pipes_side_by_side_lie_farther_into_the_room():
    assert [s.a for s in side_by_side(Segment((0, 3200), (1900, 3200)), 2, 60)] == [(0, 3200), (0, 3260)]
    assert [s.a for s in side_by_side(Segment((500, 900), (500, 0)), 3, 50)] == [(500, 900), (550, 900), (600, 900)]


def test_foot_on_a_pipe_and_foot_beside_it(box_room, lay):
    """Feet of 60 and a pipe of 20 touch at 40; nearer than 50 is told (10 clear, common practice)."""
    layout = lay(box_room(2500, 2500), services=[straight((0.0, 680.0), (2500.0, 680.0))])
    assert {(c.node, c.distance_mm, c.reach_mm, c.gap_mm, c.move_mm) for c in layout.foot_clashes} == {
        (node, 30, 40, -10, 20) for node in ("A2", "B2", "C2", "D2", "E2")
    }
    assert lay(box_room(2500, 2500), services=[straight((0.0, 700.0), (2500.0, 700.0))]).foot_clashes == ()
    near = lay(box_room(2500, 2500), services=[straight((0.0, 695.0), (2500.0, 695.0))]).foot_clashes
    assert {c.gap_mm for c in near} == {5}


def test_a_spot_counts_as_a_service_without_length(box_room, lay):
    floor_box = Service(name="floor box", kind="box", outside=100.0, at=(1250.0, 1310.0))
    (clash,) = lay(box_room(2500, 2500), services=[floor_box]).foot_clashes
    assert (clash.node, clash.distance_mm, clash.gap_mm) == ("C3", 60, -20)


def test_an_end_leg_keeps_off_a_pipe_where_it_can(box_room, lay):
    """A pipe passes 50 before the column, where the leg of line 3 would stand."""
    column, riser = box(1450, 1150, 1650, 1350), straight((1400.0, 0.0), (1400.0, 2500.0))
    layout = lay(box_room(2500, 2500, [column]), services=[riser])
    assert "3o1" not in {c.node for c in layout.foot_clashes}


def test_rails_over_a_pipe_are_found_where_they_cross(box_room, lay):
    layout = lay(box_room(2500, 2500), services=[straight((0.0, 400.0), (2500.0, 900.0))])
    at = {c.rail: c.at for c in layout.service_crossings}
    assert at["B"] == pytest.approx((650, 400 + 500 * 650 / 2500))
    assert at["2"] == pytest.approx((1250, 650))
    assert set(at) == {"A", "B", "C", "D", "E", "2"}


@given(st.lists(st.floats(-200, 200), min_size=6, max_size=6))
def test_distances_in_a_table_are_those_of_one_piece(values):
    ax, ay, bx, by, x, y = values
    table = to_stretch(np.array([[x]]), np.array([[y]]), ax, ay, bx, by)
    assert table[0, 0] == pytest.approx(segment_distance((x, y), Segment((ax, ay), (bx, by))), abs=1e-6)


CROSS = [straight((0.0, 62.0), (1400.0, 62.0), outside=16.0), straight((655.0, 0.0), (655.0, 1450.0), outside=16.0)]
COIL = [coil((100.0, 137.0), (1300.0, 1237.0), spacing=200.0)]
WIDE_COIL = [coil((60.0, 62.0), (1340.0, 1262.0), spacing=300.0, runs_along=2)]


@pytest.mark.parametrize("services", [CROSS, COIL, WIDE_COIL, CROSS + COIL])
def test_no_pair_laid_out_in_full_has_fewer_feet_on_pipes_than_the_one_offered(box_room, kit, lay, services):
    """Pinned where feet stand on pipes; pairs over a whole module are laid out in full beside the one offered."""
    room = box_room(1400, 1450)

    def pinned(x, y):
        firsts = FirstLines(along_wall_1=float(x), from_wall_1=float(y))
        laid = lay(room, kit=kit(first_lines=firsts), services=services)
        return laid, feet_on([n.at for n in laid.nodes], laid.services, 60.0)

    layout, standing = pinned(90, 90)
    assert standing > 0
    fewest = min(pinned(x, y)[1] for x, y in itertools.product(range(45, 600, 70), repeat=2))
    better = layout.better_first_lines
    if better is None:
        assert fewest >= standing
    else:
        assert better[2] == pinned(*better[:2])[1] < standing
        assert better[2] <= fewest
