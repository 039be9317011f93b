"""Floors that fall to a drain: closed forms, planes that meet in valleys, and water that gets away."""

from __future__ import annotations

import math
import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import contains, edge_distance
from packgen.core.surface import depths, level_at, plane_surface
from packgen.layout.model import Layout
from packgen.project.read import read_project

PROJECTS = Path(__file__).parents[2] / "projects"
TO_DRAIN = [
    ("finished level: 20 below TBM\n    fall: level", "finished level: 20 below TBM at the drain\n    fall: FALL"),
    ("joints: []", "joints: []\n\ndrains:\n  - {kind: point drain, name: shower drain, at: AT, diameter: 150}"),
]


def wet(settle, at=(2150, 1400), fall="10 per metre, going down to the shower drain"):
    """The exercise bay, 4000 x 3000, with a drain: level at it 20 below TBM, finish 21."""
    changes = [(a, b.replace("AT", f"[{at[0]}, {at[1]}]").replace("FALL", fall)) for a, b in TO_DRAIN]
    return settle("07-school-exercise-bay", *changes)


def test_the_top_rises_so_much_along_and_so_much_across(settle):
    """10 per metre: 1850 along and 1600 across from the drain the rail top is 18.5 + 16 above the rail top there."""
    top = wet(settle).heights.rail_top
    low = level_at(top, (2150, 1400))
    assert low == pytest.approx(-20 - 21)
    for x, y in ((4000, 3000), (2151, 2900), (60, 1400), (300, 20)):
        assert level_at(top, (x, y)) == pytest.approx(low + (abs(x - 2150) + abs(y - 1400)) / 100)


def test_volume_over_a_level_base_is_two_wedges_each_way(settle):
    """Mean rise of |x - a| over 0..L is (a² + (L - a)²) / 2L: along wall 1 and across added, over a level base."""
    found = wet(settle)
    ((x0, y0), (x1, y1)) = (10, 10), (3990, 2990)

    def mean(a, low, high):
        return ((a - low) ** 2 + (high - a) ** 2) / 2 / (high - low) / 100

    expected = 100 - 41 + mean(2150, x0, x1) + mean(1400, y0, y1)
    (whole,) = depths(found.heights.rail_top, plane_surface(-100), found.layout.floor)
    # the drain itself, a circle of 150, lies in the floor and is filled round: it holds next to no rise
    assert whole.mean_mm == pytest.approx(expected, abs=0.15)


def test_rails_end_in_the_valleys_and_have_a_leg_on_each_side(settle):
    """No rail runs through a valley, where it would have to bend; a rail end stands within 100 of its last leg."""
    layout: Layout = wet(settle).layout
    at = {n.id: n.at for n in layout.nodes}
    ends = 0
    for rail in layout.rails:
        k = 0 if rail.start[1] == rail.end[1] else 1
        low, high = sorted((rail.start[k], rail.end[k]))
        valley = (2150, 1400)[k]
        assert not low + 1 < valley < high - 1, rail.id
        for end in (low, high):
            if abs(end - valley) <= 1:
                ends += 1
                assert min(abs(at[n][k] - end) for n in rail.nodes) <= 100
    assert ends > 8


def test_every_bay_lies_in_one_plane(settle):
    """A straight board can strike it off: no bay reaches across a valley."""
    for bay in wet(settle).layout.bays:
        for k, valley in ((0, 2150), (1, 1400)):
            side = [c[k] - valley for c in bay.shape.shell]
            assert min(side) >= -0.01 or max(side) <= 0.01, bay.name


def test_a_long_channel_takes_the_water_from_two_sides_and_leaves_walls_level(settle):
    """The shower room: level along wall 4, where the door is; 15 per metre down to the channel at 1850: 27.75."""
    found = settle("10-shower-room-to-a-channel")
    top = found.heights.rail_top
    assert {round(level_at(top, (20, y)), 6) for y in (20, 1000, 2080)} == {-13 - 0.3}
    assert level_at(top, (1850, 500)) == pytest.approx(-13 - 27.75)
    assert level_at(top, (2650, 500)) == pytest.approx(-13 - 27.75 + 12)


