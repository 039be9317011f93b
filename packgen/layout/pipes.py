"""Services in plan: straight pipes, coils of heating pipe, spots; feet too near to them, rails over them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

import numpy as np

from packgen.core.plane import Point, Segment, segment_distance
from packgen.layout.ground import SAME_MM, Ground, Kind, foot_places, gaps_between, nearest_in, pipe_intervals
from packgen.layout.model import Crossing, FootClash, Node, PipeRun, Rail
from packgen.project.room_model import Service
from packgen.survey.model import RoomOutline


def pipe_run(service: Service, room: RoomOutline) -> PipeRun:
    """A service as it lies: its axis in straight stretches, and its length with leads.

    The length of a coil is area / spacing + leads, which is what is ordered and held against the longest allowed.
    """
    stretches: tuple[Segment, ...] = ()
    length = 0.0
    if service.area is not None and service.spacing:
        along_x = _runs_along_x(service, room)
        coil = rings if _is_spiral(service.pattern) else serpentine
        stretches = coil(service.area.start, service.area.end, service.spacing, along_x)
        (x0, y0), (x1, y1) = service.area.start, service.area.end
        length = abs(x1 - x0) * abs(y1 - y0) / service.spacing + (service.leads or 0.0)
    elif service.start is not None and service.end is not None:
        stretches = side_by_side(Segment(service.start, service.end), service.number, service.apart or 0.0)
        length = sum(s.length_mm for s in stretches) + (service.leads or 0.0)
    return PipeRun(
        service.name,
        service.kind,
        service.outside or 0.0,
        service.support,
        stretches,
        length,
        service.heating,
        at=service.at,
    )


def _is_spiral(pattern: str | None) -> bool:
    return pattern is not None and any(word in pattern.lower() for word in ("spiral", "snail", "counter"))


def _runs_along_x(service: Service, room: RoomOutline) -> bool:
    """Whether the runs lie more along x than along y: as the wall they run along, else along the longer side."""
    if service.runs_along is not None:
        for wall in room.walls:
            if wall.number == service.runs_along:
                (ax, ay), (bx, by) = wall.line.a, wall.line.b
                return abs(bx - ax) >= abs(by - ay)
    if service.area is None:
        return True
    (x0, y0), (x1, y1) = service.area.start, service.area.end
    return abs(x1 - x0) >= abs(y1 - y0)


def side_by_side(first: Segment, number: int, apart: float) -> tuple[Segment, ...]:
    """`number` parallel stretches; the first as drawn, the others each `apart` farther into the room.

    >>> [s.a for s in side_by_side(Segment((0, 3200), (1900, 3200)), 2, 60)]
    [(0.0, 3200.0), (0.0, 3260.0)]
    """
    length = first.length_mm
    if length == 0:
        return (first,)
    nx, ny = -(first.b[1] - first.a[1]) / length, (first.b[0] - first.a[0]) / length
    if ny < -SAME_MM or (abs(ny) <= SAME_MM and nx < 0):
        nx, ny = -nx, -ny
    return tuple(
        Segment(
            (first.a[0] + nx * apart * k + 0.0, first.a[1] + ny * apart * k + 0.0),
            (first.b[0] + nx * apart * k + 0.0, first.b[1] + ny * apart * k + 0.0),
        )
        for k in range(number)
    )


def serpentine(start: Point, end: Point, spacing: float, along_x: bool) -> tuple[Segment, ...]:
    """Runs to and fro over a rectangle, from the corner `start`, with square bends; the first bend at the far end.

    >>> [s.b for s in serpentine((0, 0), (900, 150), 150, True)]
    [(900, 0), (900, 150), (0, 150)]
    """
    (x0, y0), (x1, y1) = start, end
    a, b, c0, c1 = (x0, x1, y0, y1) if along_x else (y0, y1, x0, x1)
    count = math.floor(abs(c1 - c0) / spacing + SAME_MM) + 1
    step = spacing if c1 >= c0 else -spacing
    turn: Callable[[float, float], Point] = (lambda t, c: (t, c)) if along_x else (lambda t, c: (c, t))
    out = []
    for k in range(count):
        c = c0 + k * step
        here, there = (a, b) if k % 2 == 0 else (b, a)
        if k > 0:
            out.append(Segment(turn(here, c - step), turn(here, c)))
        out.append(Segment(turn(here, c), turn(there, c)))
    return tuple(out)


def rings(start: Point, end: Point, spacing: float, along_x: bool) -> tuple[Segment, ...]:
    """A spiral as square rings one inside the other, `spacing` apart: flow and return lie in turn."""
    x0, x1 = sorted((start[0], end[0]))
    y0, y1 = sorted((start[1], end[1]))
    out: list[Segment] = []
    while x1 - x0 > SAME_MM and y1 - y0 > SAME_MM:
        corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        out += [Segment(corners[k], corners[(k + 1) % 4]) for k in range(4)]
        x0, y0, x1, y1 = x0 + spacing, y0 + spacing, x1 - spacing, y1 - spacing
    if x1 - x0 > SAME_MM or y1 - y0 > SAME_MM:
        out.append(Segment((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)) if along_x else Segment((x0, y0), (x0, y1)))
    return tuple(out)


# --------------------------------------------------------------------------------- feet and rails against them


def axes(pipes: Iterable[PipeRun]) -> list[tuple[Segment, float]]:
    """Every straight stretch with half its outside diameter; a spot counts as a stretch without length."""
    found = []
    for pipe in pipes:
        found += [(s, pipe.outside_mm / 2) for s in pipe.stretches]
        if pipe.at is not None:
            found.append((Segment(pipe.at, pipe.at), pipe.outside_mm / 2))
    return found


def foot_clashes(
    nodes: Sequence[Node],
    pipes: Sequence[PipeRun],
    rails: Sequence[Rail],
    grounds: dict[str, Ground],
    kinds: dict[str, Kind],
    near: float,
    most: float,
) -> tuple[FootClash, ...]:
    """Feet on a service or nearer to it than `near`, each with the least move along a rail (up to `most`) that frees
    it from all services."""
    rail_at: dict[str, list[Rail]] = {}
    for rail in rails:
        for name in rail.nodes:
            rail_at.setdefault(name, []).append(rail)
    out = []
    for pipe in pipes:
        spots = [] if pipe.at is None else [Segment(pipe.at, pipe.at)]
        lines = [*pipe.stretches, *spots]
        if not lines:
            continue
        for node in _close(nodes, lines, pipe.outside_mm / 2 + near, grounds):
            reach = grounds[node.room].foot / 2 + pipe.outside_mm / 2
            distance = min(segment_distance(node.at, s) for s in lines)
            if distance < reach + near - SAME_MM:
                move = _least_move(node, rail_at.get(node.id, []), grounds[node.room], kinds, near, most)
                out.append(FootClash(node.id, pipe.name, distance, reach, distance - reach, move))
    return tuple(out)


def _close(nodes: Sequence[Node], lines: Sequence[Segment], reach: float, grounds: dict[str, Ground]) -> list[Node]:
    """Nodes that may lie within reach of any of the stretches, by the boxes round them."""
    if not nodes:
        return []
    x, y = np.array([n.x_mm for n in nodes]), np.array([n.y_mm for n in nodes])
    wide = reach + max(g.foot for g in grounds.values()) / 2
    hit = np.zeros(len(nodes), dtype=bool)
    for s in lines:
        x0, x1 = sorted((s.a[0], s.b[0]))
        y0, y1 = sorted((s.a[1], s.b[1]))
        hit |= (x > x0 - wide) & (x < x1 + wide) & (y > y0 - wide) & (y < y1 + wide)
    return [nodes[int(i)] for i in np.nonzero(hit)[0]]


def _least_move(
    node: Node, rails: Sequence[Rail], ground: Ground, kinds: dict[str, Kind], near: float, most: float
) -> float | None:
    """The least move along one of the node's rails that frees its foot, within the rail and the floor."""
    moves = []
    for rail in rails:
        kind = kinds[rail.line]
        side = 1 if kind == "lettered" else 0
        at, here = node.at[1 - side], node.at[side]
        lo, hi = max(rail.start[side], here - most), min(rail.end[side], here + most)
        taken = pipe_intervals(ground, kind, at, near)
        free = [gap for a, b in foot_places(ground, kind, at, lo, hi) for gap in gaps_between(taken, a, b)]
        to = nearest_in(free, here)
        if to is not None:
            moves.append(abs(to - here))
    return min(moves) if moves else None


