"""In which order the bays are filled, so that people always have a dry way out.

Bays are taken row by row, rows lying across the way to the main door. A row may be filled when all that is left open
without it still hangs together and reaches the door; of the rows that may, one beside the last filled comes first,
else the farthest. Inside a row the bays are found backwards from what stays open, so that each has a dry neighbour.
"""

from __future__ import annotations

import heapq
import math
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packgen.sequence.ways_out import Exit, Ground


@dataclass(frozen=True, slots=True)
class BayOrder:
    """order: all bays by index, first filled first.

    next_open   for each bay the neighbour, filled later, on its way out; None at an exit or where trapped
    leaves_by   for each bay the index of its exit; None where trapped
    trapped     bays that no order can serve
    by_reach    corners too small to stand in, filled from the neighbour
    """

    order: tuple[int, ...]
    next_open: tuple[int | None, ...]
    leaves_by: tuple[int | None, ...]
    trapped: tuple[int, ...]
    by_reach: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """What is filled, by bay: litres and the fill's name; `day_l` is about what a day takes.

    straight: bays whose row is worked from one end to the other, because a day ends in it
    """

    litres: tuple[float, ...]
    fills: tuple[str, ...]
    day_l: float
    straight: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class _Open:
    """The open floor while it grows backwards: for each bay in it the next bay to the exit and the steps to go."""

    next_open: dict[int, int | None]
    steps_to_go: dict[int, int]


@dataclass(frozen=True, slots=True)
class _Row:
    """Bays of one row that hang together, from one end to the other, each led by the strips filled with it."""

    groups: tuple[tuple[int, ...], ...]
    litres: float
    fill: str

    @property
    def bays(self) -> tuple[int, ...]:
        return tuple(i for group in self.groups for i in group)


def order_bays(ground: Ground, rooms: Sequence[str], load: Load, small_m2: float) -> BayOrder:
    """The order of all bays: rooms one after the other as given, each filled towards its main way out.

    A row longer than a day is worked from one end to the other; a corner of up to `small_m2` that nobody can step
    into is filled from its neighbour.
    """
    grown = _Open({}, {})
    leaves_by: list[int | None] = [None] * len(ground.bays)
    order: list[int] = []
    alone: list[list[int]] = []
    for room in rooms:
        served = []
        for part in _pieces([i for i, b in enumerate(ground.bays) if b.room == room], ground.steps):
            inside = set(part)
            ways = [k for k, e in enumerate(ground.exits) if inside & set(e.bays)]
            if ways:
                main = min(ways, key=lambda k: (not ground.exits[k].main, k))
                served.append((ground.exits[main].main, part, main))
            else:
                alone.append(part)
        for _, part, way in sorted(served):
            order += _order_part(ground, part, ground.exits[way], load, grown)
            for bay in part:
                leaves_by[bay] = way
    by_reach, trapped = _corners(ground, alone, order, small_m2, grown, leaves_by)
    next_open = tuple(grown.next_open.get(i) for i in range(len(ground.bays)))
    return BayOrder((*trapped, *order), next_open, tuple(leaves_by), tuple(trapped), tuple(by_reach))


def _pieces(bays: Sequence[int], steps: Sequence[Sequence[int]]) -> list[list[int]]:
    """Bays in groups that hang together among themselves, each group sorted."""
    left = set(bays)
    out = []
    for start in bays:
        if start not in left:
            continue
        left.discard(start)
        group, queue = [start], deque([start])
        while queue:
            for n in steps[queue.popleft()]:
                if n in left:
                    left.discard(n)
                    group.append(n)
                    queue.append(n)
        out.append(sorted(group))
    return out


# --------------------------------------------------------------------------------- rows


def _order_part(ground: Ground, part: Sequence[int], way: Exit, load: Load, grown: _Open) -> list[int]:
    """One connected part, filled towards one way out: lane by lane, each from its far end."""
    inside = set(part)
    last_bay = next(b for b in way.bays if b in inside)
    lanes = _lanes(ground, part, way, load)
    lane_at_door = next(k for k, lane in enumerate(lanes) if last_bay in lane.bays)
    backward: list[int] = []
    for k in reversed(_order_rows(ground, lanes, _beside(ground, lanes), lane_at_door)):
        rows = _rows(ground, lanes[k].bays, way, load)
        door = _row_at_door(ground, rows, way, last_bay, grown)
        for r in reversed(_order_rows(ground, rows, _beside(ground, rows), door)):
            wanted = _wanted(ground, rows[r], way, load, ends_first=len(lanes) == 1)
            backward += _grow(ground, wanted, last_bay if last_bay in rows[r].bays else None, grown)
    return backward[::-1]


