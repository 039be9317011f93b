"""Masters by laser, the rest by straightedge: every node once, never on a node not yet set, never too far apart."""

from __future__ import annotations

import math

import pytest

from packgen.heights.straightedge import lay_along, reach_for

L_ROOM = (
    "      - wall 1: 4000, turn right\n      - wall 2: 3000, turn right\n"
    "      - wall 3: 4000, turn right\n      - wall 4: 3000, turn right\n",
    "      - wall 1: 7000, turn right\n      - wall 2: 3000, turn right\n      - wall 3: 3000, turn left\n"
    "      - wall 4: 3000, turn right\n      - wall 5: 4000, turn right\n      - wall 6: 6000, turn right\n",
)
TAPES = ("    check tapes:\n      - corner 1 to corner 3: 5000      # 3-4-5\n      - corner 2 to corner 4: 5000\n", "")
COLUMN = (
    "openings:\n",
    "    obstacles:\n      - {name: column, shape: rectangle, from: [1800, 1400], to: [2200, 1800], stays: yes}\n\n"
    "openings:\n",
)
DOOR = ("in: wall 4, from: 1000", "in: wall 6, from: 1000")


def check(found, bridges):
    legs = {leg.node: leg for leg in found.heights.legs}
    at = {n.id: n.at for n in found.layout.nodes}
    assert sorted(leg.order for leg in legs.values()) == list(range(1, len(legs) + 1))
    masters = {n for n, leg in legs.items() if leg.master}
    assert {leg.set_with for leg in legs.values() if leg.master} == {"laser"}
    ready = set(masters)
    set_by_edge = []
    for a, b, between in found.heights.straightedge:
        assert {a, b} <= ready, (a, b)
        assert not set(between) & ready
        reach = [math.dist(at[p], at[q]) for p in (a, b) for q in (a, b, *between)]
        assert max(reach) <= bridges + 1
        ready |= set(between)
        set_by_edge += between
    assert ready == set(legs)
    assert len(set_by_edge) == len(set(set_by_edge)) == len(legs) - len(masters)
    order = [legs[n].order for n in set_by_edge]
    assert order == sorted(order)
    assert all(legs[m].order <= len(masters) for m in masters)


def test_every_node_of_the_demo_projects_is_set_once_on_nodes_already_set(demo):
    check(demo, 2400)
    assert demo.heights.straightedge_mm == 2500


def test_an_l_shaped_room_with_a_column(settle):
    check(settle("07-school-exercise-bay", L_ROOM, TAPES, COLUMN, DOOR), 2400)


def test_no_straightedge_bridges_two_rail_tops(settle):
    whole = "    covers: whole room\n    finished level: 20 below TBM"
    box = "    covers: {from: [0, 0], to: [2500, 3000]}\n    finished level: 20 below TBM"
    other = (
        "  - zone: low\n    covers: {from: [2500, 0], to: [4000, 3000]}\n    finished level: 30 below TBM\n"
        "    fall: level\n    layers from the top:\n      - linoleum: 3\n\nservices: []"
    )
    found = settle("07-school-exercise-bay", (whole, box), ("services: []", other))
    check(found, 2400)
    zone = {leg.node: leg.zone for leg in found.heights.legs}
    for a, b, between in found.heights.straightedge:
        assert len({zone[n] for n in (a, b, *between)}) == 1


def test_masters_stand_on_every_4th_line_and_the_last(settle):
    found = settle("07-school-exercise-bay").heights
    assert {leg.node for leg in found.legs if leg.master} == {
        f"{letter}{number}" for letter in "AEH" for number in (1, 5, 6)
    }


def test_setting_starts_on_the_line_nearest_the_door(settle):
    first = min(settle("01-attic-studio").heights.legs, key=lambda leg: leg.order)
    assert first.node == "A1"  # the door in wall 8 runs from 373 to 1199 from wall 1


@pytest.mark.parametrize(
    ("module", "every", "length"), [(500, 4, 2100), (600, 4, 2500), (625, 3, 1975), (900, 2, 1900)]
)
def test_straightedge_length(module, every, length):
    reach = reach_for(module)
    assert (reach.every, reach.length_mm) == (every, length)


def run(*far):
    return [(f, f"n{f}") for f in far]


def test_a_short_end_is_reached_over_the_last_master():
    added, laid = lay_along(run(0, 600, 1200, 1800, 2000), {"n0", "n1800"}, reach_for(600))
    assert added == ()
    assert [(x.a, x.b, x.sets) for x in laid] == [("n0", "n1800", ("n600", "n1200")), ("n1800", "n0", ("n2000",))]


def test_a_long_end_is_a_master():
    added, _ = lay_along(run(0, 600, 1200, 1800), {"n0", "n600"}, reach_for(600))
    assert added == ("n1800",)


def test_a_gap_too_wide_for_the_straightedge_takes_another_master():
    added, laid = lay_along(run(0, 600, 1200, 1800, 2400, 3000, 3600), {"n0", "n3600"}, reach_for(600))
    assert added == ("n2400",)
    assert [x.sets for x in laid] == [("n600", "n1200", "n1800"), ("n3000",)]


def test_a_run_of_one_is_a_master():
    assert lay_along(run(0), set(), reach_for(600)) == (("n0",), ())