def rails_over(rails: Sequence[Rail], pipes: Sequence[PipeRun]) -> tuple[Crossing, ...]:
    """Where the middle of a rail passes over a service, in the order of the rails."""
    out = []
    for pipe in pipes:
        for s in pipe.stretches:
            for rail in rails:
                at = _over(rail, s)
                if at is not None:
                    out.append(Crossing(rail.id, pipe.name, at))
    order = {rail.id: i for i, rail in enumerate(rails)}
    return tuple(sorted(set(out), key=lambda c: (order[c.rail], c.at, c.other)))


def _over(rail: Rail, s: Segment) -> Point | None:
    """Rails stand upright or level on the plan, so the crossing is found along one coordinate."""
    k = 0 if rail.start[0] == rail.end[0] else 1
    at, lo, hi = rail.start[k], rail.start[1 - k], rail.end[1 - k]
    p, q = s.a[k], s.b[k]
    if p == q or not min(p, q) <= at <= max(p, q):
        return None
    t = s.a[1 - k] + (at - p) / (q - p) * (s.b[1 - k] - s.a[1 - k])
    if not lo - SAME_MM <= t <= hi + SAME_MM:
        return None
    return (at, t) if k == 0 else (t, at)


def feet_on(spots: Sequence[Point], ground: Ground) -> int:
    """How many feet at these spots would stand on a service."""
    if not spots or len(ground.pipes) == 0:
        return 0
    at = np.array(spots)
    on = np.zeros(len(at), dtype=bool)
    for (ax, ay, bx, by), reach in zip(ground.pipes, ground.pipe_reach, strict=True):
        box = (at[:, 0] > min(ax, bx) - reach) & (at[:, 0] < max(ax, bx) + reach)
        box &= (at[:, 1] > min(ay, by) - reach) & (at[:, 1] < max(ay, by) + reach)
        for i in np.nonzero(box & ~on)[0]:
            stretch = Segment((float(ax), float(ay)), (float(bx), float(by)))
            on[i] = segment_distance((float(at[i, 0]), float(at[i, 1])), stretch) < reach - SAME_MM
    return int(on.sum())
