"""Rooms by their corners, laid out without a project file."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from packgen.core.plane import Point, Polygon, Segment, area, common, pairs, perimeter, without
from packgen.core.surface import plane_surface
from packgen.layout.arrange import arrange
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.work_model import Foot, Kit, LegPart, Levels, RailPart
from packgen.survey.model import CutOut, LevelBook, RoomOutline, Survey, WallLine

NOT_READ = Levels(columns_at=(), rows_at=(), setups=())


def _outline(
    corners: Sequence[Point], cut: Sequence[Polygon] = (), name: str = "room", kind: str = "obstacle"
) -> RoomOutline:
    ring = tuple((float(x), float(y)) for x, y in corners)
    walls = tuple(WallLine(f"wall {n}", n, Segment(a, b), math.dist(a, b)) for n, (a, b) in enumerate(pairs(ring), 1))
    whole = Polygon(ring)
    cuts = tuple(CutOut(f"{kind} {n}", kind, part) for n, shape in enumerate(cut, 1) for part in common(whole, shape))
    floor = without(whole, [c.shape for c in cuts]) if cuts else (whole,)
    net = sum(area(p) for p in floor) / 1e6
    return RoomOutline(
        name, ring, walls, floor, cuts, (), net, area(whole) / 1e6, perimeter(ring), None, None, (), (), "", 0, False
    )


def _kit(stock: float | tuple[float, ...] | None = None, **changed: Any) -> Kit:
    stocks = stock if isinstance(stock, tuple) else () if stock is None else (stock,)
    given: dict[str, Any] = {
        "module": 600.0,
        "rail": RailPart(width=35.0, height=20.0, stock=stocks),
        "leg": LegPart(shortest=46.0, longest=94.0),
        "foot": Foot(diameter=60.0),
        "first_line_from_wall": 50.0,
        "prefer": ("plain first lines",),  # these tests are of what is laid from given lines
        "smallest_cut_piece": 150.0,
        "edge_strip": 10.0,
    }
    return Kit(**{**given, **changed})


def _lay(*rooms: RoomOutline, kit: Kit | None = None, **parts: Any) -> Layout:
    given: dict[str, Any] = {"services": (), "joints": (), "finishes": (), "levels": NOT_READ, **parts}
    project = Project.model_construct(kit=kit or _kit(), **given)
    book = LevelBook((), (), (), None, 3.0, 0.0, 0.0)
    return arrange(project, Survey(rooms, book, plane_surface(0.0)))


@pytest.fixture(scope="session")
def outline() -> Callable[..., RoomOutline]:
    """outline(corners, cut=[polygons]): walls in walking order, corner 1 first."""
    return _outline


@pytest.fixture(scope="session")
def kit() -> Callable[..., Kit]:
    """The kit of the demo projects; kit(stock=3000, module=500) changes it."""
    return _kit


@pytest.fixture(scope="session")
def lay() -> Callable[..., Layout]:
    """lay(outline(...), kit=kit(...), joints=(...), services=(...), finishes=(...))"""
    return _lay


@pytest.fixture(scope="session")
def box_room() -> Callable[..., RoomOutline]:
    return lambda w, d, cut=(), **k: _outline([(0, 0), (w, 0), (w, d), (0, d)], cut, **k)
