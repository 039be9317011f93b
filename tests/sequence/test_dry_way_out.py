"""Whoever fills a bay can leave over open bays: shown again over a graph that shapely makes of their shapes."""

from __future__ import annotations

from collections import deque
from itertools import pairwise

import shapely

from packgen.core.plane import Polygon
from packgen.plan import Plan
from packgen.sequence.ways_out import step_mm

CLOSE_MM = 1.0  # far less than any edge, far more than rounding


def shape(p: Polygon) -> shapely.Polygon:
    return shapely.Polygon(p.shell, p.holes)


def step_graph(plan: Plan) -> dict[str, set[str]]:
    """Bays whose common edge, widened a little, is as long as a step."""
    bays = plan.layout.bays
    shapes = [shape(b.shape) for b in bays]
    tree = shapely.STRtree(shapes)
    least = step_mm(plan.project)
    graph: dict[str, set[str]] = {b.name: set() for b in bays}
    for i, s in enumerate(shapes):
        for j in tree.query(s.buffer(CLOSE_MM)):
            if j != i:
                common = s.buffer(CLOSE_MM).intersection(shapes[j].boundary).length
                if common >= least:
                    graph[bays[i].name].add(bays[j].name)
    return graph


def test_every_bay_is_filled_once(plan: Plan) -> None:
    names = sorted(b.name for b in plan.layout.bays)
    assert sorted(plan.sequence.order) == names
    assert [t.bay for p in plan.sequence.pours for t in p.turns] == list(plan.sequence.order)
    assert [t.order for p in plan.sequence.pours for t in p.turns] == list(range(1, len(names) + 1))


def test_an_open_door_can_be_reached_from_every_bay_at_its_turn(plan: Plan) -> None:
    graph = step_graph(plan)
    at_doors = {name for way in plan.sequence.ways_out if way.main for name in way.bays}
    still_open = set(plan.sequence.order)
    for pour in plan.sequence.pours:
        for turn in pour.turns:
            assert turn.bay in still_open
            if not turn.by_reach:
                seen, queue = {turn.bay}, deque([turn.bay])
                while queue:
                    for n in graph[queue.popleft()] & still_open - seen:
                        seen.add(n)
                        queue.append(n)
                assert seen & at_doors, f"{turn.bay} at turn {turn.order}"
            still_open.discard(turn.bay)


def test_the_way_out_said_is_walked_over_open_bays_to_a_door(plan: Plan) -> None:
    graph = step_graph(plan)
    at_doors = {name for way in plan.sequence.ways_out for name in way.bays}
    filled: set[str] = set()
    for pour in plan.sequence.pours:
        for turn in pour.turns:
            filled.add(turn.bay)
            path = [turn.bay, *turn.way_out]
            assert path[-1] in at_doors
            assert not filled & set(turn.way_out)
            steps = list(pairwise(path))
            assert all(b in graph[a] for a, b in (steps[1:] if turn.by_reach else steps))


def test_the_arrow_of_a_day_stays_on_floor_open_that_evening(plan: Plan) -> None:
    bays = {b.name: shape(b.shape) for b in plan.layout.bays}
    filled: set[str] = set()
    for pour in plan.sequence.pours:
        filled |= set(pour.bays)
        last = pour.turns[-1].bay
        closed = shapely.union_all([bays[n] for n in filled - {last}])
        walked = shapely.LineString(pour.arrow)
        assert walked.intersection(closed.buffer(-CLOSE_MM)).length < CLOSE_MM
