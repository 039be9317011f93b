"""Bays: the floor cut along rails and joints, needles taken in by their neighbours, each with a name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from packgen.core.plane import (
    Point,
    Polygon,
    Segment,
    area,
    bounds,
    cells,
    common,
    edge_distance,
    label_point,
    perimeter,
    pieces_inside,
    together,
)
from packgen.layout.ground import SAME_MM, Run
from packgen.layout.model import Bay

FAR = 1e7
MEET_MM = 1e-3  # edges this near are one edge, and lengths that differ by less are equal


@dataclass(frozen=True, slots=True)
class Border:
    """A line that parts bays: right across the room, or only along its runs."""

    name: str
    at: float
    runs: tuple[Run, ...] | None


@dataclass(frozen=True, slots=True)
class Cell:
    """A piece of floor between the `column`-th and next upright border, and the `row`-th and next level one."""

    column: tuple[int, int]
    row: tuple[int, int]
    shape: Polygon


def make_bays(
    floor: Sequence[Polygon],
    lettered: Sequence[Border],
    numbered: Sequence[Border],
    breaks: Sequence[Segment],
    areas: Sequence[Sequence[Polygon]],
    needle_mm: float,
    slack_mm: float,
    room: str,
) -> tuple[Bay, ...]:
    """Bays that tile the floor. Borders in order; their shares meet on the rails' centre lines.

    breaks: joints, on both sides of which no bay may lie; areas: zones likewise
    slack_mm: how far before the edge of the floor a rail may end and still part a box
    """
    found = _boxes(floor, lettered, numbered)
    for index, border in enumerate(lettered):
        if border.runs is not None:
            found = [c for cell in found for c in _split(cell, border, index, 0, slack_mm)]
    for index, border in enumerate(numbered):
        if border.runs is not None:
            found = [c for cell in found for c in _split(cell, border, index, 1, slack_mm)]
    found = [c for cell, near in zip(found, _near(found, breaks), strict=True) for c in _parted_by(cell, near)]
    if areas:
        found = [c for cell in found for c in _by_area(cell, areas)]
    named = _named(found, lettered, numbered)
    return tuple(
        Bay(name, cell.shape, area(cell.shape) / 1e6, cell.column[0] + 1, cell.row[0] + 1, room, merged)
        for name, cell, merged in _without_needles(named, needle_mm)
    )


def _boxes(floor: Sequence[Polygon], lettered: Sequence[Border], numbered: Sequence[Border]) -> list[Cell]:
    """The floor cut by the borders that run right across. Column (i, j) lies between borders i and j of the list,
    -1 and the number of borders standing for the walls."""
    columns = [-1, *(i for i, b in enumerate(lettered) if b.runs is None), len(lettered)]
    rows = [-1, *(i for i, b in enumerate(numbered) if b.runs is None), len(numbered)]
    xs, ys = [lettered[i].at for i in columns[1:-1]], [numbered[i].at for i in rows[1:-1]]
    return [
        Cell((columns[i], columns[i + 1]), (rows[j], rows[j + 1]), shape)
        for part in floor
        for i, j, shape in cells(part, xs, ys)
    ]


def _split(cell: Cell, border: Border, index: int, side: int, slack: float) -> list[Cell]:
    """A box parted by a border that runs through the whole of it."""
    lo, hi = cell.column if side == 0 else cell.row
    if not lo < index < hi:
        return [cell]
    box = bounds(cell.shape)
    if not box[side] + SAME_MM < border.at < box[side + 2] - SAME_MM or border.runs is None:
        return [cell]
    from_, to = box[1 - side] - 1, box[3 - side] + 1
    line = Segment((border.at, from_), (border.at, to)) if side == 0 else Segment((from_, border.at), (to, border.at))
    for piece in pieces_inside(cell.shape, line):
        a, b = sorted((piece.a[1 - side], piece.b[1 - side]))
        if not any(run.lo - slack <= a and b <= run.hi + slack for run in border.runs):
            return [cell]
    below = _halfplane(line, -1 if side == 0 else 1)
    above = _halfplane(line, 1 if side == 0 else -1)
    out = []
    for half, span in ((below, (lo, index)), (above, (index, hi))):
        for shape in common(cell.shape, half):
            out.append(replace(cell, shape=shape, **{"column" if side == 0 else "row": span}))
    return out


def _halfplane(line: Segment, sign: int) -> Polygon:
    """A wide strip along one side of a line."""
    length = line.length_mm
    ux, uy = (line.b[0] - line.a[0]) / length, (line.b[1] - line.a[1]) / length
    a = (line.a[0] - ux * FAR, line.a[1] - uy * FAR)
    b = (line.a[0] + ux * FAR, line.a[1] + uy * FAR)
    nx, ny = sign * uy * FAR, -sign * ux * FAR
    return Polygon((a, b, (b[0] + nx, b[1] + ny), (a[0] + nx, a[1] + ny)))


def _near(found: Sequence[Cell], lines: Sequence[Segment]) -> list[list[Segment]]:
    """For each box the lines whose own box meets it."""
    boxes = np.array([bounds(c.shape) for c in found]).reshape(-1, 4)
    near: list[list[Segment]] = [[] for _ in found]
    for line in lines:
        (ax, ay), (bx, by) = line.a, line.b
        met = (boxes[:, 0] <= max(ax, bx)) & (boxes[:, 2] >= min(ax, bx))
        met &= (boxes[:, 1] <= max(ay, by)) & (boxes[:, 3] >= min(ay, by))
        for i in np.flatnonzero(met):
            near[i].append(line)
    return near


def _parted_by(cell: Cell, lines: Sequence[Segment]) -> list[Cell]:
    found = [cell]
    for line in lines:
        found = [c for part in found for c in _parted(part, line)]
    return found


def _parted(cell: Cell, joint: Segment) -> list[Cell]:
    """A box parted by a joint that runs through the whole of it, so that no bay lies on both sides."""
    x0, y0, x1, y1 = bounds(cell.shape)
    (ax, ay), (bx, by) = joint.a, joint.b
    if max(ax, bx) < x0 or min(ax, bx) > x1 or max(ay, by) < y0 or min(ay, by) > y1 or joint.length_mm == 0:
        return [cell]
    length = joint.length_mm
    ux, uy = (bx - ax) / length, (by - ay) / length
    reach = length + (x1 - x0) + (y1 - y0) + FAR / 1e3
    long = Segment((ax - ux * reach, ay - uy * reach), (ax + ux * reach, ay + uy * reach))
    wanted = sum(s.length_mm for s in pieces_inside(cell.shape, long))
    covered = sum(s.length_mm for s in pieces_inside(cell.shape, joint))
    if covered < wanted - 1e-3 or wanted < 1e-3:
        return [cell]
    halves = [shape for sign in (-1, 1) for shape in common(cell.shape, _halfplane(joint, sign))]
    return [replace(cell, shape=shape) for shape in halves] if len(halves) > 1 else [cell]


def _by_area(cell: Cell, areas: Sequence[Sequence[Polygon]]) -> list[Cell]:
    """A box parted into what lies in each area; an area is given as boxes, and all of them cover the floor."""
    x0, y0, x1, y1 = bounds(cell.shape)
    found = []
    for boxes in areas:
        parts: list[Polygon] = []
        for shape in boxes:
            a, b, c, d = bounds(shape)
            if a <= x0 and b <= y0 and c >= x1 and d >= y1:
                return [cell]
            if a < x1 and c > x0 and b < y1 and d > y0:
                parts += common(cell.shape, shape)
        found += [replace(cell, shape=part) for part in together(parts)] if parts else []
    return found


# --------------------------------------------------------------------------------- names


def _named(found: Iterable[Cell], lettered: Sequence[Border], numbered: Sequence[Border]) -> list[tuple[str, Cell]]:
    boxes: dict[tuple[tuple[int, int], tuple[int, int]], list[Cell]] = {}
    for cell in found:
        boxes.setdefault((cell.row, cell.column), []).append(cell)
    out = []
    for row, column in sorted(boxes):
        pieces = sorted(boxes[row, column], key=lambda c: _first_corner(c.shape))
        name = f"{_between(lettered, column)}-{_between(numbered, row)}"
        for k, cell in enumerate(pieces):
            out.append((name if len(pieces) == 1 else f"{name}{_small(k)}", cell))
    return out


def _first_corner(p: Polygon) -> tuple[float, float, tuple[Point, ...]]:
    x0, y0, _, _ = bounds(p)
    return (round(y0, 3), round(x0, 3), p.shell)


def _between(borders: Sequence[Border], span: tuple[int, int]) -> str:
    before = borders[span[0]].name if span[0] >= 0 else "w"
    after = borders[span[1]].name if span[1] < len(borders) else "w"
    return f"{before}{after}" if len(before) == len(after) == 1 else f"{before}/{after}"


def _small(k: int) -> str:
    return "abcdefghjkmnpqrstuvxyz"[k] if k < 22 else f"z{k}"


# --------------------------------------------------------------------------------- needles


def _without_needles(named: Sequence[tuple[str, Cell]], needle: float) -> list[tuple[str, Cell, tuple[str, ...]]]:
    """Gives every bay that is too narrow to fill by itself to a neighbour across a rail, narrowest in area first.

    The neighbour is one that is no needle itself if there is such a one, with the longest common side. A bay never
    goes to one in the same box: those are parted by a joint or a cut-out.
    """
    held: dict[int, tuple[str, Cell, tuple[str, ...]]] = {i: (n, c, ()) for i, (n, c) in enumerate(named)}
    thin = {i for i, (_, c, _) in held.items() if _is_needle(c.shape, needle)}
    boxes = [{(c.column, c.row)} for _, c in named]
    around = np.array([bounds(c.shape) for _, c in named]).reshape(-1, 4)
    for i in sorted(thin, key=lambda i: (round(area(held[i][1].shape), 3), i)):
        name, cell, merged = held[i]
        options = [j for j in _touching(around, i) if j in held and not boxes[i] & boxes[j]]
        options.sort(key=lambda j: (j in thin, -round(_facing(around[i], around[j]), 3), j))
        union, j = None, -1
        for j in options:
            if (union := _as_one(cell.shape, held[j][1].shape)) is not None:
                break
        if union is None:
            continue
        other, into, taken = held[j]
        held[j] = (other, replace(into, shape=union), (*taken, name, *merged))
        del held[i]
        boxes[j] |= boxes[i]
        around[j] = bounds(union)
        if j in thin and not _is_needle(union, needle):
            thin.discard(j)
    return [held[i] for i in sorted(held)]


def _touching(around: np.ndarray, i: int) -> list[int]:
    """Bays whose outer box meets that of bay i."""
    x0, y0, x1, y1 = around[i]
    hit = (around[:, 0] <= x1 + MEET_MM) & (around[:, 2] >= x0 - MEET_MM)
    hit &= (around[:, 1] <= y1 + MEET_MM) & (around[:, 3] >= y0 - MEET_MM)
    return [int(j) for j in np.nonzero(hit)[0] if j != i]


def _is_needle(p: Polygon, needle: float) -> bool:
    """Whether no circle as wide as the least bay fits in."""
    x0, y0, x1, y1 = bounds(p)
    if min(x1 - x0, y1 - y0) < needle:
        return True
    if len(p.shell) == 4 and not p.holes and abs(area(p) - (x1 - x0) * (y1 - y0)) < 1.0:
        return False
    return 2 * edge_distance(p, label_point(p)) < needle


def _facing(a: np.ndarray, b: np.ndarray) -> float:
    """How long two outer boxes lie side by side."""
    return float(max(min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])))


def _as_one(p: Polygon, q: Polygon, least_mm: float = 1.0) -> Polygon | None:
    """Both as one outline; None where they meet in no side, or leave a gap."""
    union = together((p, q))
    if len(union) != 1 or _around(p) + _around(q) - _around(union[0]) < 2 * least_mm:
        return None
    return union[0]


def _around(p: Polygon) -> float:
    return perimeter(p.shell) + sum(perimeter(h) for h in p.holes)
