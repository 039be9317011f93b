"""Where on a line a rail can lie and a foot can stand: the floor of one room as edges, seen along a line.

Everything here works for both directions: `across` is the coordinate at which a line stands (x for lettered lines,
y for numbered ones), `along` the other one, which grows along the line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from packgen.core.plane import Point, Polygon, Segment, band, pairs
from packgen.layout.strips import Strips, strips
from packgen.survey.model import RoomOutline

Kind = Literal["lettered", "numbered"]
KINDS: tuple[Kind, ...] = ("lettered", "numbered")
Interval = tuple[float, float]

TOUCH_MM = 0.05  # a rail or foot may come this close over an edge: the floor is not known any better
SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Stop:
    """What ends a rail: a wall, a cut-out, a joint or a border of zones by number, a crossing node, or nothing it
    could stand on.

    side: at a joint or border "a" for the part nearer corner 1, else "b"
    """

    what: Literal["wall", "cut-out", "joint", "border", "node", "no foot"]
    number: int = 0
    side: str = ""

    @property
    def in_floor(self) -> bool:
        """Whether floor goes on behind it: a joint or a border."""
        return self.what in ("joint", "border")


@dataclass(frozen=True, slots=True)
class Break:
    """A line across the floor at which every rail ends: a joint, or a border of zones (of no width)."""

    stop: Stop
    line: Segment
    width_mm: float


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of a line on which a rail can lie: from `lo` to `hi` along the line."""

    lo: float
    hi: float
    lo_stop: Stop
    hi_stop: Stop

    @property
    def length(self) -> float:
        return self.hi - self.lo


@dataclass(frozen=True, eq=False)
class Ground:
    """The floor of one room inside its perimeter strip, as arrays of edges (x0, y0, x1, y1).

    bars: joints and borders as rectangles that no rail may cross
    pipes: axes of services, with the reach of a foot round them
    read: where the base was levelled: columns (x) and rows (y)
    edges_by, joints_by, pipes_by: what keeps feet away, for lines of each kind
    """

    room: str
    floor: tuple[Polygon, ...]
    edges: np.ndarray
    owners: tuple[Stop, ...]
    bars: tuple[tuple[Stop, np.ndarray], ...]
    joint_axes: np.ndarray
    joint_reach: np.ndarray
    pipes: np.ndarray
    pipe_reach: np.ndarray
    read: tuple[tuple[float, ...], tuple[float, ...]]
    foot: float
    rail: float
    corner: Point  # corner 1 of the room: whole mm are counted from it
    edges_by: Mapping[Kind, Strips] = field(init=False, repr=False)
    joints_by: Mapping[Kind, Strips] = field(init=False, repr=False)
    pipes_by: Mapping[Kind, Strips] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        radius = np.full(len(self.edges), self.foot / 2 - TOUCH_MM)
        for name, rows, reach in (
            ("edges_by", self.edges, radius),
            ("joints_by", self.joint_axes, self.joint_reach - TOUCH_MM),
            ("pipes_by", self.pipes, self.pipe_reach),
        ):
            object.__setattr__(self, name, {kind: strips(_turned(rows, kind), reach) for kind in KINDS})


def make_ground(
    outline: RoomOutline,
    floor: Sequence[Polygon],
    breaks: Sequence[Break],
    pipes: Sequence[tuple[Segment, float]],
    read: tuple[tuple[float, ...], tuple[float, ...]],
    foot_mm: float,
    rail_mm: float,
) -> Ground:
    """`floor` lies inside the perimeter strip; pipes: axis and half its outside diameter."""
    edges = [(a, b) for p in floor for ring in (p.shell, *p.holes) for a, b in pairs(ring)]
    bars, axes, reach = [], [], []
    for part in breaks:
        shape = band(part.line, max(part.width_mm, 2 * TOUCH_MM))
        bars.append((part.stop, _rows([(a, b) for a, b in pairs(shape.shell)])))
        axes.append((part.line.a, part.line.b))
        reach.append((foot_mm + part.width_mm) / 2)
    return Ground(
        outline.name,
        tuple(floor),
        _rows(edges),
        _owners(outline, edges),
        tuple(bars),
        _rows(axes),
        np.array(reach),
        _rows([(s.a, s.b) for s, _ in pipes]),
        np.array([foot_mm / 2 + half for _, half in pipes]),
        read,
        foot_mm,
        rail_mm,
        outline.corners[0],
    )


def _rows(segments: Sequence[tuple[Point, Point]]) -> np.ndarray:
    return np.array([(*a, *b) for a, b in segments], dtype=float).reshape(-1, 4)


def _owners(outline: RoomOutline, edges: Sequence[tuple[Point, Point]]) -> tuple[Stop, ...]:
    """Which wall or cut-out each edge of the floor belongs to: the nearest to the middle of the edge."""
    sides: list[tuple[Stop, Segment]] = [(Stop("wall", w.number), piece) for w in outline.walls for piece in w.pieces]
    for number, cut in enumerate(outline.cut_outs, 1):
        sides += [(Stop("cut-out", number), Segment(a, b)) for a, b in pairs(cut.shape.shell)]
    rows = _rows([(line.a, line.b) for _, line in sides])
    spans = np.maximum(((rows[:, 2:] - rows[:, :2]) ** 2).sum(axis=1), SAME_MM)
    found = []
    for a, b in edges:
        middle = np.array([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])
        t = np.clip(((middle - rows[:, :2]) * (rows[:, 2:] - rows[:, :2])).sum(axis=1) / spans, 0.0, 1.0)
        apart = np.hypot(*(middle - rows[:, :2] - t[:, None] * (rows[:, 2:] - rows[:, :2])).T)
        found.append(sides[int(np.argmin(np.round(apart, 3)))][0])
    return tuple(found)


