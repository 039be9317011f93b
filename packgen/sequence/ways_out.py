"""How people leave while a floor is filled: the bays at doors and free edges, and which bays lie beside which."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from packgen.core.beside import Beside, along, beside
from packgen.core.plane import Point, Polygon, Segment, bounds, centroid, centroids, contains
from packgen.layout.model import Bay
from packgen.project.model import Project
from packgen.survey.model import RoomOutline, Survey
from packgen.trade.amounts import amount

SAMPLE_MM = 50.0
TOUCHING_MM = 1.0  # bays meet on the lines of rails and joints; wider apart something lies between them


@dataclass(frozen=True, slots=True)
class Exit:
    """A way out: what it is called, where it is, and the bays people step out from, the last to be filled first.

    main: the way that material comes through, which stays open longest
    """

    name: str
    kind: Literal["door", "free edge"]
    room: str
    line: Segment
    bays: tuple[int, ...]
    main: bool

    @property
    def middle(self) -> Point:
        return _middle(self.line)


@dataclass(frozen=True)
class Ground:
    """The bays as a floor to walk on. Bays by their index in the layout.

    links   pairs with a shared edge, long enough to step over or not
    steps   for each bay its neighbours over `links` that a person can step to
    hosts   for each bay the bay that it is filled with: itself, or for a strip too narrow to stand in its neighbour
    """

    bays: tuple[Bay, ...]
    middles: tuple[Point, ...]
    links: tuple[Beside, ...]
    steps: tuple[tuple[int, ...], ...]
    hosts: tuple[int, ...]
    exits: tuple[Exit, ...]


def walk_ground(project: Project, survey: Survey, bays: Sequence[Bay]) -> Ground:
    """Who can step where, and where people leave each room."""
    shapes = [b.shape for b in bays]
    near = beside(shapes, TOUCHING_MM)
    links = tuple(link for link in near if bays[link.first].room == bays[link.second].room)
    least = step_mm(project)
    steps: list[list[int]] = [[] for _ in bays]
    for link in (*links, *_over_drains(survey, bays, links)):
        if link.shared_mm >= least:
            steps[link.first].append(link.second)
            steps[link.second].append(link.first)
    exits = [e for room in survey.rooms for e in _exits(project, survey, room, bays)]
    hosts = _hosts(shapes, links, least)
    return Ground(tuple(bays), centroids(shapes), links, tuple(map(tuple, steps)), hosts, tuple(exits))


def _over_drains(survey: Survey, bays: Sequence[Bay], links: Sequence[Beside]) -> Iterable[Beside]:
    """Bays with a drain or a channel between them that a person steps over."""
    drains = {r.name: [c.shape for c in r.cut_outs if c.kind != "obstacle"] for r in survey.rooms}
    known = {(link.first, link.second) for link in links}
    for room, shapes in drains.items():
        here = [i for i, b in enumerate(bays) if b.room == room] if shapes else []
        for link in beside([bays[i].shape for i in here], amount("reach_across")) if here else ():
            pair = (here[link.first], here[link.second])
            if pair not in known and any(contains(s, _middle(link.edge)) for s in shapes):
                yield Beside(*pair, link.shared_mm, link.edge)


def _middle(line: Segment) -> Point:
    return ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)


def _hosts(shapes: Sequence[Polygon], links: Sequence[Beside], least: float) -> tuple[int, ...]:
    """For each strip the wide bay it lies beside, over its longest shared edge; a strip beside strips follows them."""
    host: dict[int, int] = {}
    for i, shape in enumerate(shapes):
        x0, y0, x1, y1 = bounds(shape)
        if min(x1 - x0, y1 - y0) >= least:
            host[i] = i
    ranked = sorted(links, key=lambda k: (-round(k.shared_mm, 3), k.first, k.second))
    while True:
        found: dict[int, int] = {}
        for link in ranked:
            for a, b in ((link.first, link.second), (link.second, link.first)):
                if a not in host and b in host:
                    found.setdefault(a, host[b])
        if not found:
            return tuple(host.get(i, i) for i in range(len(shapes)))
        host.update(found)


def step_mm(project: Project) -> float:
    """The shared edge over which a person steps; half the module where that is less."""
    return min(amount("step_across"), project.kit.module / 2)


def _exits(project: Project, survey: Survey, room: RoomOutline, bays: Sequence[Bay]) -> list[Exit]:
    """The room's doors, the main one first; its free edges where it has no door.

    A door to another room of the job counts only where there is no other: the room behind it is filled as well.
    """
    here = [i for i, b in enumerate(bays) if b.room == room.name]
    rooms = {r.name for r in survey.rooms if r.name != room.name}
    outward = [d for d in room.doors if d.leads_to not in rooms] or list(room.doors)
    ranked = sorted(outward, key=lambda d: -d.line.length_mm)
    found: list[Exit] = []
    for door in ranked:
        at = _bays_behind(door.line, here, bays, room)
        if at:
            found.append(Exit(door.name, "door", room.name, door.line, at, not found))
    if found:
        return found
    free = sorted((w for w in room.walls if w.free_edge), key=lambda w: -w.line.length_mm)
    for wall in free:
        at = _bays_behind(wall.line, here, bays, room)
        if at:
            found.append(Exit(f"free edge, {wall.name}", "free edge", room.name, wall.line, at, not found))
    return found


def _bays_behind(line: Segment, here: Sequence[int], bays: Sequence[Bay], room: RoomOutline) -> tuple[int, ...]:
    """The first bay met when stepping in over each part of a line, those over which most of the line lies first.

    A channel or a strip as wide as a step may lie between.
    """
    length = line.length_mm
    if length == 0:
        return ()
    ux, uy = (line.b[0] - line.a[0]) / length, (line.b[1] - line.a[1]) / length
    side = _inside(line, room)
    reach = amount("reach_across")
    boxes = {i: b for i in here if _within(b := bounds(bays[i].shape), line, reach)}
    hits: dict[int, int] = {}
    count = max(1, math.floor(length / SAMPLE_MM))
    for k in range(count):
        t = (k + 0.5) * length / count
        x, y = line.a[0] + ux * t, line.a[1] + uy * t
        for j in range(1, math.floor(reach / SAMPLE_MM * 5) + 1):
            d = j * SAMPLE_MM / 5
            at = (x - uy * side * d, y + ux * side * d)
            hit = _bay_at(at, boxes, bays)
            if hit is not None:
                hits[hit] = hits.get(hit, 0) + 1
                break
    least = min(amount("step_across"), length / 2)
    wide = [i for i, n in hits.items() if n * length / count >= least] or list(hits)
    middle = ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)
    return tuple(sorted(wide, key=lambda i: (round(math.dist(middle, centroid(bays[i].shape)), 3), i)))


def _within(box: tuple[float, float, float, float], line: Segment, reach: float) -> bool:
    (ax, ay), (bx, by) = line.a, line.b
    return (
        box[0] <= max(ax, bx) + reach
        and box[2] >= min(ax, bx) - reach
        and box[1] <= max(ay, by) + reach
        and box[3] >= min(ay, by) - reach
    )


def _bay_at(at: Point, boxes: dict[int, tuple[float, float, float, float]], bays: Sequence[Bay]) -> int | None:
    for i, (x0, y0, x1, y1) in boxes.items():
        if x0 <= at[0] <= x1 and y0 <= at[1] <= y1 and contains(bays[i].shape, at):
            return i
    return None


def _inside(line: Segment, room: RoomOutline) -> int:
    """+1 where the room lies on the right hand of the line (y down the page), -1 on the left."""
    ux, uy = (line.b[0] - line.a[0]) / line.length_mm, (line.b[1] - line.a[1]) / line.length_mm
    x, y = (line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2
    right = contains(Polygon(room.ring), (x - uy * SAMPLE_MM, y + ux * SAMPLE_MM))
    return 1 if right else -1


def edges_to_close(survey: Survey, bays: Sequence[Bay], within_mm: float) -> frozenset[int]:
    """Bays with an edge at a door, a free edge or a channel: it is closed first, or the fill runs out."""
    least = amount("joint_open")
    lines: Iterable[tuple[str, Segment]] = (
        *((r.name, d.line) for r in survey.rooms for d in r.doors),
        *((r.name, piece) for r in survey.rooms for w in r.walls if w.free_edge for piece in w.pieces),
        *(
            (r.name, Segment(a, b))
            for r in survey.rooms
            for c in r.cut_outs
            if c.kind != "obstacle"
            for a, b in zip(c.shape.shell, (*c.shape.shell[1:], c.shape.shell[0]), strict=True)
        ),
    )
    found: set[int] = set()
    rooms = {b.room for b in bays}
    for name in sorted(rooms):
        here = [i for i, b in enumerate(bays) if b.room == name]
        shapes = [bays[i].shape for i in here]
        found |= {here[k] for k in along(shapes, (line for room, line in lines if room == name), within_mm, least)}
    return frozenset(found)
