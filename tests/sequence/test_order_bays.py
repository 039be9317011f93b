"""The order of bays on floors of any outline: made of unit squares with a door, drawn at random."""

from __future__ import annotations

from collections import deque

from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.beside import beside
from packgen.core.plane import Segment, box
from packgen.layout.model import Bay
from packgen.sequence.order_bays import Load, order_bays
from packgen.sequence.ways_out import Exit, Ground

SIDE = 600.0
Cell = tuple[int, int]


def neighbours(cell: Cell) -> list[Cell]:
    x, y = cell
    return [(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)]


@st.composite
def floors(draw: st.DrawFn) -> list[Cell]:
    """Squares that hang together, the door at the first of them."""
    cells = [(0, 0)]
    for _ in range(draw(st.integers(0, 40))):
        free = sorted({n for c in cells for n in neighbours(c)} - set(cells))
        cells.append(draw(st.sampled_from(free)))
    return cells


def ground_of(cells: list[Cell], upright_door: bool) -> Ground:
    bays = tuple(
        Bay(f"{x},{y}", box(x * SIDE, y * SIDE, (x + 1) * SIDE, (y + 1) * SIDE), 0.36, x, y, "room") for x, y in cells
    )
    at = {c: i for i, c in enumerate(cells)}
    steps = tuple(tuple(at[n] for n in neighbours(c) if n in at) for c in cells)
    line = Segment((0.0, 0.0), (0.0, SIDE)) if upright_door else Segment((0.0, 0.0), (SIDE, 0.0))
    middles = tuple(((x + 0.5) * SIDE, (y + 0.5) * SIDE) for x, y in cells)
    links = beside([b.shape for b in bays], 1.0)
    door = Exit("door", "door", "room", line, (0,), True)
    return Ground(bays, middles, links, steps, tuple(range(len(bays))), (door,))


@settings(max_examples=200, deadline=None)
@given(cells=floors(), upright_door=st.booleans(), day_l=st.sampled_from([40.0, 120.0, 1e6]), straight=st.booleans())
def test_open_floor_always_hangs_together_and_ends_at_the_door(
    cells: list[Cell], upright_door: bool, day_l: float, straight: bool
) -> None:
    ground = ground_of(cells, upright_door)
    everything = frozenset(range(len(cells))) if straight else frozenset()
    load = Load((25.0,) * len(cells), ("fill",) * len(cells), day_l, everything)
    found = order_bays(ground, ["room"], load, 0.36)
    assert sorted(found.order) == list(range(len(cells)))
    assert found.trapped == ()
    still_open = set(found.order)
    for bay in found.order:
        reached, queue = {0}, deque([0])
        while queue:
            for n in ground.steps[queue.popleft()]:
                if n in still_open and n not in reached:
                    reached.add(n)
                    queue.append(n)
        assert reached == still_open
        still_open.discard(bay)
    assert found.order[-1] == 0


def test_a_part_without_a_door_is_trapped_and_a_small_corner_is_filled_from_beside() -> None:
    cells = [(0, 0), (1, 0), (5, 5), (6, 5)]
    ground = ground_of(cells, upright_door=True)
    load = Load((25.0,) * 4, ("fill",) * 4, 1e6)
    assert set(order_bays(ground, ["room"], load, 0.36).trapped) == {2, 3}


def test_a_plain_room_is_filled_row_by_row_from_the_wall_opposite_the_door() -> None:
    cells = [(x, y) for y in range(4) for x in range(5)]
    ground = ground_of(cells, upright_door=False)
    load = Load((25.0,) * 20, ("fill",) * 20, 1e6)
    rows = [cells[i][1] for i in order_bays(ground, ["room"], load, 0.36).order]
    assert rows == sorted(rows, reverse=True)


def test_one_fill_is_finished_before_another_is_begun_where_the_way_out_allows() -> None:
    cells = [(x, y) for y in range(4) for x in range(6)]
    fills = tuple("near" if x < 3 else "far" for x, _ in cells)
    ground = ground_of(cells, upright_door=True)
    order = order_bays(ground, ["room"], Load((25.0,) * 24, fills, 1e6), 0.36).order
    said = [fills[i] for i in order]
    assert said == ["far"] * 12 + ["near"] * 12
