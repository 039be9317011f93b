"""What holds for every room: rooms of many shapes with columns and joints, laid out and looked over."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import (
    Segment,
    area,
    band,
    bounds,
    box,
    circle,
    contains,
    edge_distance,
    inset,
    is_simple,
    pieces_inside,
    without,
)
from packgen.project.room_model import Joint

COVER = 0.2  # mm2 a mm of rail: a rail may stand 0.05 mm over each edge, as far as the floor is known


@st.composite
def corners(draw):
    """Right-angled rooms with up to three limbs, and skew rooms with four or five walls."""
    w, d = draw(st.integers(900, 7000)), draw(st.integers(900, 6000))
    a, b = draw(st.integers(250, w - 250)), draw(st.integers(250, d - 250))
    off = st.integers(-350, 350)
    return draw(
        st.sampled_from(
            [
                [(0, 0), (w, 0), (w, d), (0, d)],
                [(0, 0), (w, 0), (w, b), (a, b), (a, d), (0, d)],
                [(0, 0), (w, 0), (w, b), (a, b), (a, d), (-a, d), (-a, b), (0, b)],
                [(0, 0), (w, 0), (w, d), ((a + w) / 2, d), ((a + w) / 2, b), (a, b), (a, d), (0, d)],
                [(0, 0), (w, 0), (w + draw(off), d + draw(off)), (draw(off), d + draw(off))],
                [(0, 0), (w, 0), (w + draw(off), d * 0.7), (w / 2, d + 300), (draw(off), d * 0.8)],
            ]
        )
    )


@st.composite
def jobs(draw):
    ring = draw(corners().filter(is_simple))
    x = st.floats(0, max(x for x, _ in ring))
    y = st.floats(0, max(y for _, y in ring))
    size = st.integers(40, 700)
    cut = []
    for _ in range(draw(st.integers(0, 2))):
        left, top = draw(x), draw(y)
        if draw(st.booleans()):
            cut.append(circle((left, top), draw(size) / 2))
        else:
            cut.append(box(left, top, left + draw(size), top + draw(size)))
    joints = []
    for _ in range(draw(st.integers(0, 1))):
        at, lean = draw(x), draw(st.sampled_from([0, 0, 150, -900]))
        width = draw(st.sampled_from([0.0, 8.0, 30.0]))
        joints.append(Joint(kind="movement", start=(at, 0.0), end=(at + lean, 7000.0), width=width))
    return ring, cut, joints, draw(st.sampled_from([None, None, 2400.0, 3000.0, (3000.0, 2000.0)]))


def along(layout, rail):
    """The rail's ends and its legs as places along it."""
    side = 0 if rail.start[1] == rail.end[1] else 1
    legs = {n.id: n.at for n in layout.nodes}
    return rail.start[side], rail.end[side], [legs[n][side] for n in rail.nodes]


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_any_room(outline, kit, lay, job):
    ring, cut, joints, stock = job
    room, parts = outline(ring, cut), kit(stock=stock)
    layout = lay(room, kit=parts, joints=joints)
    floor = [p for whole in room.floor for p in inset(whole, parts.edge_strip)]
    size = sum(area(p) for p in floor)

    # bays tile the floor, legs share it
    assert abs(sum(area(b.shape) for b in layout.bays) - size) < 1
    assert abs(sum(b.area_m2 for b in layout.bays) * 1e6 - size) < 1
    assert abs(sum(n.tributary_mm2 for n in layout.nodes) - size) < 1 or not layout.nodes

    # no two things of one name
    for named in (layout.nodes, layout.rails, layout.pieces):
        assert len({thing.id for thing in named}) == len(named)
    assert len({b.name for b in layout.bays}) == len(layout.bays)
    assert len({line.name for line in layout.lines}) == len(layout.lines)

    # rails: inside the strip, carried at both ends and between, clear of every joint
    for rail in layout.rails:
        start, end, legs = along(layout, rail)
        lost = without(band(Segment(rail.start, rail.end), parts.rail.width), floor)
        assert sum(area(p) for p in lost) <= COVER * (end - start) + 1
        assert legs == sorted(legs)
        assert legs[0] - start <= 150 + 1e-6
        assert end - legs[-1] <= 150 + 1e-6
        assert all(0 < q - p <= parts.module + 1e-6 for p, q in pairwise(legs))
        assert rail.length_mm == math.floor(end - start + 1e-6)
    assert layout.joint_crossings == ()
    for joint in layout.joints:
        for rail in layout.rails:
            assert all(
                s.length_mm < 0.2
                for s in pieces_inside(band(joint.line, joint.width_mm + 0.01), Segment(rail.start, rail.end))
            )

    # feet stand whole on the floor and not on each other
    for node in layout.nodes:
        under = [p for p in floor if contains(p, node.at)]
        assert len(under) == 1
        assert edge_distance(under[0], node.at) >= parts.foot.diameter / 2 - 0.1
    spots = [n.at for n in layout.nodes]
    assert all(math.dist(p, q) > parts.foot.diameter - 0.1 for i, p in enumerate(spots) for q in spots[:i])

    # pieces: each rail covered end to end, each cut piece in one bar, each bar adds up
    pieces = {p.id: p for p in layout.pieces}
    stocks = {s.stock_mm for s in layout.cut_list.stocks}
    for rail in layout.rails:
        mine = [pieces[p] for p in rail.pieces]
        assert (mine[0].start, mine[-1].end) == (rail.start, rail.end)
        assert all(p.end == q.start for p, q in pairwise(mine))
        for piece in mine:
            assert 0 <= math.dist(piece.start, piece.end) + 2e-6 - piece.length_mm < 1 + 1e-6
            assert piece.length_mm in stocks or piece.cut
    assert Counter(p for rail in layout.rails for p in rail.pieces) == Counter(list(pieces))
    cut_list = layout.cut_list
    assert Counter(p for bar in cut_list.bars for p in bar.pieces) == Counter(p.id for p in pieces.values() if p.cut)
    assert cut_list.whole == sum(not p.cut for p in pieces.values())
    assert cut_list.bound <= len(cut_list.bars)
    cut_mm = sum(s.stock_mm * s.cut for s in cut_list.stocks)
    assert sum(b.stock_mm for b in cut_list.bars) == cut_mm >= cut_list.bound_mm
    assert cut_list.proven == (cut_mm == cut_list.bound_mm)
    assert cut_list.whole == sum(s.whole for s in cut_list.stocks)
    for bar in cut_list.bars:
        assert bar.lengths_mm == tuple(pieces[p].length_mm for p in bar.pieces)
        assert bar.offcut_mm >= 0
        assert math.isclose(sum(bar.lengths_mm) + bar.saw_cuts * bar.saw_cut_mm + bar.offcut_mm, bar.stock_mm)
        assert stock is not None or len(bar.pieces) <= 2