def _beside(ground: Ground, rows: Sequence[_Row]) -> list[list[int]]:
    """For each row the rows that a person can step to from it."""
    row_of = {bay: r for r, row in enumerate(rows) for bay in row.bays}
    return [
        sorted({row_of[n] for b in row.bays for n in ground.steps[b] if n in row_of} - {r})
        for r, row in enumerate(rows)
    ]


def _row_at_door(ground: Ground, rows: Sequence[_Row], way: Exit, last_bay: int, grown: _Open) -> int:
    """The row with the last bay in it; in a lane beside open floor the row that touches it nearest the way out."""
    return min(
        range(len(rows)),
        key=lambda r: (
            last_bay not in rows[r].bays,
            not any(n in grown.steps_to_go for b in rows[r].bays for n in ground.steps[b]),
            min(round(math.dist(ground.middles[b], way.middle), 3) for b in rows[r].bays),
            r,
        ),
    )


def _along_x(way: Exit) -> bool:
    """Whether rows lie along x: along the wall of the way out."""
    (ax, ay), (bx, by) = way.line.a, way.line.b
    return abs(bx - ax) >= abs(by - ay)


def _lanes(ground: Ground, part: Sequence[int], way: Exit, load: Load) -> list[_Row]:
    """The part as it is, or, where a row is more than a day, in lanes across the rows.

    A lane is about as wide as a day's fill is long, so that what is closed of an evening is short.
    """
    rows = _rows(ground, part, way, load)
    if max(row.litres for row in rows) <= load.day_l:
        return [_Row((tuple(part),), sum(row.litres for row in rows), rows[0].fill)]
    along_x = _along_x(way)
    area = sum(ground.bays[i].area_m2 for i in part)
    wide = math.sqrt(load.day_l * area / sum(load.litres[i] for i in part)) * 1000
    places = [ground.middles[i][0 if along_x else 1] for i in part]
    count = max(1, round((max(places) - min(places)) / wide))
    columns = sorted({_column(ground, i, along_x) for i in part})
    lane_of = {c: k * count // len(columns) for k, c in enumerate(columns)}
    found: dict[tuple[int, str], list[int]] = {}
    for i in part:
        found.setdefault((lane_of[_column(ground, i, along_x)], load.fills[i]), []).append(i)
    return [
        _Row((tuple(piece),), sum(load.litres[i] for i in piece), fill)
        for (_, fill), bays in sorted(found.items())
        for piece in _pieces(bays, ground.steps)
    ]


def _column(ground: Ground, bay: int, along_x: bool) -> int:
    host = ground.bays[ground.hosts[bay]]
    return host.column if along_x else host.row


def _rows(ground: Ground, part: Sequence[int], way: Exit, load: Load) -> list[_Row]:
    """The part in rows along the wall of the way out; a row is parted where it does not hang together."""
    along_x = _along_x(way)
    found: dict[tuple[int, str], list[int]] = {}
    for i in part:
        found.setdefault((_column(ground, i, not along_x), load.fills[i]), []).append(i)
    out = []
    for (_, fill), bays in sorted(found.items()):
        for piece in _pieces(bays, ground.steps):
            groups: dict[int, list[int]] = {}
            for i in piece:
                groups.setdefault(ground.hosts[i], []).append(i)
            hosts = sorted(groups, key=lambda h: (ground.middles[h][0 if along_x else 1], h))
            ranked = tuple((*sorted(i for i in groups[h] if i != h), *(i for i in groups[h] if i == h)) for h in hosts)
            out.append(_Row(ranked, sum(load.litres[i] for i in piece), fill))
    return out


def _order_rows(ground: Ground, rows: Sequence[_Row], beside: Sequence[Sequence[int]], door: int) -> list[int]:
    """Rows in the order they are filled; what is left always hangs together with the row at the door."""
    away = _rows_away(beside, door)
    middles = [ground.middles[row.bays[len(row.bays) // 2]] for row in rows]
    left = set(range(len(rows)))
    out: list[int] = []
    while len(left) > 1:
        last = out[-1] if out else None

        def rank(r: int, last: int | None = last) -> tuple[float, ...]:
            if last is None:
                return (-away[r], -math.dist(middles[r], middles[door]), r)
            same_fill, near = rows[r].fill == rows[last].fill, last in beside[r]
            return (not same_fill, not near, -away[r], math.dist(middles[r], middles[last]), r)

        choice = next(r for r in sorted(left - {door}, key=rank) if _may_go(r, left, beside, door))
        left.discard(choice)
        out.append(choice)
    return [*out, *left]


def _rows_away(beside: Sequence[Sequence[int]], door: int) -> list[int]:
    """How many rows each row lies from the door's."""
    away = {door: 0}
    queue = deque([door])
    while queue:
        r = queue.popleft()
        for n in beside[r]:
            if n not in away:
                away[n] = away[r] + 1
                queue.append(n)
    return [away[r] for r in range(len(beside))]


def _may_go(row: int, left: set[int], beside: Sequence[Sequence[int]], door: int) -> bool:
    """Whether the rows left still hang together without this one."""
    if sum(n in left for n in beside[row]) <= 1:
        return True
    seen, queue = {door}, deque([door])
    while queue:
        for n in beside[queue.popleft()]:
            if n in left and n != row and n not in seen:
                seen.add(n)
                queue.append(n)
    return len(seen) == len(left) - 1


# --------------------------------------------------------------------------------- bays of a row


def _wanted(ground: Ground, row: _Row, way: Exit, load: Load, *, ends_first: bool) -> list[int]:
    """A row's bays as one would fill them: both ends first, then from the far end; or end to end."""
    groups = list(row.groups)
    if math.dist(ground.middles[groups[-1][-1]], way.middle) > math.dist(ground.middles[groups[0][-1]], way.middle):
        groups.reverse()
    if ends_first and len(groups) > 2 and load.straight.isdisjoint(row.bays):
        groups = [groups[0], groups[-1], *groups[1:-1]]
    return [bay for group in groups for bay in group]


def _grow(ground: Ground, wanted: Sequence[int], last_bay: int | None, grown: _Open) -> list[int]:
    """Adds a row's bays to the open floor, last filled first; each must touch what is open already."""
    rank = {bay: k for k, bay in enumerate(wanted)}
    if last_bay is not None:
        ready = [(-rank[last_bay], last_bay)]
    else:
        ready = [(-rank[b], b) for b in wanted if any(n in grown.steps_to_go for n in ground.steps[b])]
    heapq.heapify(ready)
    added: list[int] = []
    while ready:
        bay = heapq.heappop(ready)[1]
        if bay in grown.steps_to_go:
            continue
        nearest = min(
            (n for n in ground.steps[bay] if n in grown.steps_to_go),
            key=lambda n: (grown.steps_to_go[n], n),
            default=None,
        )
        grown.next_open[bay] = nearest
        grown.steps_to_go[bay] = 0 if nearest is None else grown.steps_to_go[nearest] + 1
        added.append(bay)
        for n in ground.steps[bay]:
            if n in rank and n not in grown.steps_to_go:
                heapq.heappush(ready, (-rank[n], n))
    return added


# --------------------------------------------------------------------------------- what nobody can step into


def _corners(
    ground: Ground,
    alone: Sequence[list[int]],
    order: list[int],
    small_m2: float,
    grown: _Open,
    leaves_by: list[int | None],
) -> tuple[list[int], list[int]]:
    """Puts each small corner before the neighbour it is filled from; the rest is trapped."""
    beside: dict[int, list[tuple[float, int]]] = {}
    for link in ground.links:
        beside.setdefault(link.first, []).append((-link.shared_mm, link.second))
        beside.setdefault(link.second, []).append((-link.shared_mm, link.first))
    small = [k for k, part in enumerate(alone) if sum(ground.bays[i].area_m2 for i in part) <= small_m2]
    part_of = {i: k for k in small for i in alone[k]}
    placed = set(order)
    ready = [k for k in small if any(n in placed for i in alone[k] for _, n in beside.get(i, ()))]
    before: dict[int, list[int]] = {}
    by_reach: list[int] = []
    while ready:
        k = heapq.heappop(ready)
        if alone[k][0] in placed:
            continue
        host = min((far, n) for i in alone[k] for far, n in beside.get(i, ()) if n in placed)[1]
        before.setdefault(host, []).extend(alone[k])
        by_reach += alone[k]
        placed |= set(alone[k])
        for bay in alone[k]:
            grown.next_open[bay] = host
            leaves_by[bay] = leaves_by[host]
            for _, n in beside.get(bay, ()):
                if n in part_of and n not in placed:
                    heapq.heappush(ready, part_of[n])
    order[:] = [bay for host in order for bay in _with_corners(host, before)]
    return by_reach, sorted(i for part in alone for i in part if i not in placed)


def _with_corners(host: int, before: Mapping[int, list[int]]) -> list[int]:
    """A bay after the corners that are filled from it, and those that are filled from them."""
    todo, out = [host], []
    while todo:
        bay = todo.pop()
        out.append(bay)
        todo += before.get(bay, ())
    return out[::-1]