def test_a_channel_that_ends_before_the_wall_is_fallen_to_from_its_ends_too(settle):
    """1500 long in a room of 2100: beyond its ends the floor rises again, or water would stand there."""
    found = settle("10-shower-room-to-a-channel", ("size: [90, 2080]", "size: [90, 1500]"))
    top = found.heights.rail_top
    assert level_at(top, (1850, 0)) - level_at(top, (1850, 300)) == pytest.approx(300 * 0.015)
    assert level_at(top, (1850, 400)) == pytest.approx(level_at(top, (1850, 1700)))


@pytest.mark.parametrize("name", ["short channel", "05-terrace-with-falls", "10-shower-room-to-a-channel", "wet"])
def test_a_drop_released_anywhere_gets_to_an_edge_or_a_drain(settle, name):
    """Steepest descent in steps of 5: it ends at a channel, a drain or the edge of the floor, never in a hollow."""
    if name == "short channel":
        found = settle("10-shower-room-to-a-channel", ("size: [90, 2080]", "size: [90, 1500]"))
    else:
        found = wet(settle) if name == "wet" else settle(name)
    top, rooms = found.heights.rail_top, found.survey.rooms
    sinks = [c.shape for room in rooms for c in room.cut_outs if c.kind != "obstacle"]
    pick = random.Random(7)
    for room in rooms:
        xs, ys = [x for x, _ in room.corners], [y for _, y in room.corners]
        for _ in range(40):
            at = (pick.uniform(min(xs), max(xs)), pick.uniform(min(ys), max(ys)))
            if any(contains(part, at) for part in room.floor):
                assert arrives(top, at, room.floor, sinks)


def arrives(top, at, floor, sinks):
    """Follows the water down; a drop that finds no lower place within a step has to be where it may leave."""
    for _ in range(4000):
        if any(contains(s, at, 15.0) for s in sinks) or min(edge_distance(p, at) for p in floor) < 15:
            return True
        ring = [(at[0] + 5 * math.cos(a), at[1] + 5 * math.sin(a)) for a in [k * math.pi / 8 for k in range(16)]]
        lowest = min(ring, key=lambda p: level_at(top, p))
        if level_at(top, lowest) >= level_at(top, at) - 1e-9:
            return False
        at = lowest
    return False


@settings(max_examples=10)
@given(st.integers(400, 3600), st.integers(400, 2600))
def test_no_place_lies_below_the_drain(settle_wet, x, y):
    found = settle_wet(x, y)
    low = level_at(found.heights.rail_top, (x, y))
    for node in found.heights.legs:
        assert node.rail_top_mm >= low - 0.51


@pytest.fixture(scope="module")
def settle_wet(settle):
    return lambda x, y: wet(settle, (x, y))


@pytest.mark.parametrize(
    ("fall", "code"),
    [
        ("10 per metre, going down to the shower drian", "drain-unknown"),
        ("10 per metre, going down to the drain", None),
        ("10 per metre to the shower drain", None),
        ("1 % towards the point drain", None),
    ],
)
def test_the_drain_is_known_by_name_or_kind(fall, code):
    text = (PROJECTS / "07-school-exercise-bay.yaml").read_text(encoding="utf-8")
    for old, new in TO_DRAIN:
        text = text.replace(old, new.replace("AT", "[2150, 1400]").replace("FALL", fall))
    read = read_project(text.encode(), "test.yaml")
    assert [f.code for f in read.faults] == ([] if code is None else [code])


def test_a_level_at_the_drain_needs_a_fall_to_it():
    text = (PROJECTS / "07-school-exercise-bay.yaml").read_text(encoding="utf-8")
    text = text.replace("finished level: 20 below TBM", "finished level: 20 below TBM at the drain")
    assert [f.code for f in read_project(text.encode(), "test.yaml").faults] == ["level-where"]