def _turned(rows: np.ndarray, kind: Kind) -> np.ndarray:
    """Edges as (across, along, across, along) for lines of that kind."""
    return rows if kind == "lettered" else rows[:, [1, 0, 3, 2]]


# --------------------------------------------------------------------------------- where a rail can lie


def clear_runs(ground: Ground, kind: Kind, at: float) -> list[Run]:
    """The stretches of a line on which the whole width of a rail lies on the floor, clear of joints.

    The stretch is the longest rectangle of the rail's width: no corner of the rail passes an edge of the floor.
    """
    half = ground.rail / 2 - TOUCH_MM
    rows = _turned(ground.edges, kind)
    blocks = [(lo, hi, ground.owners[i]) for i, lo, hi in _shadows(rows, at, half)]
    for stop, bar in ground.bars:
        parts = _shadows(_turned(bar, kind), at, half)
        if parts:
            blocks.append((min(p[1] for p in parts), max(p[2] for p in parts), stop))
    blocks.sort(key=lambda b: (b[0], b[1], b[2].what, b[2].number))
    turns = _axis_turns(rows, at)
    runs: list[Run] = []
    reached: tuple[float, Stop] | None = None
    for lo, hi, stop in blocks:
        if reached is not None and lo - reached[0] > SAME_MM:
            middle = (lo + reached[0]) / 2
            if int(np.count_nonzero(turns < middle)) % 2 == 1:
                runs.append(Run(reached[0], lo, _sided(reached[1], "b"), _sided(stop, "a")))
        if reached is None or hi > reached[0]:
            reached = (hi, stop)
    return runs


def _sided(stop: Stop, side: str) -> Stop:
    return replace(stop, side=side) if stop.in_floor else stop


def _shadows(rows: np.ndarray, at: float, half: float) -> list[tuple[int, float, float]]:
    """What each edge covers of a band round the line: (edge, from, to) along the line."""
    if len(rows) == 0:
        return []
    c0, t0, c1, t1 = rows.T
    near = np.nonzero((np.minimum(c0, c1) < at + half) & (np.maximum(c0, c1) > at - half))[0]
    out = []
    for i in near:
        span = c1[i] - c0[i]
        if abs(span) < SAME_MM:
            ends = (t0[i], t1[i])
        else:
            u = sorted((min(1.0, max(0.0, (edge - c0[i]) / span))) for edge in (at - half, at + half))
            ends = tuple(t0[i] + v * (t1[i] - t0[i]) for v in u)
        out.append((int(i), float(min(ends)), float(max(ends))))
    return out


def _axis_turns(rows: np.ndarray, at: float) -> np.ndarray:
    """Where the middle of the line passes an edge of the floor, in order."""
    c0, t0, c1, t1 = rows.T
    hit = (c0 <= at) != (c1 <= at)
    return np.sort(t0[hit] + (at - c0[hit]) / (c1[hit] - c0[hit]) * (t1[hit] - t0[hit]))


# --------------------------------------------------------------------------------- where a foot can stand


def foot_places(ground: Ground, kind: Kind, at: float, lo: float, hi: float) -> list[Interval]:
    """The stretches on which a foot stands whole on the floor and on one side of every joint; lo to hi is floor."""
    return gaps_between([*ground.edges_by[kind].near(at), *ground.joints_by[kind].near(at)], lo, hi)


def pipe_intervals(ground: Ground, kind: Kind, at: float, extra: float) -> tuple[Interval, ...]:
    """The stretches of a line on which a foot would come nearer than `extra` to a service."""
    return ground.pipes_by[kind].near(at, extra)


def gaps_between(taken: Sequence[Interval], lo: float, hi: float) -> list[Interval]:
    """What is left of lo to hi outside the taken stretches."""
    left, at = [], lo
    for a, b in sorted(taken):
        if a > at and at <= hi:
            left.append((at, min(a, hi)))
        at = max(at, b)
    if at <= hi:
        left.append((at, hi))
    return [(a, b) for a, b in left if b >= a]


def nearest_in(free: Sequence[Interval], wanted: float) -> float | None:
    """The place in the stretches nearest to the wanted one, the lower of two equally near."""
    places = [min(max(wanted, a), b) for a, b in free]
    return min(places, key=lambda p: (round(abs(p - wanted), 6), p)) if places else None


def those_within(free: Sequence[Interval], places: Sequence[float]) -> list[float]:
    """The places that lie in one of the stretches."""
    if not free or not places:
        return []
    at, (begin, end) = np.array(places), np.array(free).T[:, :, None]
    inside = ((begin - SAME_MM <= at) & (at <= end + SAME_MM)).any(axis=0)
    return [t for t, hit in zip(places, inside.tolist(), strict=True) if hit]
