"""Scales are ISO 5455's and the largest that fits; parts of a large floor meet on lines and leave nothing out."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from packgen.booklet.drawing.scale import PLANS, SHEETS, Strip, cuts, largest, parted

ISO_5455 = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000}  # reduction scales of ISO 5455:1979, from memory
ACROSS, DOWN = Strip(178, 28, 28, 19), Strip(190, 35, 35, 12)


def test_scales_are_iso_5455_and_a_quarter() -> None:
    assert set(PLANS) - {25} <= ISO_5455


def test_largest_that_fits() -> None:
    assert largest(6200, 4400, 124, 88) == 50
    assert largest(6200, 4400, 123.9, 88) == 100
    assert largest(2500, 2000, 178, 190) == 20


@given(width=st.integers(1500, 100_000), height=st.integers(1500, 100_000), module=st.sampled_from([500, 600, 625]))
def test_parts_cover_the_floor_and_meet_on_lines(width: int, height: int, module: int) -> None:
    xs = tuple(float(x) for x in range(50, width, module))
    ys = tuple(float(y) for y in range(50, height, module))
    scale, windows = parted((0, 0, width, height), xs, ys, ACROSS, DOWN)
    assert min(w.x0 for w in windows) == 0
    assert max(w.x1 for w in windows) == width
    assert sum((w.x1 - w.x0) * (w.y1 - w.y0) for w in windows) == width * height
    for w in windows:
        assert w.x0 == 0 or w.x0 in xs
        assert w.y0 == 0 or w.y0 in ys
        assert (w.x1 - w.x0) / scale <= ACROSS.free(w.column, w.columns) + 1e-6
        assert (w.y1 - w.y0) / scale <= DOWN.free(w.row, w.rows) + 1e-6
    assert len(windows) <= SHEETS or scale == PLANS[-1]
    if len(windows) > 1:
        assert scale >= 50


def test_without_lines_the_cut_is_made_anyway() -> None:
    parts = cuts(0, 30_000, (), ACROSS, 50)
    assert parts[0][0] == 0
    assert parts[-1][1] == 30_000
    assert all(a[1] == b[0] for a, b in itertools.pairwise(parts))
