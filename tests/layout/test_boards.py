"""Boards over laid-out rooms: they tile the floor, fit their boards, end on rails, and are staggered."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import area, band, bounds, box, common, without
from packgen.layout.board_model import Rail, Rules
from packgen.layout.board_sheets import Stack
from packgen.layout.boards import lay_boards
from packgen.project.room_model import Joint

RULES = Rules(2500.0, 1250.0, False, 600.0, 300.0, 150.0, 3.0, 150.0)


def boards(layout, rules=RULES):
    kinds = {line.name: line.kind for line in layout.lines}
    rails = [Rail(kinds[r.line], r.start, r.end) for r in layout.rails]
    floor = layout.floor
    if layout.joints:
        floor = [p for f in floor for p in without(f, [band(j.line, max(j.width_mm, 1)) for j in layout.joints])]
    return floor, lay_boards(floor, rails, "OSB", 22.0, rules, 100.0)


SHAPES = st.sampled_from(["box", "ell", "skew"])


@settings(max_examples=25, deadline=None)
@given(SHAPES, st.integers(900, 6000), st.integers(900, 5000), st.booleans(), st.booleans(), st.booleans())
def test_boards_tile_the_floor_and_fit_their_boards(outline, lay, shape, w, d, column, joint, free_edges):
    ring = {
        "box": [(0, 0), (w, 0), (w, d), (0, d)],
        "ell": [(0, 0), (w, 0), (w, d * 0.6), (w * 0.5, d * 0.6), (w * 0.5, d), (0, d)],
        "skew": [(0, 0), (w, 60), (w - 90, d), (40, d + 30)],
    }[shape]
    cut = [box(w * 0.3, d * 0.3, w * 0.3 + 260, d * 0.3 + 180)] if column else []
    joints = [Joint(kind="movement", start=(w * 0.4, 0.0), end=(w * 0.4, 9000.0), width=8.0)] if joint else []
    rules = Rules(2500.0, 1250.0, free_edges, 600.0, 300.0, 150.0, 3.0, 150.0)
    floor, plan = boards(lay(outline(ring, cut), joints=joints), rules)

    # the floor is covered once
    assert sum(area(p.shape) for p in plan.pieces) == pytest.approx(sum(area(f) for f in floor), abs=len(plan.pieces))
    for p, q in combinations(plan.pieces, 2):
        assert sum(area(c) for c in common(p.shape, q.shape)) < 1
    assert len({p.name for p in plan.pieces}) == len(plan.pieces)

    # no piece is larger than a board, pieces and offcuts of a board are no more than the board
    used = defaultdict(float)
    for p in plan.pieces:
        x0, y0, x1, y1 = bounds(p.shape)
        long, wide = (x1 - x0, y1 - y0) if plan.along_x else (y1 - y0, x1 - x0)
        assert (p.length_mm, p.width_mm) == (math.ceil(long - 1e-6), math.ceil(wide - 1e-6))
        assert long <= 2501
        assert wide <= 1251
        used[p.board] += long * wide
    for o in plan.offcuts:
        used[o.board] += o.length_mm * o.width_mm
    assert sorted(used) == list(range(1, plan.boards + 1))
    assert all(v <= 2501 * 1251 for v in used.values())
    assert plan.bound <= plan.boards


@settings(max_examples=20, deadline=None)
@given(st.integers(1200, 8000), st.integers(1200, 6000))
def test_ends_lie_on_rails_and_rows_are_staggered(lay, box_room, w, d):
    """In a plain room every joint has a rail below it; with the module 600 and boards of 2500, joints of neighbouring
    rows are a module apart or more wherever a row is long enough to choose."""
    layout = lay(box_room(w, d))
    floor, plan = boards(layout)
    assert all(p.on_rails for p in plan.pieces)
    lines = {"lettered": [], "numbered": []}
    for line in layout.lines:
        lines[line.kind].append(line.at_mm)
    x0, y0, x1, y1 = bounds(floor[0])
    for p in plan.pieces:
        a, b, c, e = bounds(p.shape)
        for at, ends, kind in ((a, (x0, x1), "lettered"), (c, (x0, x1), "lettered"), (b, (y0, y1), "numbered")):
            assert min(abs(at - v) for v in (*ends, *lines[kind])) < 0.01, (p.name, e)
    assert plan.stagger_mm is None or plan.stagger_mm >= 599 or min(w, d) < 3000


def test_an_offcut_starts_the_next_row(lay, box_room):
    """By hand, 3000 into the room: rows of 640, 1200, 1200 ... ; 1740 of a board of 2500 leaves 757, which starts the
    next row with 640."""
    _, plan = boards(lay(box_room(4000, 3000)))
    assert plan.from_offcuts >= 1
    assert plan.proven


def test_a_board_is_cut_along_where_another_strip_fits_beside():
    stack = Stack(RULES)
    assert [stack.take(2440.0, 500.0) for _ in range(3)] == [(1, True), (1, False), (2, True)]


def test_a_board_is_cut_across_first_where_the_rest_is_worth_more():
    stack = Stack(RULES)
    stack.take(1240.0, 1200.0)
    assert [(o.length_mm, o.width_mm) for o in stack.offcuts()] == [(1257, 1250)]


def test_rails_under_a_single_board_by_hand(lay, box_room):
    """A room of 1300 by 1300: rails at 50, 650, 1250 both ways, each from 50 to 1250. A row of 1280 does not come from
    a board 1250 wide, so it parts at 650: four rails at walls, that under the joint twice, one within."""
    _, plan = boards(lay(box_room(1300, 1300)))
    assert len(plan.pieces) == 2
    assert plan.edges_m == pytest.approx(4 * 1.2 + 2 * 1.2)
    assert plan.within_m == pytest.approx(1.2)


def test_no_board_lies_across_a_movement_joint(lay, box_room):
    joint = Joint(kind="movement", start=(2000.0, 0.0), end=(2000.0, 3000.0), width=10.0)
    _, plan = boards(lay(box_room(4000, 3000), joints=[joint]))
    for p in plan.pieces:
        x0, _, x1, _ = bounds(p.shape)
        assert x1 <= 1995.01 or x0 >= 2004.99
