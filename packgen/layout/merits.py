"""What every pair of first lines would bring, as tables: one figure for each whole mm along x and along y.

The figures are counted on the regular lines alone, each rail from edge to edge with its crossings, and with the leg
that an end needs where it would stand over too far. Lines laid beside walls and joints afterwards stand where those
legs are counted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import get_args

import numpy as np

from packgen.core.plane import Point, Segment, bounds
from packgen.layout.ground import KINDS, SAME_MM, Ground, Kind, gaps_between
from packgen.layout.lines import Sizes
from packgen.layout.profiles import CHUNK, Alike, Places, alike, all_places, clear_of, feet_off, feet_wet, runs_at
from packgen.project.work_model import Merit

COUNTED: tuple[Merit, ...] = tuple(name for name in get_args(Merit) if name != "plain first lines")
FEET: tuple[Merit, ...] = ("no feet on pipes", "no feet near pipes")
ALONG_RAILS: tuple[Merit, ...] = ("no short pieces", "few legs", "little stock", "few cuts")
SHIFTED: tuple[Merit, ...] = ("no feet on pipes", "legs on readings", "lines at joints", "lines at doors", "wide edges")


@dataclass(frozen=True, slots=True)
class Aims:
    """What first lines are held against, besides the floor: spots where the base was read, doors as stretches of their
    walls, joints; and the lengths that go with them, mm.

    off: how truly a first line is set out; stock: length of the bars, None where pieces clip on legs
    """

    read: tuple[Point, ...]
    doors: tuple[Segment, ...]
    joints: tuple[Segment, ...]
    stock: float | None
    saw_cut: float
    off: float
    needle: float
    same_spot: float


@dataclass(frozen=True, eq=False)
class Side:
    """The lines of one kind: where they can stand, which of those are alike, and the runs of these."""

    places: Places
    alike: Alike
    runs: np.ndarray
    none: np.ndarray  # runs on which no rail is laid, as rows (place in `places.up`, from, to)

    @property
    def kind(self) -> Kind:
        return self.places.kind


@dataclass(frozen=True, eq=False)
class Field:
    """One room with all places its first lines can have, looked at once."""

    ground: Ground
    sizes: Sizes
    aims: Aims
    along_x: Side
    along_y: Side

    def empty(self) -> np.ndarray:
        return np.zeros((self.along_x.places.firsts, self.along_y.places.firsts))


def field_of(ground: Ground, corner: Point, sizes: Sizes, aims: Aims) -> Field:
    x, y = (_places(ground, kind, corner[i], sizes.module) for i, kind in enumerate(KINDS))
    return Field(ground, sizes, aims, _side(ground, x, y, sizes), _side(ground, y, x, sizes))


def merits(field: Field) -> Mapping[Merit, np.ndarray]:
    """For each name of COUNTED a table (first along x, first along y); less is better everywhere.

    no short pieces   rail ends that would be shorter than the smallest cut piece with the first lines anywhere within
                      what they are set out to
    no feet on pipes  legs at crossings that overlap a service
    no feet near pipes  those, and legs nearer to a service than wanted
    legs on readings  spots where the base was read and no leg stands at a crossing; 0 all over where no pair of first
                      lines has legs on most of them
    first lines by walls  first lines farther from their wall than a first line may lie, or too near for a foot
    lines at joints   sides of joints without a line near enough to carry the rails that end there
    lines at doors    doors without a line along them
    few legs, few cuts  legs; cut pieces
    little stock      half stock lengths: two for a whole one or a piece of more than half, one for a shorter piece;
                      with bars longer than a module, mm of rail
    wide edges        sides along which the strip between the edge and the line next to it is too narrow to float
    """
    tables = {name: field.empty() for name in COUNTED}
    for name, figures in (*rail_merits(field).items(), *line_merits(field).items()):
        tables[name] += figures
    for name in FEET:
        tables[name] += feet_merit(field, name)
    tables["legs on readings"] += read_merit(field)
    return tables


def rail_merits(field: Field, pair: tuple[int, int] | None = None) -> dict[Merit, np.ndarray]:
    """The tables that are counted along rails; with a pair of firsts for these alone, the rest of the tables 0."""
    tables: dict[Merit, np.ndarray] = {name: field.empty() for name in ALONG_RAILS}
    turned = {name: table.T for name, table in tables.items()}
    back = None if pair is None else (pair[1], pair[0])
    _add_rails(tables, field, field.along_x, field.along_y, pair)
    _add_rails(turned, field, field.along_y, field.along_x, back)
    return tables


def line_merits(field: Field) -> dict[Merit, np.ndarray]:
    """The tables that hang on the lines alone: beside joints, doors and edges."""
    across, along = (_by_lines(field.ground, s, field.sizes, field.aims) for s in (field.along_x, field.along_y))
    return {name: across[name][:, None] + along[name][None, :] for name in across}


def feet_merit(field: Field, name: Merit) -> np.ndarray:
    table = field.empty()
    near = 0.0 if name == "no feet on pipes" else field.sizes.near_service
    _add_feet(table, field.ground, field.along_x, field.along_y, near)
    return table


def read_merit(field: Field) -> np.ndarray:
    table = field.empty()
    _add_read(table, field.ground, field.along_x, field.along_y, field.aims)
    return table if read_on_a_grid(table, field.aims) else field.empty()


def read_on_a_grid(table: np.ndarray, aims: Aims) -> bool:
    """Whether one pair has legs on most of the spots: then the base was read for a grid. Else hits are by chance."""
    return bool(2 * table.min() < len(aims.read))


def _places(ground: Ground, kind: Kind, corner: float, module: float) -> Places:
    i = 0 if kind == "lettered" else 1
    boxes = [bounds(p) for p in ground.floor]
    return all_places(ground, kind, corner, min(b[i] for b in boxes), max(b[i + 2] for b in boxes), module)


def _side(ground: Ground, places: Places, cross: Places, sizes: Sizes) -> Side:
    found = alike(ground, places, near=None)
    runs = runs_at(ground, places.kind, found.at, sizes.overhang, sizes.joint_leg)
    rail = runs[:, 2] - runs[:, 1] >= sizes.smallest - SAME_MM
    rail[rail] &= _with_a_foot(feet_off(ground, places.kind, found.at), runs[rail], cross.up)
    none = [
        (p, lo, hi) for n, lo, hi in runs[~rail][:, :3].tolist() for p in np.flatnonzero(found.same == int(n)).tolist()
    ]
    return Side(places, found, runs[rail], np.array(none, dtype=float).reshape(-1, 3))


def _with_a_foot(off: np.ndarray, runs: np.ndarray, up: np.ndarray) -> np.ndarray:
    """Whether a foot finds a place on each run, at a whole mm or between."""
    found = np.zeros(len(runs), dtype=bool)
    a, b = np.searchsorted(up, runs[:, 1] - SAME_MM), np.searchsorted(up, runs[:, 2] + SAME_MM)
    for first in range(0, len(runs), CHUNK):
        here = runs[first : first + CHUNK]
        line, row = np.unique(here[:, 0], return_inverse=True)
        mine = off[np.isin(off[:, 0], line)]
        mine = np.column_stack([np.searchsorted(line, mine[:, 0]), mine[:, 1:]])
        before = np.cumsum(clear_of(mine, 0, len(line), up), axis=1, dtype=np.int32)
        before = np.pad(before, ((0, 0), (1, 0)))
        found[first : first + CHUNK] = before[row, b[first : first + CHUNK]] > before[row, a[first : first + CHUNK]]
    for k in np.flatnonzero(~found).tolist():
        number, lo, hi = runs[k, :3].tolist()
        found[k] = bool(gaps_between(off[off[:, 0] == number][:, 1:].tolist(), lo, hi))
    return found


def _free(at: np.ndarray, off: np.ndarray, first: int, count: int, other: Side) -> np.ndarray:
    """A table (place from `first` on, place of the other direction): whether a leg can stand where both lines meet."""
    free = clear_of(off, first, count, other.places.up)
    here = at[first : first + count]
    for place, lo, hi in other.none.tolist():
        free[(here >= lo - SAME_MM) & (here <= hi + SAME_MM), int(place)] = False
    return free


# --------------------------------------------------------------------------------- along each rail


def _add_rails(
    tables: Mapping[Merit, np.ndarray], field: Field, own: Side, other: Side, pair: tuple[int, int] | None
) -> None:
    """Adds what the rails of one direction bring to tables (first of their own direction, first of the other)."""
    runs, chosen = own.runs, np.arange(other.places.firsts, dtype=np.int32)
    if pair is not None:
        mine = own.alike.same.reshape(own.places.at.shape)[:, pair[0]]
        runs, chosen = runs[np.isin(runs[:, 0], mine)], chosen[pair[1] : pair[1] + 1]
    off = feet_off(field.ground, own.kind, own.alike.at)
    for first in range(0, len(own.alike.at), CHUNK):
        count = min(CHUNK, len(own.alike.at) - first)
        a, b = np.searchsorted(runs[:, 0], [first, first + count])
        here = runs[a:b]
        if len(here) == 0:
            continue
        free = _free(own.alike.at, off, first, count, other)
        met, low, high = _crossings(free[here[:, 0].astype(int) - first], here, other.places, chosen)
        figures = _figures(here, met, low, high, own.kind == "lettered", field.sizes, field.aims)
        lines, of_line = np.unique(here[:, 0].astype(int), return_index=True)
        for name, values in figures.items():
            _add_lines(tables[name][:, chosen[0] : chosen[-1] + 1], _grouped(np.add, values, of_line), lines, own)


def _add_lines(table: np.ndarray, figures: np.ndarray, lines: np.ndarray, own: Side) -> None:
    """Adds the figures of lines to the rows of every first that has such a line."""
    number = np.full(len(own.alike.at) + 1, -1)
    number[lines] = np.arange(len(lines))
    of_place = number[own.alike.same]
    some = np.flatnonzero(of_place >= 0)
    turn, first = np.divmod(some, own.places.firsts)
    if len(some) > 2 * len(lines):
        times = np.zeros((own.places.firsts, len(lines)))
        np.add.at(times, (first, of_place[some]), 1.0)
        table += times @ figures
        return
    for k in np.unique(turn):  # the firsts of one turn are all different
        table[first[turn == k]] += figures[of_place[some[turn == k]]]


def _grouped(ufunc: np.ufunc, values: np.ndarray, start: np.ndarray) -> np.ndarray:
    """Rows of each group taken together; groups begin at `start`."""
    grouped: np.ndarray = values if len(start) == len(values) else ufunc.reduceat(values, start, axis=0)
    return grouped


def _crossings(
    free: np.ndarray, runs: np.ndarray, other: Places, first: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """For each rail and each of some firsts of the other direction: how many crossings with legs, their first and last.

    Free places next to each other are taken together: of a stretch from a up to b the lines of a first are every
    `firsts`-th place.
    """
    up, firsts = other.up, other.firsts
    begin, end = np.searchsorted(up, runs[:, 1] - SAME_MM), np.searchsorted(up, runs[:, 2] + SAME_MM)
    place = np.arange(len(up), dtype=np.int32)
    free &= (place >= begin[:, None]) & (place < end[:, None])
    edge = np.diff(free.astype(np.int8), axis=1, prepend=np.int8(0), append=np.int8(0))
    rail, a = np.nonzero(edge > 0)
    b = np.nonzero(edge < 0)[1]
    a, b = a.astype(np.int32), b.astype(np.int32)
    low = a[:, None] + (first - a[:, None]) % firsts
    high = (b[:, None] - 1) - (b[:, None] - 1 - first) % firsts
    times = np.maximum((high - low) // firsts + 1, 0)
    none, last = np.int32(len(up)), np.int32(-1)
    low, high = np.where(times > 0, low, none), np.where(times > 0, high, last)
    met = np.zeros((len(runs), len(first)), dtype=np.int32)
    lowest, highest = np.full_like(met, none), np.full_like(met, last)
    if len(rail):
        rails, start = np.unique(rail, return_index=True)
        met[rails] = _grouped(np.add, times, start)
        lowest[rails] = _grouped(np.minimum, low, start)
        highest[rails] = _grouped(np.maximum, high, start)
    at = np.append(up, np.inf)
    return met, at[lowest], at[highest]


def _figures(
    runs: np.ndarray, met: np.ndarray, low: np.ndarray, high: np.ndarray, counted: bool, sizes: Sizes, aims: Aims
) -> dict[Merit, np.ndarray]:
    """Figures of rails for every first of the other direction. counted: legs at crossings are counted here."""
    lo, hi, before, after = (runs[:, k, None] for k in range(1, 5))
    some = met > 0
    length = hi - lo
    bare = 1.0 + (length > after + sizes.first - sizes.strip + SAME_MM)
    legs = np.where(some, met if counted else 0.0, bare)
    short = np.where(some, 0.0, length < sizes.smallest + aims.off - SAME_MM)
    cuts = np.where(some, 0.0, 1.0)
    with np.errstate(invalid="ignore"):
        spans = np.where(some, np.ceil((high - low) / sizes.module - SAME_MM), 0.0)
        overs = ((np.where(some, low - lo, 0.0), before), (np.where(some, hi - high, 0.0), after))
    stock = 2 * spans + np.where(some, 0.0, _halves(length, sizes, aims))
    for over, limit in overs:
        needs = over > limit + SAME_MM
        legs += needs
        short += needs & (over < sizes.smallest + aims.off - SAME_MM)
        if needs.any():
            cuts += needs * np.ceil(over / sizes.module - SAME_MM)
            stock += needs * _halves(over, sizes, aims)
    if aims.stock is not None:
        stock = np.broadcast_to(np.round(length), met.shape)
    return {"no short pieces": short, "few legs": legs, "little stock": stock, "few cuts": cuts}


def _halves(length: np.ndarray, sizes: Sizes, aims: Aims) -> np.ndarray:
    """Half stock lengths for a piece beyond the last crossing: whole modules and a cut piece."""
    whole = np.maximum(np.ceil(length / sizes.module - SAME_MM) - 1, 0.0)
    left = length - whole * sizes.module
    halves: np.ndarray = 2 * whole + 1.0 + (left > (sizes.module - aims.saw_cut) / 2 + SAME_MM)
    return halves


# --------------------------------------------------------------------------------- at crossings


def _add_feet(table: np.ndarray, ground: Ground, own: Side, other: Side, near: float) -> None:
    """Legs at crossings that stand nearer than `near` to a service."""
    if len(ground.pipes) == 0:
        return
    found = alike(ground, own.places, near)
    off, wet = feet_off(ground, own.kind, found.at), feet_wet(ground, own.kind, found.at, near)
    beside = replace(own, alike=found)
    for first in range(0, len(found.at), CHUNK):
        count = min(CHUNK, len(found.at) - first)
        a, b = np.searchsorted(wet[:, 0], [first, first + count])
        if a == b:
            continue
        on = _free(found.at, off, first, count, other)
        on &= ~clear_of(wet, first, count, other.places.up)
        on &= _on_rails(own, own.alike.same[_some_place(found)][first : first + count], other.places.up)
        feet = on.reshape(count, *other.places.at.shape).sum(axis=1)
        _add_lines(table, feet, np.arange(first, first + count), beside)


def _some_place(found: Alike) -> np.ndarray:
    """For each number of places that are alike one of them."""
    inside = np.flatnonzero(found.same >= 0)
    places: np.ndarray = inside[np.unique(found.same[inside], return_index=True)[1]]
    return places


def _on_rails(own: Side, lines: np.ndarray, up: np.ndarray) -> np.ndarray:
    """A table (line by its number in `own.alike`, cross place): whether a rail of the line lies there."""
    table = np.zeros((len(lines), len(up)), dtype=bool)
    begin, end = np.searchsorted(own.runs[:, 0], lines), np.searchsorted(own.runs[:, 0], lines + 1)
    for k, (a, b) in enumerate(zip(begin.tolist(), end.tolist(), strict=True)):
        for lo, hi in own.runs[a:b, 1:3].tolist():
            table[k] |= (up >= lo - SAME_MM) & (up <= hi + SAME_MM)
    return table


def _add_read(table: np.ndarray, ground: Ground, own: Side, other: Side, aims: Aims) -> None:
    """Every spot that was read counts one, less the tables in which a leg stands on it."""
    table += len(aims.read)
    across, along = own.places.up, other.places.up
    hits: dict[tuple[int, int], set[int]] = {}
    for k, (x, y) in enumerate(aims.read):
        ps = np.arange(*np.searchsorted(across, [x - aims.same_spot - SAME_MM, x + aims.same_spot + SAME_MM]))
        qs = np.arange(*np.searchsorted(along, [y - aims.same_spot - SAME_MM, y + aims.same_spot + SAME_MM]))
        if len(ps) == 0 or len(qs) == 0:
            continue
        at = across[ps]
        free = clear_of(feet_off(ground, own.kind, at), 0, len(ps), along[qs])
        free &= _on_rails(own, own.alike.same[ps], along[qs])
        for place, lo, hi in other.none[np.isin(other.none[:, 0], qs)].tolist():
            free[(at >= lo - SAME_MM) & (at <= hi + SAME_MM), int(place) - qs[0]] = False
        for i, j in zip(*np.nonzero(free), strict=True):
            hits.setdefault((int(ps[i]) % own.places.firsts, int(qs[j]) % other.places.firsts), set()).add(k)
    for pair, spots in hits.items():
        table[pair] -= len(spots)


# --------------------------------------------------------------------------------- by the lines alone


def _by_lines(ground: Ground, side: Side, sizes: Sizes, aims: Aims) -> dict[Merit, np.ndarray]:
    """What depends on one first only: lines beside joints, doors and the edges of the floor."""
    i = 0 if side.kind == "lettered" else 1
    at = side.places.at
    joints, doors, narrow = (np.zeros(side.places.firsts) for _ in range(3))
    for joint in aims.joints:
        ends = (joint.a[i], joint.b[i])
        if abs(ends[0] - ends[1]) < 1.0:
            for out in (-1, 1):
                gap = (at - ends[0]) * out
                joints += ~((gap > 0) & (gap <= sizes.joint_leg + SAME_MM)).any(axis=0)
    for door in aims.doors:
        ends = (door.a[i], door.b[i])
        if abs(ends[0] - ends[1]) < 1.0:
            doors += _far(np.abs(at - ends[0]), sizes.first_most, sizes.overhang + sizes.strip)
    for (a, b), out in _level_edges(ground, i, sizes.module):
        near = _least(np.where((at - a) * out > 0, (at - a) * out, np.nan))
        narrow += ~((near >= aims.needle - SAME_MM) & (near <= sizes.overhang + SAME_MM)) * (b > 0)
    first = np.arange(side.places.firsts, dtype=float)
    off_wall = (first < ground.foot / 2 + sizes.strip - SAME_MM) | (first > sizes.first_most + SAME_MM)
    return {
        "first lines by walls": off_wall.astype(float),
        "lines at joints": joints,
        "lines at doors": doors,
        "wide edges": narrow,
    }


def _far(gap: np.ndarray, near: float, closed: float) -> np.ndarray:
    """Whether the line next to a door lies farther than `near`, and not so far that a line is laid along the wall."""
    least = _least(gap)
    far: np.ndarray = (least > near + SAME_MM) & (least <= closed + SAME_MM)
    return far


def _least(gap: np.ndarray) -> np.ndarray:
    least: np.ndarray = np.where(np.isnan(gap), np.inf, gap).min(axis=0)
    return least


def _level_edges(ground: Ground, i: int, least: float) -> Sequence[tuple[tuple[float, float], int]]:
    """Edges of the floor along the lines, at least a module long: (place, length) and on which side the floor lies."""
    found = []
    for part in ground.floor:
        for ring in (part.shell, *part.holes):
            for a, b in pairwise((*ring, ring[0])):
                if abs(a[i] - b[i]) < 0.5 and abs(a[1 - i] - b[1 - i]) >= least:
                    found.append(((a[i], abs(a[1 - i] - b[1 - i])), _floor_side(ground, a, b, i)))
    return found


def _floor_side(ground: Ground, a: Point, b: Point, i: int) -> int:
    """+1 where the floor lies at greater places than the edge."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    edges = ground.edges if i == 0 else ground.edges[:, [1, 0, 3, 2]]
    t = middle[1 - i] + 1e-3
    c0, t0, c1, t1 = edges.T
    hit = (t0 <= t) != (t1 <= t)
    places = c0[hit] + (t - t0[hit]) / (t1[hit] - t0[hit]) * (c1[hit] - c0[hit])
    return 1 if np.count_nonzero(places < middle[i] - 0.25) % 2 == 0 else -1
