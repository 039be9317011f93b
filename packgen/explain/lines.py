"""All worked lines of a plan by key: those that its stages gave, and those of a place or a part when asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property, partial

from packgen.core.plane import Point
from packgen.core.worked import Worked
from packgen.heights.cover_lines import cover_line, depth_there, node_depth, pipe_top_line, under_rail_line
from packgen.heights.part_lines import part_lines
from packgen.heights.place_lines import base_line, spot
from packgen.layout.model import PipeRun
from packgen.layout.spot_lines import bar_line, reach_lines, spot_lines
from packgen.plan import Plan
from packgen.quantities.bay_lines import bay_lines
from packgen.quantities.beds import Bed, drain_beds
from packgen.quantities.feet import one_foot_lines
from packgen.quantities.weight import zone_weights


class Lines:
    """The lines of one plan. Thousands could be made of it; a line is made when it is first looked for."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._found = {line.key: line for line in (*plan.worked, *plan.further)}
        for line in (f for finding in plan.findings for f in (finding.number_from, finding.limit_from)):
            if isinstance(line, Worked):
                self._found.setdefault(line.key, line)
        self._parts: dict[str, Callable[[], Iterator[Worked]]] = {}
        for bay in plan.layout.bays:
            self._parts[f"bay/{bay.name}/"] = partial(self._of_bay, bay.name)
        for node in plan.layout.nodes:
            self._parts[f"node/{node.id}/"] = partial(self._of_node, node.id)
        self._runs = {run.name: run for run in plan.layout.services}

    def find(self, key: str) -> Worked | None:
        """The line of a key; None where the plan has no such line."""
        if key not in self._found:
            for line in self._make(key):
                self._found.setdefault(line.key, line)
        return self._found.get(key)

    @property
    def known(self) -> tuple[str, ...]:
        """Keys of all lines that stand so far."""
        return tuple(self._found)

    def _make(self, key: str) -> Iterator[Worked]:
        kind, _, rest = key.partition("/")
        if kind in ("bay", "node"):
            whole = key.rpartition("/")[0] + "/"
            if whole in self._parts:
                yield from self._parts.pop(whole)()
        elif kind == "bar":
            yield from (bar_line(self.plan.project, b) for b in self.plan.layout.cut_list.bars if str(b.number) == rest)
        elif kind in ("base", "depth"):
            yield from self._at_place(key, kind, rest)
        elif kind == "pipe":
            name, *at = rest.rsplit("/", 2)
            where = _point(at)
            if name in self._runs and where is not None:
                yield pipe_top_line(key, self.plan.project, self.plan.survey, self._runs[name], where)
        elif kind in ("under rail", "cover", "reach"):
            yield from self._of_service(kind, self._runs.get(rest.removesuffix("/clear")))

    def _at_place(self, key: str, kind: str, rest: str) -> Iterator[Worked]:
        project, survey, heights = self.plan.project, self.plan.survey, self.plan.heights
        ends = {"greatest": heights.depth.most_at, "smallest": heights.depth.least_at}
        if kind == "depth" and rest in ends:
            at = ends[rest]
            yield depth_there(key, f"{rest} depth, at {spot(at)}", project, survey, heights, at)
            return
        where = _point(rest.split("/"))
        if where is None:
            return
        if kind == "base":
            yield base_line(key, survey.base, survey.levels.points, where, project.datum.name)
        else:
            yield depth_there(key, f"depth at {spot(where)}", project, survey, heights, where)

    def _of_service(self, kind: str, run: PipeRun | None) -> Iterator[Worked]:
        if run is None:
            return
        if kind == "under rail":
            yield under_rail_line(self.plan.project, run)
        if kind == "reach":
            yield from reach_lines(self.plan.project, run)
        for cover in self.plan.heights.covers:
            if kind == "cover" and cover.service == run.name:
                yield cover_line(self.plan.project, self.plan.survey, run, cover)

    @cached_property
    def _beds(self) -> tuple[Bed, ...]:
        return drain_beds(self.plan.project, self.plan.survey, self.plan.layout, self.plan.heights)

    def _of_bay(self, name: str) -> Iterator[Worked]:
        plan = self.plan
        bay = next(b for b in plan.layout.bays if b.name == name)
        row = next(r for r in plan.quantities.bays if r.bay == name)
        beds = [b for b in self._beds if b.bay == name]
        yield from bay_lines(plan.project, plan.survey, plan.heights, bay, row, beds)

    def _of_node(self, name: str) -> Iterator[Worked]:
        plan, found = self.plan, self.plan.quantities
        node = next(n for n in plan.layout.nodes if n.id == name)
        room = next((r for r in plan.survey.rooms if r.name == node.room), plan.survey.rooms[0])
        yield from spot_lines(plan.project, node, room.origin)
        leg = next((k for k in plan.heights.legs if k.node == name), None)
        if leg is None:
            return
        yield from part_lines(plan.project, leg)
        yield node_depth(plan.project, plan.survey, plan.heights, leg, node.at)
        foot = next((f for f in found.feet if f.node == name), None)
        if foot is not None:
            yield from one_foot_lines(plan.project, foot, leg, node, zone_weights(plan.project), found.weight)


def _point(at: list[str]) -> Point | None:
    """A place of a key; None where the key names none."""
    try:
        x, y = map(float, at)
    except ValueError:
        return None
    return x, y
