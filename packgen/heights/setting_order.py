"""The order in which legs are set: masters by laser, line by line from the door, then the rest by straightedge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point
from packgen.heights.straightedge import Laid, Reach, lay_along, reach_for
from packgen.layout.model import Layout, Line, Node
from packgen.survey.model import RoomOutline
from packgen.trade.grid_rules import value

Kind = Literal["lettered", "numbered"]


@dataclass(frozen=True, slots=True)
class Turn:
    """Place of one node in the setting order, from 1."""

    order: int
    set_with: Literal["laser", "straightedge"]
    along: str


@dataclass(frozen=True)
class SettingOrder:
    turns: dict[str, Turn]
    laid: tuple[Laid, ...]
    reach: Reach


@dataclass(frozen=True)
class _Room:
    """What ordering one room needs: its nodes on each line, which of them a straightedge may join, where one stands."""

    nodes: tuple[Node, ...]
    lines: tuple[Line, ...]
    on: Mapping[str, list[tuple[float, Node]]]  # nodes of a line by their distance along it
    joined: frozenset[tuple[str, str]]
    with_rails: frozenset[str]
    plane: Mapping[str, int]
    door: Point
    first: Kind
    module: float

    def runs(self, line: Line) -> list[list[tuple[float, str]]]:
        """Nodes of a line cut where a wall, a cut-out or another rail top lies between."""
        out: list[list[tuple[float, str]]] = []
        before: tuple[float, Node] | None = None
        for far, node in self.on[line.name]:
            if before is None or not self._one_run(line, before, (far, node)):
                out.append([])
            out[-1].append((far, node.id))
            before = (far, node)
        return out

    def _one_run(self, line: Line, a: tuple[float, Node], b: tuple[float, Node]) -> bool:
        if self.plane[a[1].id] != self.plane[b[1].id]:
            return False
        if (a[1].id, b[1].id) in self.joined or (b[1].id, a[1].id) in self.joined:
            return True
        gap = b[0] - a[0]
        if a[1].why == b[1].why == "joint" and gap < value("joint_gap") * self.module:
            return True
        return line.name not in self.with_rails and gap <= value("open_gap") * self.module


def find_order(
    layout: Layout, rooms: Sequence[RoomOutline], plane: Mapping[str, int], module_mm: float
) -> SettingOrder:
    """Setting order of all nodes, room by room.

    plane: for each node which flat rail top it belongs to; a straightedge never bridges two of them
    """
    reach = reach_for(module_mm)
    turns: dict[str, Turn] = {}
    laid: list[Laid] = []
    joined = frozenset((a, b) for r in layout.rails for a, b in zip(r.nodes, r.nodes[1:], strict=False))
    for room in rooms:
        nodes = tuple(n for n in layout.nodes if n.room == room.name)
        names = {name for n in nodes for name in n.lines}
        mine = (x for x in layout.lines if x.name in names and x.room in ("", room.name))
        lines = tuple(sorted(mine, key=lambda x: (x.at_mm, x.name)))
        door, first = _start(room)
        rails = frozenset(r.line for r in layout.rails if r.room == room.name)
        inside = _Room(nodes, lines, _on_lines(nodes, lines), joined, rails, plane, door, first, module_mm)
        _order_room(inside, reach, turns, laid)
    for n in layout.nodes:
        turns.setdefault(n.id, Turn(len(turns) + 1, "laser", n.lines[0] if n.lines else ""))
    return SettingOrder(turns, tuple(laid), reach)


def _on_lines(nodes: Sequence[Node], lines: Sequence[Line]) -> dict[str, list[tuple[float, Node]]]:
    along = {line.name: 1 if line.kind == "lettered" else 0 for line in lines}
    on: dict[str, list[tuple[float, Node]]] = {line.name: [] for line in lines}
    for n in nodes:
        for name in n.lines:
            on[name].append((n.at[along[name]], n))
    return {name: sorted(row, key=lambda p: (p[0], p[1].id)) for name, row in on.items()}


def _start(room: RoomOutline) -> tuple[Point, Kind]:
    """Where setting starts: the door whose level is the datum's, else the first door, else corner 1; and which lines
    run away from there."""
    doors = sorted(room.doors, key=lambda d: (d.meets_mm is None, abs(d.meets_mm or 0.0)))
    if not doors:
        return room.corners[0], "lettered"
    (ax, ay), (bx, by) = doors[0].line.a, doors[0].line.b
    return ((ax + bx) / 2, (ay + by) / 2), "lettered" if abs(bx - ax) >= abs(by - ay) else "numbered"


def _order_room(room: _Room, reach: Reach, turns: dict[str, Turn], laid: list[Laid]) -> None:
    along = [x for x in room.lines if x.kind == room.first]
    across = [x for x in room.lines if x.kind != room.first]
    door_across = room.door[0 if room.first == "lettered" else 1]
    door_along = room.door[1 if room.first == "lettered" else 0]
    walk = _outward(along, door_across)
    chosen = _with_end_lines(room, along, across, reach)
    crossing = _every(across, reach.every)
    masters = {n.id for n in room.nodes if len(n.lines) > 1 and chosen & set(n.lines) and crossing & set(n.lines)}
    known = set(masters)
    steps: list[tuple[Line, Laid]] = []
    stages = (
        [x for x in walk if x.name in chosen],
        sorted(across, key=lambda x: (abs(x.at_mm - door_along), x.at_mm)),
        [x for x in walk if x.name not in chosen],
    )
    for stage in stages:
        backwards = _backwards(stage, along, room, door_along, door_across)
        for line in stage:
            found: list[Laid] = []
            for run in room.runs(line):
                if all(node in known for _, node in run):
                    continue
                added, edges = lay_along(run, known, reach)
                masters |= set(added)
                known |= {node for _, node in run}
                found += edges
            steps += [(line, edge) for edge in (reversed(found) if backwards else found)]
            backwards = not backwards
    _number_masters(room, walk, masters, door_along, turns)
    for line, edge in steps:
        for node in edge.sets:
            turns[node] = Turn(len(turns) + 1, "straightedge", line.name)
        laid.append(edge)


def _with_end_lines(room: _Room, along: Sequence[Line], across: Sequence[Line], reach: Reach) -> AbstractSet[str]:
    """Every n-th line that is walked, and those at which several cross lines end: beside a joint, an inner wall.

    Without them each of those ends would be a master of its own.
    """
    chosen = set(_every(along, reach.every))
    line_of = {n.id: x.name for x in along for _, n in room.on[x.name]}
    runs = [run for line in across for run in room.runs(line)]
    while True:
        known = {node for node, name in line_of.items() if name in chosen}
        ends = Counter(line_of[node] for run in runs for node in lay_along(run, known, reach)[0] if node in line_of)
        more = {name for name, count in ends.items() if count > 1}
        if not more:
            return chosen
        chosen |= more


def _backwards(
    stage: Sequence[Line], along: Sequence[Line], room: _Room, door_along: float, door_across: float
) -> bool:
    """Whether the first line of a stage is walked from its far end, the end nearer the door counting as near."""
    if not stage:
        return False
    far = [d for d, _ in room.on[stage[0].name]]
    here = door_along if stage[0] in along else door_across
    return bool(far) and abs(far[-1] - here) < abs(far[0] - here)


def _every(lines: Sequence[Line], n: int) -> AbstractSet[str]:
    """Names of every n-th line and the last; short lines beside a wall or joint do not count."""
    own = [x.name for x in lines if x.own] or [x.name for x in lines]
    return {name for i, name in enumerate(own) if i % n == 0 or i == len(own) - 1}


def _outward(lines: Sequence[Line], door: float) -> list[Line]:
    """From the line nearest the door outward: first the shorter side to its end, then the other side."""
    if not lines:
        return []
    start = min(range(len(lines)), key=lambda i: (abs(lines[i].at_mm - door), i))
    before, after = list(reversed(lines[:start])), list(lines[start + 1 :])
    sides = (before, after) if len(before) <= len(after) else (after, before)
    return [lines[start], *sides[0], *sides[1]]


def _number_masters(
    room: _Room, walk: Sequence[Line], masters: AbstractSet[str], door_along: float, turns: dict[str, Turn]
) -> None:
    c, t = (0, 1) if room.first == "lettered" else (1, 0)
    if not walk:
        return
    rows: dict[str, list[Node]] = {line.name: [] for line in walk}
    for n in room.nodes:
        if n.id in masters:
            own = [name for name in n.lines if name in rows]
            nearest = own[0] if own else min(walk, key=lambda x: (abs(x.at_mm - n.at[c]), x.at_mm)).name
            rows[nearest].append(n)
    here = door_along
    for line in walk:
        row = sorted(rows[line.name], key=lambda n: (n.at[t], n.id))
        if row and abs(row[-1].at[t] - here) < abs(row[0].at[t] - here):
            row.reverse()
        for n in row:
            turns[n.id] = Turn(len(turns) + 1, "laser", line.name)
        here = row[-1].at[t] if row else here
