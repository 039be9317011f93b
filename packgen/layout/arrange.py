"""The layout stage: from the survey's outlines to lines, legs, rails, pieces, bays and what stands in their way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from packgen.core.plane import Polygon, Segment, bounds, inset
from packgen.layout.bays import Border, make_bays
from packgen.layout.borders import zone_borders
from packgen.layout.clashes import axes, foot_clashes, near_services, rails_over
from packgen.layout.cut_list import cut_list
from packgen.layout.grid import Grid, NamedTrack
from packgen.layout.ground import Break, Ground, Kind, Stop, make_ground
from packgen.layout.joints import joint_lines, rails_across
from packgen.layout.lines import Sizes
from packgen.layout.merits import Aims
from packgen.layout.model import (
    Bay,
    CutList,
    FirstLinesChoice,
    JointLine,
    Layout,
    Line,
    Piece,
    PipeRun,
    Stock,
)
from packgen.layout.moved_feet import move_feet
from packgen.layout.pipes import pipe_run
from packgen.layout.rails import Bars
from packgen.layout.setout import check_diagonals, set_out
from packgen.layout.start import Kept, better_than_pinned, pinned, searched
from packgen.project.model import Project
from packgen.project.room_model import Service
from packgen.project.work_model import Kit, Levels
from packgen.survey.model import RoomOutline, Survey
from packgen.trade.grid_rules import value
from packgen.trade.layout_rules import LayoutRules, layout_rules

Read = tuple[tuple[float, ...], tuple[float, ...]]


def arrange(project: Project, survey: Survey) -> Layout:
    """Lays out every room of the survey. Lines are named through the whole job, so that no leg's name comes twice."""
    kit, rules = project.kit, layout_rules()
    sizes = _sizes(kit, rules)
    bars = Bars(kit.stock_mm, kit.clipped)
    joints = joint_lines(project.joints, survey.rooms, kit.edge_strip)
    named = {room.name: room for room in survey.rooms}
    home = [named.get(_home(s, project, named), survey.rooms[0]) for s in project.services]
    manifolds = [
        (s.at[0] + room.origin[0], s.at[1] + room.origin[1])
        for s, room in zip(project.services, home, strict=True)
        if s.at is not None and "manifold" in s.kind.lower()
    ]
    pipes = tuple(
        pipe_run(s, room, project.finishes, kit.edge_strip, manifolds)
        for s, room in zip(project.services, home, strict=True)
    )
    grids: list[tuple[RoomOutline, Ground, Grid]] = []
    lines: list[Line] = []
    bays: list[Bay] = []
    choices: list[FirstLinesChoice] = []
    rooms: list[Kept] = []
    before = (0, 0)
    for room in survey.rooms:
        zones = zone_borders(project.finishes, room, survey.rooms, project.drains)
        breaks = [Break(Stop("joint", j.number), j.line, j.width_mm) for j in joints[room.name]]
        breaks += [Break(Stop("border", k), line, 0.0) for k, line in enumerate(zones.lines, 1)]
        ground = _ground(room, breaks, pipes, _read(project.levels, room, survey.rooms[0]), kit)
        aims = _aims(project, survey, room, joints[room.name], rules)
        kept = Kept(
            room.name, room.corners[0], ground, sizes, aims, pipes, kit.preferred, rules.joint_leg, bars, before
        )
        plain = (kit.first_line_from_wall, kit.first_line_from_wall)
        laid, choice = pinned(kept, kit.starts_mm, plain) if kit.first_lines else searched(kept, plain)
        tracks, grid = laid.tracks, laid.grid
        before = _used(tracks, before)
        grids.append((room, ground, grid))
        choices.append(choice)
        rooms.append(kept)
        lines += [set_out(track, name, room) for name, track in tracks]
        bays += _bays(ground, tracks, [j.line for j in joints[room.name]], zones.areas, rules)
    kinds: dict[str, Kind] = {line.name: line.kind for line in lines}
    grounds = {room.name: ground for room, ground, _ in grids}
    nodes = tuple(n for _, _, g in grids for n in g.nodes)
    rails = tuple(r for _, _, g in grids for r in g.rails)
    pieces = tuple(p for _, _, g in grids for p in g.pieces)
    standing = len(near_services(nodes, pipes, grounds, rules.near_service))
    nodes, moved = move_feet(nodes, pipes, rails, grounds, kinds, rules.near_service, kit.move_feet_off_pipes or 0.0)
    joint_list = tuple(j for room in survey.rooms for j in joints[room.name])
    saw_cut = kit.saw_cut if kit.saw_cut is not None else rules.saw_cut
    cuts = cut_list(pieces, _stocks(kit), saw_cut, kit.clipped, rules.offcut_kept)
    return Layout(
        lines=tuple(lines),
        nodes=nodes,
        rails=rails,
        pieces=_as_cut(pieces, cuts),
        bays=tuple(bays),
        cut_list=cuts,
        services=pipes,
        joints=joint_list,
        foot_clashes=foot_clashes(
            nodes, pipes, rails, grounds, kinds, rules.near_service, rules.overhang, _saddled(kit, project.services)
        ),
        moved_feet=moved,
        feet_on_services=standing,
        service_crossings=rails_over(rails, pipes),
        joint_crossings=rails_across(rails, joint_list),
        short_pieces=tuple(s for _, _, g in grids for s in g.short),
        floor=tuple(p for _, ground, _ in grids for p in ground.floor),
        diagonals=tuple(d for _, ground, g in grids for d in check_diagonals(g.nodes, ground.floor)),
        better_first_lines=better_than_pinned(rooms, kit.starts_mm) if kit.first_lines else None,
        first_lines=tuple(choices),
    )


