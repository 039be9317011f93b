"""Two rooms on one plan: each zone stays in its room, falls by its room's walls, and is set room by room."""

from __future__ import annotations

import pytest

TAPES = "      - corner 2 to corner 4: 5000\n"
STORE = TAPES + (
    "  - name: store\n    start: beside the bay\n    walls:\n      - wall 1: 2000, turn right\n"
    "      - wall 2: 1500, turn right\n      - wall 3: 2000, turn right\n      - wall 4: 1500, turn right\n"
    "    check tapes:\n      - corner 1 to corner 3: 2500\n"
)
ZONES = (
    "  - zone: store\n    covers: store\n    finished level: 10 below TBM at wall 2\n"
    "    fall: 10 per metre, going down from wall 2 to wall 4\n    layers from the top:\n      - tile: 10\n"
    "  - zone: bay\n    room: bay\n"
)


@pytest.fixture(scope="module")
def both(settle):
    return settle(
        "07-school-exercise-bay",
        (TAPES, STORE),
        ("  - zone: bay\n", ZONES),
        ("way in, in: wall 4", "way in, room: bay, in: wall 4"),
        ("  read as: staff", "  room: bay\n  read as: staff"),
    )


def test_every_leg_takes_its_rooms_zone(both):
    room = {n.id: n.room for n in both.layout.nodes}
    assert {room[leg.node] for leg in both.heights.legs} == {"bay", "store"}
    assert all(leg.zone == room[leg.node] for leg in both.heights.legs)


def test_the_fall_starts_at_the_rooms_own_wall(both):
    x0 = both.survey.rooms[1].origin[0]
    at = {n.id: n.at for n in both.layout.nodes}
    for leg in both.heights.legs:
        if leg.zone == "store":
            assert leg.rail_top_mm == pytest.approx(-20 - 0.010 * (x0 + 2000 - at[leg.node][0]), abs=0.5001)
        else:
            assert leg.rail_top_mm == -41


def test_masters_of_one_room_come_before_the_next_room(both):
    order = {leg.node: leg.order for leg in both.heights.legs}
    rooms = [n.room for n in sorted(both.layout.nodes, key=lambda n: order[n.id])]
    assert rooms == sorted(rooms, key=["bay", "store"].index)


def test_doors_bound_only_their_own_room(both):
    windows = {z.zone: z.window for z in both.heights.by_zone}
    assert "step at door" in {b.rule for b in windows["bay"].at_most}
    assert "step at door" not in {b.rule for b in windows["store"].at_most}
    assert both.heights.borders == ()
