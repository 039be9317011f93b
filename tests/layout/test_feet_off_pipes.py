"""Feet moved off services, feet on saddles, and coils laid out from a short description."""

from __future__ import annotations

import itertools
import math

import pytest

from packgen.core.plane import box, pieces_inside, segment_distance
from packgen.layout.pipes import pipe_run
from packgen.project.room_model import Service, ServiceArea
from packgen.project.work_model import FinishedLevel, Saddle, Zone


def cable(start, end, **more):
    return Service(**{"name": "cable", "kind": "conduit", "outside": 20.0, "start": start, "end": end, **more})


def coil(**more):
    given = {"name": "circuit", "kind": "heating pipe", "outside": 16.0, "support": 5.0, "spacing": 150.0}
    return Service(**{**given, "zone": "hall", **more})


def zone(name="hall", covers="whole room"):
    return Zone(zone=name, covers=covers, finished_level=FinishedLevel(level=0.0))


def nearest(node, pipe):
    return min(segment_distance(node.at, s) for s in pipe.stretches)


@pytest.mark.parametrize("most", [0.0, 15.0, 20.0, 60.0])
def test_feet_on_a_pipe_are_moved_as_far_as_the_kit_allows(box_room, kit, lay, most):
    """By hand: the pipe at 680, lines at 50, 650 ...: feet of 60 need 30 + 10 + 10 = 50 to its axis, so 20 more."""
    pipe = cable((0.0, 680.0), (2500.0, 680.0))
    layout = lay(box_room(2500, 2500), kit=kit(move_feet_off_pipes=most), services=[pipe])
    assert layout.feet_on_services == 5
    assert len(layout.moved_feet) == (5 if most >= 20 else 0)
    assert len(layout.foot_clashes) == 5 - len(layout.moved_feet)
    at = {n.id: n.at for n in layout.nodes}
    for m in layout.moved_feet:
        assert (m.by_mm, m.at) == (20, at[m.node])
        assert at[m.node] == (m.crossing[0], 630)


def test_moved_feet_stay_under_their_rail_and_off_each_other(box_room, kit, lay):
    rules = kit(move_feet_off_pipes=150.0)
    pipes = [cable((0.0, 655.0), (2500.0, 1320.0)), cable((640.0, 0.0), (660.0, 2500.0), name="second")]
    layout = lay(box_room(2500, 2500), kit=rules, services=pipes)
    assert layout.moved_feet
    moved = {m.node: m for m in layout.moved_feet}
    rails = {r.id: r for r in layout.rails}
    for node in layout.nodes:
        if node.id in moved:
            m = moved[node.id]
            assert sum(a == b for a, b in zip(m.crossing, m.at, strict=True)) == 1
            rail = rails[m.rail]
            assert all(lo <= v <= hi for lo, v, hi in zip(rail.start, m.at, rail.end, strict=True))
            assert all(nearest(node, p) >= 50 - 1e-6 for p in layout.services)
    for a, b in itertools.combinations(layout.nodes, 2):
        assert math.dist(a.at, b.at) >= 60 - 1e-6
    size = sum(n.tributary_mm2 for n in layout.nodes)
    assert size == pytest.approx(2480 * 2480, abs=1)


def test_without_the_key_no_foot_is_moved(box_room, lay):
    layout = lay(box_room(2500, 2500), services=[cable((0.0, 680.0), (2500.0, 680.0))])
    assert layout.moved_feet == ()


@pytest.mark.parametrize(
    ("widest", "said", "on_saddle"), [(20.0, "no", True), (19.0, "no", False), (None, "yes", True)]
)
def test_a_saddle_is_used_where_it_spans_the_pipe(box_room, kit, lay, widest, said, on_saddle):
    saddle = None if widest is None else Saddle(widest_pipe=widest, height=24.0)
    pipe = cable((0.0, 660.0), (2500.0, 660.0), saddle=said)
    layout = lay(box_room(2500, 2500), kit=kit(saddle=saddle), services=[pipe])
    assert {c.saddle for c in layout.foot_clashes} == {on_saddle}


def test_a_coil_over_a_zone_by_hand(box_room):
    """A room of 3000 by 2000, 150 from the walls: 2700 x 1700 at 150: 12 runs of 2700 and 11 bends, 25 at each side."""
    run = pipe_run(coil(leads=4000.0), box_room(3000, 2000), [zone()])
    assert run.covers_mm2 == pytest.approx(2700 * 1700)
    assert run.length_mm == pytest.approx(2700 * 1700 / 150 + 4000)
    assert [s.length_mm for s in run.stretches] == pytest.approx([2700, 150] * 11 + [2700])
    assert run.stretches[0].a == pytest.approx((150, 175))
    assert all(s.b == pytest.approx(t.a) for s, t in itertools.pairwise(run.stretches))


@pytest.mark.parametrize(("wall", "first"), [(1, (150, 175)), (2, (2850, 150)), (3, (150, 1825)), (4, (150, 150))])
def test_the_first_run_lies_at_the_wall_that_is_named(box_room, wall, first):
    run = pipe_run(coil(runs_along=wall), box_room(3000, 2000), [zone()])
    assert run.stretches[0].a == pytest.approx(first, abs=0.2)  # a run on the very edge lies 0.1 within


def test_the_pipe_begins_at_the_end_nearer_to_the_manifold(box_room):
    run = pipe_run(coil(runs_along=1), box_room(3000, 2000), [zone()], 10.0, [(3000.0, 0.0)])
    assert run.stretches[0].a == pytest.approx((2850, 175))


def test_a_coil_keeps_to_its_zone_and_off_columns(box_room):
    column = box(1200, 800, 1500, 1100)
    zones = [zone("kitchen", ServiceArea(start=(2000.0, 0.0), end=(4000.0, 3000.0))), zone()]
    room = box_room(4000, 3000, [column])
    run = pipe_run(coil(from_walls=100.0), room, zones)
    for s in run.stretches:
        assert max(s.a[0], s.b[0]) <= 1900.2
        assert not pieces_inside(box(1101, 701, 1599, 1199), s)
    covered = (2000 - 200) * (3000 - 200) - (300 + 200) * (300 + 200)
    assert run.covers_mm2 == pytest.approx(covered, rel=0.01)


def test_a_coil_in_an_ell_reaches_both_limbs(outline):
    ring = [(0, 0), (4000, 0), (4000, 1500), (1500, 1500), (1500, 4000), (0, 4000)]
    run = pipe_run(coil(), outline(ring), [zone()])
    drawn = sum(s.length_mm for s in run.stretches)
    assert max(max(s.a[0], s.b[0]) for s in run.stretches) == pytest.approx(3850, abs=1)
    assert max(max(s.a[1], s.b[1]) for s in run.stretches) == pytest.approx(3850, abs=150)
    assert drawn == pytest.approx(run.length_mm, rel=0.12)