@settings(max_examples=12, deadline=None)
@given(jobs(), st.floats(-5000, 5000), st.floats(-5000, 5000))
def test_moved_room_is_laid_out_alike(outline, kit, lay, job, dx, dy):
    ring, cut, joints, stock = job

    def moved(at):
        return (at[0] + dx, at[1] + dy)

    here = lay(outline(ring, cut), kit=kit(stock=stock), joints=joints)
    shifted = [type(p)(tuple(moved(c) for c in p.shell)) for p in cut]
    shifted_joints = [j.model_copy(update={"start": moved(j.start), "end": moved(j.end)}) for j in joints]
    there = lay(outline([moved(c) for c in ring], shifted), kit=kit(stock=stock), joints=shifted_joints)
    assert [(n.id, n.why) for n in there.nodes] == [(n.id, n.why) for n in here.nodes]
    assert [b.name for b in there.bays] == [b.name for b in here.bays]
    assert there.cut_list.stock_lengths == here.cut_list.stock_lengths
    for a, b in zip(here.nodes, there.nodes, strict=True):
        assert math.dist(moved(a.at), b.at) < 1e-3  # whole mm are counted from the room's own corner


@settings(max_examples=15, deadline=None)
@given(st.integers(1000, 9000), st.integers(1000, 9000), st.integers(400, 590), st.integers(400, 590))
def test_turned_over_room_has_as_many_legs_and_bars(outline, lay, w, d, x, y):
    """Letters and figures change places when the room is looked at from wall 4 instead of wall 1."""
    column = box(x, y, x + 300, y + 300)
    here = lay(outline([(0, 0), (w, 0), (w, d), (0, d)], [column]))
    there = lay(outline([(0, 0), (d, 0), (d, w), (0, w)], [box(y, x, y + 300, x + 300)]))
    assert len(there.nodes) == len(here.nodes)
    assert len(there.bays) == len(here.bays)
    assert there.cut_list.stock_lengths == here.cut_list.stock_lengths


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 12), st.integers(2, 10), st.sampled_from([0, 200, 400]), st.sampled_from([0, 200, 400]))
def test_twice_the_room_and_twice_the_kit_gives_the_same_counts(outline, kit, lay, across, down, more_x, more_y):
    w, d = 100 + 600 * across + more_x, 100 + 600 * down + more_y
    twice = kit(
        module=1200.0,
        first_line_from_wall=100.0,
        smallest_cut_piece=300.0,
        edge_strip=20.0,
        saw_cut=6.0,
        rail=kit().rail.model_copy(update={"width": 70.0}),
        foot=kit().foot.model_copy(update={"diameter": 120.0}),
    )
    here = lay(outline([(0, 0), (w, 0), (w, d), (0, d)]), kit=kit(saw_cut=3.0))
    there = lay(outline([(0, 0), (2 * w, 0), (2 * w, 2 * d), (0, 2 * d)]), kit=twice)
    assert [n.id for n in there.nodes] == [n.id for n in here.nodes]
    assert len(there.rails) == len(here.rails)
    assert (there.cut_list.whole, len(there.cut_list.bars)) == (here.cut_list.whole, len(here.cut_list.bars))
    assert bounds(there.floor[0])[2] == 2 * bounds(here.floor[0])[2]
