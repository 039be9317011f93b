"""Walls, doors, cut-outs and their names, as every plan shows them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence

from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY
from packgen.booklet.drawing.frame import BAND_MM, NAME_MM, Drawn, PlanView, clipped
from packgen.booklet.drawing.labels import LEAST_MM, Label, width, wrapped
from packgen.core.plane import Point, Polygon, Segment, crossing, label_point, without
from packgen.survey.model import Door, RoomOutline, WallLine

SHORT_MM = 12.0  # on paper: the name of a shorter wall gives way
CROWDED = 3.0  # mm² of other ink under the name of such a wall beyond which it is left out; a name takes about 40

GAPS_MM = (1.5, 4.0, 8.0, 12.0, 16.0)  # from the middle of a column or drain to its name
SEVERAL_AT = 100  # on a smaller scale rooms side by side name wall 1 only, and columns where there is room


def outward(wall: WallLine) -> Point:
    """Unit vector out of the room: the walker has the inside on the right."""
    return _out_of(wall.line)


def _out_of(piece: Segment) -> Point:
    (ax, ay), (bx, by) = piece.a, piece.b
    d = math.hypot(bx - ax, by - ay) or 1.0
    return ((by - ay) / d, -(bx - ax) / d)


def _mitred(room: RoomOutline, by_mm: float) -> list[list[Point]]:
    """For each wall the starts of its straight pieces moved outward so that the band keeps its width round corners."""
    pieces = [(i, p) for i, wall in enumerate(room.walls) for p in wall.pieces]
    out: list[list[Point]] = [[] for _ in room.walls]
    for k, (i, piece) in enumerate(pieces):
        (px, py), (nx, ny) = _out_of(pieces[k - 1][1]), _out_of(piece)
        far = by_mm / max(0.35, 1 + px * nx + py * ny)
        out[i].append((piece.a[0] + (px + nx) * far, piece.a[1] + (py + ny) * far))
    return out


def _along(wall: WallLine, p: Point) -> float:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    d = wall.line.length_mm or 1.0
    return ((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / d


def _on(wall: WallLine, t: float) -> Point:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    f = t / (wall.line.length_mm or 1.0)
    return (ax + (bx - ax) * f, ay + (by - ay) * f)


def walls(view: PlanView, plan: Drawn) -> None:
    """Walls cut at 0.5 with the hatch outside, left open at doors; free edges as a heavy line without hatch."""
    for room in plan.survey.rooms:
        band = BAND_MM * view.scale
        outer = _mitred(room, band)
        solid: list[Polygon] = []
        for i, wall in enumerate(room.walls):
            if wall.free_edge or wall.rise_mm:
                for piece in wall.pieces:
                    view.line(piece.a, piece.b, HEAVY if wall.free_edge else CUT)
            if wall.free_edge:
                continue
            beyond = outer[(i + 1) % len(outer)][0]
            if wall.rise_mm:
                rims = itertools.pairwise([*outer[i], beyond])
                solid += [Polygon((p.a, p.b, b, a)) for p, (a, b) in zip(wall.pieces, rims, strict=True)]
                continue
            n, length = outward(wall), wall.line.length_mm
            gaps = sorted(
                (*sorted((_along(wall, d.line.a), _along(wall, d.line.b))), min(band, d.wall_mm or band))
                for d in room.doors
                if d.wall == wall.name
            )
            start = 0.0
            for a, b, _ in [*gaps, (length, length, band)]:
                if a > start + 1:
                    p, q = _on(wall, start), _on(wall, a)
                    far_p = outer[i][0] if start == 0.0 else (p[0] + n[0] * band, p[1] + n[1] * band)
                    far_q = beyond if a >= length else (q[0] + n[0] * band, q[1] + n[1] * band)
                    solid.append(Polygon((p, q, far_q, far_p)))
                    view.line(p, q, CUT)
                start = max(start, b)
            for a, b, deep in gaps:
                for t in (a, b):
                    p = _on(wall, t)
                    view.line(p, (p[0] + n[0] * deep, p[1] + n[1] * deep), CUT)
                p, q = _on(wall, a), _on(wall, b)
                view.line(p, q, DASHED)
        for p, q, far_q, far_p in (quad.shell for quad in solid):
            ends = clipped(_between(p, far_p), _between(q, far_q), view.reach)
            if ends:
                view.canvas.room.take_line(view.at(ends[0]), view.at(ends[1]), BAND_MM / 2, 0.5)
        view.hatch(_clear_of_rooms(solid, [r for r in plan.survey.rooms if r is not room]), 45, 2.0)


def _clear_of_rooms(solid: Sequence[Polygon], others: Sequence[RoomOutline]) -> list[Polygon]:
    """Walls without what would lie on the floor of rooms behind them."""
    near = [Polygon(r.ring) for r in others if r.joined or any(d.wall_mm is not None for d in r.doors)]
    return [part for wall in solid for part in without(wall, near)] if near else list(solid)


def _between(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def cut_outs(view: PlanView, plan: Drawn) -> None:
    """What is cut out of the floor: things that stay hatched, channels and drains outlined, all named."""
    for room in plan.survey.rooms:
        for cut in room.cut_outs:
            view.ring(cut.shape.shell, CUT)
            if cut.kind == "obstacle":
                view.hatch([cut.shape], 45, 2.0)
            elif cut.kind == "channel":
                view.hatch([cut.shape], 135, 1.5)
            else:
                x, y = view.at(label_point(cut.shape))
                view.canvas.strokes([((x - 2, y), (x + 2, y)), ((x, y - 2), (x, y + 2))])


def names(view: PlanView, plan: Drawn, doors: bool = True, off: Mapping[str, float] | None = None) -> None:
    """Names of walls, doors, free edges and cut-outs, outside the band, all upright.

    off: paper mm outside the band that marks and dimensions take on each side; names stand among them or beyond.
    """
    several = len(plan.survey.rooms) > 1
    small = several and view.scale > SEVERAL_AT
    for room in plan.survey.rooms:
        for wall in room.walls:
            for door in (d for d in room.doors if doors and d.wall == wall.name):
                mid = (_along(wall, door.line.a) + _along(wall, door.line.b)) / 2
                most = CROWDED if small else math.inf
                _beside(view, plan, wall, door_words(door), [mid / wall.line.length_mm], off, most)
    for room in plan.survey.rooms:
        for wall in room.walls:
            parts = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9]
            if small and wall.number > 1:
                continue
            words = room_words(room, wall) if several and not small else wall_words(wall)
            short = wall.line.length_mm / view.scale < SHORT_MM
            _beside(view, plan, wall, words, parts, off, CROWDED if short else math.inf)
        if small:
            p = label_point(Polygon(room.ring))
            if view.shows(p):
                x, y = view.at(p)
                spots = [Label(x, y + dy, room.name, NAME_MM, True) for dy in (0, -6, 6, -12, 12)]
                view.canvas.place(spots, clear=True)
        for cut in room.cut_outs:
            p = label_point(cut.shape)
            if view.shows(p):
                x, y = view.at(p)
                near = view.scale > SEVERAL_AT
                spots = [s for gap in GAPS_MM[: 2 if near else None] for s in _ring_of(x, y, cut.name, gap)]
                view.canvas.place(spots, CROWDED if near else math.inf, clear=True)


def _ring_of(x: float, y: float, text: str, gap: float) -> list[Label]:
    half = width(text, LEAST_MM) / 2
    base = y + 0.36 * LEAST_MM
    sides = [(x, base + gap), (x, base - gap), (x + gap + half, base), (x - gap - half, base)]
    return [Label(a, b, text) for a, b in sides]


def wall_words(wall: WallLine) -> tuple[str, ...]:
    return (wall.name, "free edge") if wall.free_edge else (wall.name,)


def room_words(room: RoomOutline, wall: WallLine) -> tuple[str, ...]:
    """Where rooms stand side by side wall 1, which is on top, also says whose walls these are."""
    return (room.name, *wall_words(wall)) if wall.number == 1 else wall_words(wall)


def door_words(door: Door) -> tuple[str, ...]:
    return wrapped(door.name, NAME_MM, 19.0)


def _beside(
    view: PlanView,
    plan: Drawn,
    wall: WallLine,
    lines: tuple[str, ...],
    parts: Sequence[float],
    off: Mapping[str, float] | None,
    most: float = math.inf,
) -> None:
    """Writes lines where they are free: near the wall, then beyond what stands outside it, then inside the room.

    Never on the far side of another wall, where they would name that one. Left out where they would lie on more than
    `most` mm² of something else.
    """
    nx, ny = outward(wall)
    wide = max(width(t, NAME_MM) for t in lines)
    step = 1.25 * NAME_MM
    high = step * len(lines)
    away = BAND_MM + 1.2 + abs(nx) * wide / 2 + abs(ny) * high / 2
    beyond = (off or {}).get(side_of(wall), 0.0)
    best, least = None, math.inf
    inside = BAND_MM + 1.2 - away - 3.0
    for reach in (away, away + beyond, inside):
        for part in parts:
            p = _on(wall, part * wall.line.length_mm)
            if not view.shows(p):
                continue
            there = (p[0] + nx * reach * view.scale, p[1] + ny * reach * view.scale)
            x, y = view.at(there)
            cost = view.canvas.room.cost((x - wide / 2 - 1, y - high / 2, x + wide / 2 + 1, y + high / 2), least)
            if cost < least and not _behind(plan, wall, p, there):
                best, least = (x, y), cost
            if cost == 0:
                break
        if least == 0:
            break
    if best and least <= most:
        for k, text in enumerate(lines):
            middle = best[1] - high / 2 + (k + 0.5) * step
            view.canvas.label(Label(best[0], middle + 0.36 * NAME_MM, text, NAME_MM), clear=True)


def _behind(plan: Drawn, wall: WallLine, start: Point, end: Point) -> bool:
    """Whether another wall stands between a wall and a place beside it."""
    way = Segment(start, end)
    return any(w is not wall and crossing(way, w.line) is not None for r in plan.survey.rooms for w in r.walls)


def side_of(wall: WallLine) -> str:
    """On which side of the paper what belongs to a wall stands: left, top, right or bottom."""
    nx, ny = outward(wall)
    return ("left" if nx < 0 else "right") if abs(nx) > abs(ny) else ("top" if ny < 0 else "bottom")
