"""One room's grid: lines, legs and rails with their pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from packgen.core.plane import Point, nearest_areas
from packgen.layout.closing import close_edges
from packgen.layout.ground import Ground, Kind, Stop, foot_places, those_within
from packgen.layout.lines import Sizes, Track, name_tracks, regular_tracks, runs_of
from packgen.layout.model import Node, Piece, Rail
from packgen.layout.nodes import Carried, Leg, carry, crossings_of, cut_at_blind_crossings
from packgen.layout.rails import Bars, Length, clipped_pieces, jointed_pieces

NamedTrack = tuple[str, Track]
Why = Literal["crossing", "wall", "joint", "between"]

WHY: dict[str, Why] = {
    "node": "crossing",
    "wall": "wall",
    "cut-out": "wall",
    "joint": "joint",
    "border": "joint",
    "no foot": "between",
}
MARK: dict[str, str] = {"wall": "w", "cut-out": "o", "joint": "j", "border": "z"}


@dataclass(frozen=True)
class Grid:
    """Tracks with their names (lettered first, each kind in order), and what stands on them."""

    tracks: tuple[NamedTrack, ...]
    nodes: tuple[Node, ...]
    rails: tuple[Rail, ...]
    pieces: tuple[Piece, ...]
    short: tuple[str, ...]


def lay_tracks(
    ground: Ground, corner: Point, firsts: Point, sizes: Sizes, before: tuple[int, int]
) -> tuple[NamedTrack, ...]:
    """All lines of a room with their names. firsts: how far the first lines lie from corner 1 along x and y;
    before: how many lettered and numbered names earlier rooms have used."""
    lettered = regular_tracks(ground, "lettered", corner[0] + firsts[0], sizes)
    numbered = regular_tracks(ground, "numbered", corner[1] + firsts[1], sizes)
    lettered = close_edges(ground, "lettered", numbered, lettered, sizes)
    numbered = close_edges(ground, "numbered", lettered, numbered, sizes)
    unnamed = [("", track) for track in (*lettered, *numbered)]
    laid = [replace(t, runs=tuple(p.run for p in parts)) for _, t, parts in carried_rails(ground, unnamed, sizes)]
    lettered = [track for track in laid if track.kind == "lettered" and track.runs]
    numbered = [track for track in cut_at_blind_crossings(ground, numbered, lettered) if track.runs]
    names = name_tracks(lettered, before[0]) + name_tracks(numbered, before[1])
    return tuple(zip(names, [*lettered, *numbered], strict=True))


def carried_rails(ground: Ground, tracks: Sequence[NamedTrack], sizes: Sizes) -> list[tuple[str, Track, list[Carried]]]:
    """Every track with its rails, each with the legs that carry it."""
    by_kind: dict[Kind, list[Track]] = {"lettered": [], "numbered": []}
    for _, track in tracks:
        by_kind[track.kind].append(track)
    others = {"lettered": runs_of(by_kind["numbered"]), "numbered": runs_of(by_kind["lettered"])}
    met = [crossings_of(track, others[track.kind]) for _, track in tracks]
    taken = _crossing_spots(ground, tracks, met)
    out = []
    for (name, track), crossings in zip(tracks, met, strict=True):
        parts: list[Carried] = []
        for run, places in zip(track.runs, crossings, strict=True):
            made = carry(ground, track, run, places, sizes, taken)
            extra = [_spot(track, leg.at) for part in made for leg in part.legs if leg.cross is None]
            if extra:
                taken = np.vstack([taken, extra])
            parts += made
        out.append((name, track, parts))
    return out


def _crossing_spots(
    ground: Ground, tracks: Sequence[NamedTrack], met: Sequence[Sequence[Sequence[float]]]
) -> np.ndarray:
    """Places of all crossings on which a foot can stand."""
    spots = []
    for (_, track), crossings in zip(tracks, met, strict=True):
        if track.kind == "lettered":
            for run, places in zip(track.runs, crossings, strict=True):
                free = foot_places(ground, track.kind, track.at, run.lo, run.hi)
                spots += [(track.at, t) for t in those_within(free, places)]
    return np.array(spots, dtype=float).reshape(-1, 2)


def lay_grid(
    ground: Ground,
    tracks: Sequence[NamedTrack],
    sizes: Sizes,
    bars: Bars,
    leg_reach_mm: float,
    off_mm: float,
) -> Grid:
    """Legs, rails and pieces on the tracks.

    bars: the lengths rails come in, and whether pieces clip on legs
    leg_reach_mm: how far from a leg two bars may meet; off_mm: how truly the first line is set out
    """
    rails_by_track = carried_rails(ground, tracks, sizes)
    ids = _leg_names(rails_by_track, tracks)
    spots: dict[str, Point] = {}
    lines: dict[str, list[str]] = {}
    whys: dict[str, Stop] = {}
    rails: list[Rail] = []
    pieces: list[Piece] = []
    short: list[str] = []
    for name, track, parts in rails_by_track:
        for k, part in enumerate(parts):
            rail_id = name if len(parts) == 1 else f"{name}-{k + 1}"
            node_ids = [ids[name, leg.at] for leg in part.legs]
            for node, leg in zip(node_ids, part.legs, strict=True):
                spots[node] = _spot(track, leg.at)
                whys.setdefault(node, leg.why)
                lines.setdefault(node, []).append(name)
            cuts = _cut(part, sizes, bars, leg_reach_mm)
            made = [
                Piece(
                    f"{rail_id}.{n}",
                    rail_id,
                    _spot(track, c.lo),
                    _spot(track, c.hi),
                    c.mm,
                    not c.whole,
                    c.factory_ends,
                )
                for n, c in enumerate(cuts, 1)
            ]
            short += [ids[name, at] for at in part.short]
            short += [_nearest(part, c, ids, name) for c in cuts if c.mm < sizes.smallest + off_mm]
            pieces += made
            rails.append(
                Rail(
                    rail_id,
                    name,
                    made[0].start,
                    made[-1].end,
                    tuple(node_ids),
                    Length(cuts[0].lo, cuts[-1].hi, False, 0).mm,
                    tuple(p.id for p in made),
                    ground.room,
                )
            )
    order = sorted(spots, key=lambda n: (spots[n][1], spots[n][0], n))
    areas = nearest_areas(ground.floor, [spots[n] for n in order]) if order else ()
    nodes = tuple(
        Node(n, *spots[n], tuple(lines[n]), _why(whys[n]), ground.room, area)
        for n, area in zip(order, areas, strict=True)
    )
    return Grid(tuple(tracks), nodes, tuple(rails), tuple(pieces), tuple(dict.fromkeys(short)))


def _spot(track: Track, along: float) -> Point:
    return (track.at, along) if track.kind == "lettered" else (along, track.at)


def _why(stop: Stop) -> Why:
    return WHY[stop.what]


def _cut(part: Carried, sizes: Sizes, bars: Bars, reach: float) -> list[Length]:
    places = [leg.at for leg in part.legs]
    if bars.clipped:
        return clipped_pieces(part.run.lo, part.run.hi, places, bars.lengths, sizes.smallest)
    return jointed_pieces(part.run.lo, part.run.hi, places, bars.lengths, sizes.smallest, reach)


def _nearest(part: Carried, cut: Length, ids: dict[tuple[str, float], str], name: str) -> str:
    middle = (cut.lo + cut.hi) / 2
    return ids[name, min((leg.at for leg in part.legs), key=lambda t: (abs(t - middle), t))]


def _leg_names(
    rails: Sequence[tuple[str, Track, list[Carried]]], tracks: Sequence[NamedTrack]
) -> dict[tuple[str, float], str]:
    """Names of legs by line and place: C4 at a crossing, Cw3, Co1, Cj1a, Cz1a, Cm for others; b, c when taken."""
    names = {(t.kind, t.at): n for n, t in tracks}
    found: dict[tuple[str, float], str] = {}
    used: set[str] = set()
    for name, track, parts in rails:
        for leg in (leg for part in parts for leg in part.legs):
            if leg.cross is not None:
                other = names["numbered" if track.kind == "lettered" else "lettered", leg.cross]
                node = f"{name}{other}" if track.kind == "lettered" else f"{other}{name}"
            else:
                node = _free(f"{name}{_mark(leg)}", used)
            used.add(node)
            found[name, leg.at] = node
    return found


def _mark(leg: Leg) -> str:
    sign = MARK.get(leg.why.what, "m")
    return sign if sign == "m" else f"{sign}{leg.why.number}{leg.why.side}"


def _free(name: str, used: set[str]) -> str:
    for letter in ["", *list("bcdefghjkmnpqrstuvxyz")]:
        if f"{name}{letter}" not in used:
            return f"{name}{letter}"
    return f"{name}-{sum(1 for u in used if u.startswith(name))}"