def _home(service: Service, project: Project, rooms: Mapping[str, RoomOutline]) -> str:
    """The room a service lies in: the one it names, or that of the zone it covers."""
    zone = next((z for z in project.finishes if service.zone and z.zone.casefold() == service.zone.casefold()), None)
    names = [service.room, *((zone.room, zone.covers, zone.zone) if zone is not None else ())]
    return next((n for n in names if isinstance(n, str) and n in rooms), "")


def _saddled(kit: Kit, services: Sequence[Service]) -> set[str]:
    """Services over which feet stand on saddles: where the service says so, or the kit's saddle is wide enough."""
    wide = kit.saddle.widest_pipe if kit.saddle is not None else 0.0
    return {s.name for s in services if s.saddle == "yes" or (s.outside is not None and 0 < s.outside <= wide)}


def _stocks(kit: Kit) -> list[Stock]:
    """What lies at hand, and what can be bought."""
    hand = Counter(int(v) for v in kit.rail.offcuts_at_hand)
    return [*(Stock(v, n) for v, n in sorted(hand.items())), *(Stock(v) for v in kit.stock_mm)]


def _as_cut(pieces: tuple[Piece, ...], cuts: CutList) -> tuple[Piece, ...]:
    """Pieces as long as a stock length that the cut list still takes from a longer bar are cut."""
    sawn = {name for bar in cuts.bars for name in bar.pieces}
    return tuple(replace(p, cut=p.id in sawn) for p in pieces)


def _sizes(kit: Kit, rules: LayoutRules) -> Sizes:
    return Sizes(
        kit.module,
        kit.first_line_from_wall,
        rules.first_line_most,
        kit.edge_strip,
        kit.smallest_cut_piece,
        rules.overhang,
        rules.joint_leg,
        rules.near_service,
    )


def _aims(
    project: Project,
    survey: Survey,
    room: RoomOutline,
    joints: list[JointLine],
    rules: LayoutRules,
) -> Aims:
    """What this room's first lines are held against."""
    x0, y0, x1, y1 = bounds(Polygon(room.corners))
    saw_cut = project.kit.saw_cut if project.kit.saw_cut is not None else rules.saw_cut
    first = survey.rooms[0].name
    doors = tuple(
        wall.line
        for opening in project.openings
        for wall in room.walls
        if (opening.room or first) == room.name and wall.number == opening.in_wall
    )
    return Aims(
        tuple((p.x_mm, p.y_mm) for p in survey.levels.points if x0 <= p.x_mm <= x1 and y0 <= p.y_mm <= y1),
        doors,
        tuple(joint.line for joint in joints),
        None if project.kit.clipped else float(max(project.kit.stock_mm)),
        saw_cut,
        rules.first_line_off,
        rules.needle_bay,
        value("same_spot"),
    )


def _ground(room: RoomOutline, breaks: list[Break], pipes: tuple[PipeRun, ...], read: Read, kit: Kit) -> Ground:
    floor: tuple[Polygon, ...] = tuple(p for part in room.floor for p in inset(part, kit.edge_strip))
    return make_ground(room, floor, breaks, axes(pipes), read, kit.foot.diameter, kit.rail.width)


def _read(levels: Levels, room: RoomOutline, first: RoomOutline) -> Read:
    """Columns and rows of the readings in this room, in the plan's own coordinates."""
    columns, rows = levels.rooms_read("column"), levels.rooms_read("row")

    def here(rooms: tuple[str | None, ...]) -> bool:
        return any((name or first.name) == room.name for name in rooms)

    x, y = room.origin
    return (
        tuple(x + at for name, at in levels.columns_at if here(columns[name])),
        tuple(y + at for name, at in levels.rows_at if here(rows[name])),
    )


def _used(tracks: tuple[NamedTrack, ...], before: tuple[int, int]) -> tuple[int, int]:
    """How many names of each kind are used up: short lines share the name of the line before them."""
    own = [track.kind for _, track in tracks if track.own]
    return (before[0] + own.count("lettered"), before[1] + own.count("numbered"))


def _bays(
    ground: Ground,
    tracks: tuple[NamedTrack, ...],
    joints: list[Segment],
    zones: tuple[tuple[Polygon, ...], ...],
    rules: LayoutRules,
) -> tuple[Bay, ...]:
    borders: dict[Kind, list[Border]] = {"lettered": [], "numbered": []}
    for name, track in tracks:
        borders[track.kind].append(Border(name, track.at, None if track.own else track.runs))
    return make_bays(
        ground.floor,
        borders["lettered"],
        borders["numbered"],
        joints,
        zones,
        rules.needle_bay,
        rules.overhang,
        ground.room,
    )
