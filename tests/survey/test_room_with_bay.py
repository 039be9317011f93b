"""The reading room: eight walls, two columns and a curved bay go all the way to a plan."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from packgen.core.plane import Polygon, contains
from packgen.plan import Plan


def test_the_reading_room_is_planned_into_its_bay(plan_of: Callable[[str], Plan]) -> None:
    """Rectangle 7.2 x 5.2 less the stack 1.2 x 0.9, two columns 0.24 wide, and the bay: chord 3000, rise 700."""
    plan = plan_of("09-reading-room-bay")
    (room,) = plan.survey.rooms
    radius = (1500**2 + 700**2) / 1400
    half = math.asin(1500 / radius)
    bay = radius**2 / 2 * (2 * half - math.sin(2 * half)) / 1e6
    wanted = 7.2 * 5.2 - 1.2 * 0.9 - 2 * math.pi * 0.12**2 + bay
    assert room.area_m2 == pytest.approx(wanted, abs=0.02)
    assert len(room.walls) == 8
    assert room.walls[3].length_mm == pytest.approx(2 * half * radius, abs=1)
    assert any(n.y_mm > 5250 for n in plan.layout.nodes)
    assert all(contains(Polygon(room.ring), n.at, 0.1) for n in plan.layout.nodes)
    floor = room.area_m2 - plan.project.kit.edge_strip * room.perimeter_mm / 1e6
    assert sum(b.area_m2 for b in plan.layout.bays) == pytest.approx(floor, abs=0.05)
