"""Rooms in which legs stand so close to a round column that their nearest areas only just touch."""

from __future__ import annotations

from typing import Any

import pytest

from packgen.core.plane import area, box, circle


@pytest.mark.parametrize(("x", "y"), [(0, 0), (-55, -1702)])
def test_a_column_that_nearly_fills_the_room(outline: Any, kit: Any, lay: Any, x: float, y: float) -> None:
    ring = [(0, 0), (900, 0), (900, 250), (250, 250), (250, 3861), (-250, 3861), (-250, 250), (0, 250)]
    cut = [box(x, y, x + 40, y + 40), circle((x, y + 1831.05078125), 195)]
    found = lay(outline([(a + x, b + y) for a, b in ring], cut), kit=kit(stock=None), joints=[])
    floor = sum(area(p) for p in found.floor)
    assert sum(n.tributary_mm2 for n in found.nodes) == pytest.approx(floor, abs=1)
