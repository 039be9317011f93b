"""Depth over services, and the room under rails that cross them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.plane import Point, Polygon
from packgen.core.profile import least_along, levels_at, pieces_within
from packgen.core.surface import Surface
from packgen.heights.model import PipeCover, RailOverService
from packgen.heights.top import Tops
from packgen.layout.model import Layout, PipeRun
from packgen.project.model import Project
from packgen.trade.grid_rules import value
from packgen.trade.thickness import RuleSet, ScreedClass, pipe_cover

TIDY = 6  # decimals of a mm: beyond them stands binary noise, and equal to the limit passes


@dataclass(frozen=True, slots=True)
class ZoneCover:
    """Least cover over one service within one zone."""

    zone: int
    service: str
    cover_mm: float
    at: Point
    needed_mm: float | None


def needed_cover(project: Project, run: PipeRun, rule: tuple[RuleSet, ScreedClass | None]) -> float | None:
    """Cover asked for over a heating pipe, mm: the file's, else the rule set's; None over anything else."""
    if not run.heating:
        return None
    if project.heating is not None and project.heating.least_cover_over_pipe is not None:
        return project.heating.least_cover_over_pipe
    rule_set, screed = rule
    published = pipe_cover(rule_set, screed) if screed is not None else None
    return published[0] if published else None


def zone_covers(
    project: Project,
    layout: Layout,
    tops: Tops,
    base: Surface,
    floors: Sequence[Sequence[Polygon]],
    rules: Sequence[tuple[RuleSet, ScreedClass | None]],
) -> tuple[ZoneCover, ...]:
    """Least cover over each service in each zone: depth - (support + outside), over every stretch inside the floor.

    floors: for each zone the fill's outline within it; rules: for each zone rule set and screed of its fill
    """
    regions = [(zone, p) for zone, parts in enumerate(floors) for p in parts]
    out = []
    for run in layout.services:
        inside = pieces_within([p for _, p in regions], run.stretches)
        for zone in range(len(floors)):
            least = least_along(tops.surface, base, [s for _, i, s in inside if regions[i][0] == zone])
            if least is not None:
                cover = round(least.depth_mm - run.support_mm - run.outside_mm, TIDY)
                out.append(ZoneCover(zone, run.name, cover, least.at, needed_cover(project, run, rules[zone])))
    return tuple(out)


def rails_over_services(project: Project, layout: Layout, tops: Tops, base: Surface) -> tuple[RailOverService, ...]:
    """Depth where each rail crosses each service, and what it takes there; tightest first.

    needed = pipe outside + its support + rail height + clearance  [mm]
    """
    runs = {run.name: run for run in layout.services}
    crossings = [c for c in layout.service_crossings if c.other in runs]
    spots = [c.at for c in crossings]
    above, below = levels_at(tops.surface, spots), levels_at(base, spots)
    found = [
        RailOverService(
            c.rail, c.other, c.at, round(high - low, TIDY), under_rail(runs[c.other], project.kit.rail.height)
        )
        for c, high, low in zip(crossings, above, below, strict=True)
    ]
    return tuple(sorted(found, key=lambda r: (round(r.free_mm, 6), r.service, r.rail, r.at)))


def under_rail(run: PipeRun, rail_height_mm: float) -> float:
    """Depth that a rail over this service needs, mm."""
    return run.outside_mm + run.support_mm + rail_height_mm + value("over_service")


def pipe_covers(
    project: Project, layout: Layout, covers: Sequence[ZoneCover], crossings: Sequence[RailOverService]
) -> tuple[PipeCover, ...]:
    """One row a service that lies in the floor: least cover over all zones, tightest crossing."""
    tightest = {r.service: r for r in reversed(crossings)}
    out = []
    for run in layout.services:
        mine = [c for c in covers if c.service == run.name]
        if not mine:
            continue
        least = min(mine, key=lambda c: (round(c.cover_mm, 6), c.at))
        tight = tightest.get(run.name)
        out.append(
            PipeCover(
                run.name,
                least.cover_mm,
                least.at,
                least.needed_mm,
                tight.depth_mm if tight else None,
                tight.at if tight else None,
                tight.rail if tight else None,
                under_rail(run, project.kit.rail.height),
            )
        )
    return tuple(out)
