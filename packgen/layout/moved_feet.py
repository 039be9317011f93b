"""Feet moved off services along their rails, as far as the kit allows."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from packgen.core.plane import Point, nearest_areas
from packgen.layout.clashes import free_places, near_services, rails_by_node
from packgen.layout.ground import SAME_MM, Ground, Interval, Kind
from packgen.layout.model import MovedFoot, Node, PipeRun, Rail


def move_feet(
    nodes: Sequence[Node],
    pipes: Sequence[PipeRun],
    rails: Sequence[Rail],
    grounds: Mapping[str, Ground],
    kinds: Mapping[str, Kind],
    near: float,
    most: float,
) -> tuple[tuple[Node, ...], tuple[MovedFoot, ...]]:
    """The nodes with every foot that stands on a service or nearer than `near` moved clear of all services, along the
    rail on which that is the shorter way, where it is not farther than `most`. No foot comes to stand on another, none
    is moved off its rail. Spans grow by as much as a foot is moved.
    """
    if not nodes or most <= 0:
        return tuple(nodes), ()
    rail_at = rails_by_node(rails)
    free: dict[str, list[Interval]] = {}
    spots = {n.id: n.at for n in nodes}
    buckets = _Buckets(max(g.foot for g in grounds.values()), spots)
    moved: list[MovedFoot] = []
    for node in near_services(nodes, pipes, grounds, near):
        ways = []
        for rail in rail_at.get(node.id, []):
            kind, ground = kinds[rail.line], grounds[node.room]
            if rail.id not in free:
                free[rail.id] = free_places(rail, ground, kind, near)
            side = 1 if kind == "lettered" else 0
            here = node.at[side]
            for a, b in free[rail.id]:
                to = _whole_mm(here, a, b)
                at = (node.at[0], to) if side else (to, node.at[1])
                if abs(to - here) <= most + SAME_MM and buckets.clear(at, node.id, ground.foot):
                    ways.append((round(abs(to - here), 6), rail.id, at))
        if ways:
            far, rail_id, at = min(ways)
            spots[node.id] = at
            buckets.put(node.id, at)
            moved.append(MovedFoot(node.id, rail_id, far, node.at, at))
    if not moved:
        return tuple(nodes), ()
    return _with_areas([replace(n, x_mm=spots[n.id][0], y_mm=spots[n.id][1]) for n in nodes], grounds), tuple(moved)


def _whole_mm(here: float, a: float, b: float) -> float:
    """The nearest place from a to b that is a whole number of mm away, where there is one."""
    to = min(max(here, a), b)
    further = here + math.copysign(math.ceil(abs(to - here) - SAME_MM), to - here)
    return further if a - SAME_MM <= further <= b + SAME_MM else to


class _Buckets:
    """Feet by squares of one foot, so that only neighbours are compared."""

    def __init__(self, side: float, spots: Mapping[str, Point]) -> None:
        self.side, self.at = side, dict(spots)
        self.held: dict[tuple[int, int], set[str]] = {}
        for name, at in spots.items():
            self.held.setdefault(self._square(at), set()).add(name)

    def _square(self, at: Point) -> tuple[int, int]:
        return (math.floor(at[0] / self.side), math.floor(at[1] / self.side))

    def put(self, name: str, at: Point) -> None:
        self.held[self._square(self.at[name])].discard(name)
        self.at[name] = at
        self.held.setdefault(self._square(at), set()).add(name)

    def clear(self, at: Point, name: str, foot: float) -> bool:
        x, y = self._square(at)
        near = (n for i in (-1, 0, 1) for j in (-1, 0, 1) for n in self.held.get((x + i, y + j), ()))
        return all(n == name or math.dist(at, self.at[n]) >= foot - SAME_MM for n in near)


def _with_areas(nodes: Sequence[Node], grounds: Mapping[str, Ground]) -> tuple[Node, ...]:
    """The floor nearer to each foot, worked out again."""
    areas: dict[str, float] = {}
    for room, ground in grounds.items():
        mine = [n for n in nodes if n.room == room]
        if mine:
            areas.update(zip((n.id for n in mine), nearest_areas(ground.floor, [n.at for n in mine]), strict=True))
    return tuple(replace(n, tributary_mm2=areas[n.id]) for n in nodes)
