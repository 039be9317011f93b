"""Where the staff is set on a base that nobody has read: a grid, and what a grid misses.

All points stand at crossings of columns and rows, because that is how the project file takes readings.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from packgen.core.figures import half_up
from packgen.core.plane import Point, Segment, bounds, contains, edge_distance
from packgen.survey.fieldwork_model import Named, StaffPoint
from packgen.survey.model import Door, RoomOutline, WallLine
from packgen.trade.survey import Points

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # I and O are read as figures
BESIDE = "beside the "  # an edge of the base
WHOLE_MM = 10.0  # places are marked with a tape: tens of mm


@dataclass(frozen=True, slots=True)
class Grid:
    """How the room is covered: spacing of the points and where the first column and row stand, mm.

    module_mm: distance of the legs, None where the file does not say; points stay on their lines where they can.
    """

    spacing_mm: float
    first_mm: tuple[float, float]
    module_mm: float | None = None


@dataclass
class _Net:
    """Columns and rows found so far, and what is read where they cross."""

    outline: RoomOutline
    rule: Points
    columns: list[float]
    rows: list[float]
    spots: dict[Point, list[str]] = field(default_factory=dict)

    def free(self, at: Point) -> bool:
        """Whether a staff can stand there."""
        if at[0] <= 0 or at[1] <= 0:
            return False
        return any(contains(p, at, 0.0) and edge_distance(p, at) >= self.rule.clear_mm for p in self.outline.floor)

    def read(self, at: Point, why: str = "") -> None:
        reasons = self.spots.setdefault(at, [])
        if why and why not in reasons:
            reasons.append(why)

    def near(self, at: Point, within_mm: float) -> Point | None:
        """The spot that is nearest, if one is near enough."""
        close = [s for s in self.spots if math.dist(s, at) <= within_mm]
        return min(close, key=lambda s: (math.dist(s, at), s), default=None)

    def serve(self, at: Point, why: str, keep: Point | None = None, beside: Segment | None = None) -> None:
        """Reads a spot near a place: where a column and a row pass near, else where new ones are laid through it.

        keep: one coordinate is that of a line of the grid, (x, 0) or (0, y), and is not moved. beside: a line that the
        spot must not cross. A place a little left of corner 1 or behind wall 1 is served from this side of it.
        """
        reach = (max(at[0], self.rule.from_wall_mm), max(at[1], self.rule.from_wall_mm))
        if math.dist(at, reach) > 2 * self.rule.near_mm:
            return
        own = (_tens(reach[0]), _tens(reach[1]))
        choices = []
        for x, y in itertools.product(_near(self.columns, own[0], self.rule), _near(self.rows, own[1], self.rule)):
            if keep and ((keep[0] and x != keep[0]) or (keep[1] and y != keep[1])):
                continue
            if beside is not None and _side(beside, (x, y)) * _side(beside, at) <= 0:
                continue
            new = (x not in self.columns) + (y not in self.rows)
            choices.append((new, math.dist((x, y), at), (x, y)))
        for _, _, spot in sorted(choices):
            if self.free(spot):
                for line, mm in ((self.columns, spot[0]), (self.rows, spot[1])):
                    if mm not in line:
                        line.append(mm)
                self.read(spot, why)
                return


def staff_points(
    outline: RoomOutline,
    edges: Iterable[tuple[Segment, str]],
    grid: Grid,
    rule: Points,
    taken: tuple[int, int] = (0, 0),
) -> tuple[Named, Named, tuple[StaffPoint, ...]]:
    """Columns, rows and points of a room whose corner 1 is at (0, 0); points row by row.

    edges: where one slab ends and another begins, with the reason to print: both sides are read.
    taken: so many names of columns and rows are used up by other rooms.
    """
    xs, ys = [x for x, _ in outline.corners], [y for _, y in outline.corners]
    base_x = _spread(grid.first_mm[0], max(xs) - rule.from_wall_mm, grid, rule)
    base_y = _spread(grid.first_mm[1], max(ys) - rule.from_wall_mm, grid, rule)
    net = _Net(outline, rule, list(base_x), list(base_y))
    for spot in itertools.product(base_x, base_y):
        if net.free(spot):
            net.read(spot)
    _corners(net)
    for wall in outline.walls:
        _along(net, wall.line, (1,), base_x, base_y, "")
    for door in outline.doors:
        _door(net, door)
    _stands(net)
    for line, why in edges:
        _along(net, line, (1, -1), base_x, base_y, why, ends=True)
    for axis, fixed in ((0, base_x[:-1]), (1, base_y[:-1])):
        _merge(net, axis, fixed)
    return _named(net, taken)


def _spread(first: float, last: float, grid: Grid, rule: Points) -> tuple[float, ...]:
    """Places from first to last, none farther apart than the grid allows, and no crumb of a gap at the end."""
    last = math.floor(last / WHOLE_MM) * WHOLE_MM
    if last - first < rule.near_mm:
        return (_tens((first + last) / 2),)
    at = [first]
    while last - at[-1] > grid.spacing_mm:
        at.append(at[-1] + grid.spacing_mm)
    if len(at) > 1 and last - at[-1] < rule.last_gap_mm:
        middle = (at[-2] + last) / 2
        module = grid.module_mm or WHOLE_MM
        at[-1] = at[-2] + max(1.0, half_up((middle - at[-2]) / module)) * module
        if max(at[-1] - at[-2], last - at[-1]) > grid.spacing_mm:
            at[-1] = _tens(middle)
    return (*at, last)


def _tens(mm: float) -> float:
    return half_up(mm / WHOLE_MM) * WHOLE_MM


def _near(lines: Sequence[float], at: float, rule: Points) -> list[float]:
    return sorted({at, *(mm for mm in lines if abs(mm - at) <= rule.near_mm)})


def _inward(s: Segment) -> Point:
    """Unit vector into the room: the walker has the inside on the right."""
    d = s.length_mm
    return (-(s.b[1] - s.a[1]) / d, (s.b[0] - s.a[0]) / d)


def _side(line: Segment, at: Point) -> float:
    """On which side of a line a place lies: above 0 on its right, below 0 on its left."""
    return (line.b[0] - line.a[0]) * (at[1] - line.a[1]) - (line.b[1] - line.a[1]) * (at[0] - line.a[0])


def _corners(net: _Net) -> None:
    walls: Sequence[WallLine] = net.outline.walls
    for i, wall in enumerate(walls):
        (px, py), (nx, ny) = _inward(walls[i - 1].line), _inward(wall.line)
        k = net.rule.from_wall_mm / max(0.35, 1 + px * nx + py * ny)
        x, y = wall.line.a
        net.serve((x + (px + nx) * k, y + (py + ny) * k), f"corner {wall.number}")


def _along(
    net: _Net,
    line: Segment,
    sides: Iterable[int],
    columns: Sequence[float],
    rows: Sequence[float],
    why: str,
    ends: bool = False,
) -> None:
    """Spots beside a straight piece where the lines of the grid meet it.

    ends: also at its ends, and no spot on its other side serves: it is a joint, not a wall.
    """
    (ax, ay), (bx, by) = line.a, line.b
    steep = abs(by - ay) > abs(bx - ax)
    nx, ny = _inward(line)
    off, rule = net.rule.from_wall_mm, net.rule
    meets: list[tuple[Point, Point]] = []
    for mm in rows if steep else columns:
        a, b = (ay, by) if steep else (ax, bx)
        if min(a, b) + off < mm < max(a, b) - off:
            t = (mm - a) / (b - a)
            meets.append(((ax + t * (bx - ax), ay + t * (by - ay)), (0.0, mm) if steep else (mm, 0.0)))
    for (x, y), keep in meets:
        for side in sides:
            # so far across the line that the spot is `off` away from it, measured square
            across = off / abs(nx if steep else ny) * math.copysign(1.0, (nx if steep else ny) * side)
            spot = (x + across, y) if steep else (x, y + across)
            if why or net.near(spot, 2 * rule.near_mm) is None:
                net.serve(spot, why, keep, line if ends else None)
    if ends:
        length = line.length_mm
        ux, uy = (bx - ax) / length, (by - ay) / length
        for at in (off, length - off):
            for side in sides:
                spot = (ax + ux * at + nx * off * side, ay + uy * at + ny * off * side)
                net.serve(spot, why, beside=line)


def _door(net: _Net, door: Door) -> None:
    """A spot just inside the opening: one that is there already, or a new one in its middle."""
    (ax, ay), (bx, by) = door.line.a, door.line.b
    wide = door.line.length_mm
    ux, uy = (bx - ax) / wide, (by - ay) / wide
    nx, ny = _inward(door.line)
    inside = []
    for x, y in net.spots:
        along, into = (x - ax) * ux + (y - ay) * uy, (x - ax) * nx + (y - ay) * ny
        if net.rule.from_wall_mm <= along <= wide - net.rule.from_wall_mm and 0 <= into <= net.rule.near_mm:
            inside.append((abs(along - wide / 2), (x, y)))
    if inside:
        net.read(min(inside)[1], door.name)
        return
    off = net.rule.from_wall_mm
    net.serve((ax + ux * wide / 2 + nx * off, ay + uy * wide / 2 + ny * off), door.name)


def _stands(net: _Net) -> None:
    """Round what stands in the room: off its four corners, where the floor is."""
    for cut in net.outline.cut_outs:
        if cut.kind == "obstacle":
            x0, y0, x1, y1 = bounds(cut.shape)
            off = net.rule.from_wall_mm
            for x, y in itertools.product((x0 - off, x1 + off), (y0 - off, y1 + off)):
                if net.free((x, y)):
                    net.serve((x, y), f"beside {cut.name}")


def _merge(net: _Net, axis: int, fixed: Sequence[float]) -> None:
    """Two columns (or rows) nearer than a staff to its wall become one, where a staff can stand on all their spots."""
    lines = sorted({s[axis] for s in net.spots})
    for first, second in itertools.pairwise(lines):
        if second - first > net.rule.from_wall_mm:
            continue
        for old, new in ((first, second), (second, first)):
            on_old = [s for s in net.spots if s[axis] == old]
            if any(why.startswith(BESIDE) for s in on_old for why in net.spots[s]):
                continue
            moved = [(new, s[1]) if axis == 0 else (s[0], new) for s in on_old]
            if old not in fixed and all(net.free(s) for s in moved):
                for was, now in zip(on_old, moved, strict=True):
                    for why in net.spots.pop(was) or [""]:
                        net.read(now, why)
                break


def _named(net: _Net, taken: tuple[int, int]) -> tuple[Named, Named, tuple[StaffPoint, ...]]:
    columns = sorted({x for x, _ in net.spots})
    rows = sorted({y for _, y in net.spots})
    letters = dict(zip(columns, itertools.islice(letter_names(), taken[0], None), strict=False))
    figures = {y: str(taken[1] + n) for n, y in enumerate(rows, 1)}
    points = tuple(
        StaffPoint(f"{letters[x]}{figures[y]}", letters[x], figures[y], x, y, ", ".join(net.spots[(x, y)]))
        for x, y in sorted(net.spots, key=lambda s: (s[1], s[0]))
    )
    return tuple((letters[x], x) for x in columns), tuple((figures[y], y) for y in rows), points


def letter_names() -> Iterator[str]:
    """A, B … Z, AA, AB …, without I and O.

    >>> list(itertools.islice(letter_names(), 22, 26))
    ['Y', 'Z', 'AA', 'AB']
    """
    for size in itertools.count(1):
        for letters in itertools.product(LETTERS, repeat=size):
            yield "".join(letters)
