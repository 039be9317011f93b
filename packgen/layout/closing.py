"""Closing lines: where rails would end too far beyond their last leg along one wall, a line is put beside that wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from packgen.layout.ground import (
    SAME_MM,
    TOUCH_MM,
    Ground,
    Interval,
    Kind,
    Run,
    Stop,
    foot_places,
    gaps_between,
    pipe_intervals,
    those_within,
)
from packgen.layout.lines import Sizes, Track, covers, in_order, runs_of, those_over, usable_runs


@dataclass(frozen=True, slots=True)
class End:
    """A rail end: the rail's line stands at `line`; the end lies at `at` along it; `last` is its nearest crossing.

    out: +1 where the rail ends upwards, -1 where it begins
    """

    line: float
    at: float
    out: int
    stop: Stop
    last: float | None
    limit: float

    @property
    def over(self) -> float:
        return math.inf if self.last is None else (self.at - self.last) * self.out


def close_edges(
    ground: Ground, kind: Kind, rails: Sequence[Track], lines: Sequence[Track], sizes: Sizes
) -> list[Track]:
    """The lines of that kind, and closing lines for the ends of `rails` (the other direction), in order.

    A wall, a face of a cut-out, a joint or a border gets a closing line when every rail that ends there would stand
    over by more than allowed, or when rails along two modules of it stand over by more than half a module, and the
    line serves rails at least a module apart (or all of them, beside an outer wall). Single ends get a leg instead.
    """
    regular = list(lines)
    faces: dict[tuple[Stop, int], list[End]] = {}
    for end in _ends(ground, rails, lines, sizes):
        faces.setdefault((end.stop, end.out), []).append(end)
    made: list[Track] = []
    for key in sorted(faces, key=lambda k: (-round(_span(faces[k]), 3), k[0].what, k[0].number, k[0].side, k[1])):
        while track := _beside(ground, kind, key[0], key[1], faces[key], rails, regular, made, sizes):
            made.append(track)
    return in_order([*regular, *made])


def _beside(
    ground: Ground,
    kind: Kind,
    stop: Stop,
    out: int,
    ends: Sequence[End],
    rails: Sequence[Track],
    regular: Sequence[Track],
    made: Sequence[Track],
    sizes: Sizes,
) -> Track | None:
    """The next closing line along one face, where one is worth its while."""
    face = [_with(end, made) for end in ends]
    over = [e for e in face if e.over > max(e.limit, sizes.smallest - 2 * TOUCH_MM) + SAME_MM]
    everyone = len(over) == len(face)
    if not everyone:
        over = [e for e in over if e.over > sizes.module / 2]
        if _span(over) < 2 * sizes.module - SAME_MM:
            return None
    at, served = _place(ground, over, made, sizes, rails[0].kind)
    outermost = stop.what == "wall" and all((at - line.at) * out > 0 for line in (*regular, *made))
    alone = outermost and everyone and len(served) == len(face)
    if not served or not (alone or _span(served) >= sizes.module - SAME_MM):
        return None
    runs = _extent(ground, kind, at, rails, [*regular, *made], served, sizes, outermost)
    return Track(kind, at, runs, own=outermost) if _serves(runs, served) else None


def _serves(runs: Sequence[Run], served: Sequence[End]) -> bool:
    """Whether the line still meets one of the rails it is laid for."""
    return any(run.lo - SAME_MM <= e.line <= run.hi + SAME_MM for run in runs for e in served)


def _span(ends: Sequence[End]) -> float:
    return max(e.line for e in ends) - min(e.line for e in ends) if ends else -1.0


def _ends(ground: Ground, rails: Sequence[Track], lines: Sequence[Track], sizes: Sizes) -> list[End]:
    """Both ends of every rail, with the crossing nearest to each at which a foot can stand."""
    out = []
    others = runs_of(lines)
    for rail in rails:
        over = those_over(others, rail.at)
        for run in rail.runs:
            free = foot_places(ground, rail.kind, rail.at, run.lo, run.hi)
            met = those_within(free, [at for at in over if run.lo - SAME_MM <= at <= run.hi + SAME_MM])
            for out_way, at, stop in ((-1, run.lo, run.lo_stop), (1, run.hi, run.hi_stop)):
                if stop.what not in ("node", "no foot"):
                    last = None if not met else (min(met) if out_way < 0 else max(met))
                    limit = sizes.joint_leg if stop.in_floor else sizes.overhang
                    out.append(End(rail.at, at, out_way, stop, last, limit))
    return out


def _with(end: End, made: Sequence[Track]) -> End:
    """The end after the closing lines made so far, of which one may pass nearer to it."""
    for line in made:
        left = (end.at - line.at) * end.out
        if 0 <= left < end.over and covers(line, end.line):
            end = replace(end, last=line.at)
    return end


def _place(
    ground: Ground, over: Sequence[End], made: Sequence[Track], sizes: Sizes, rail_kind: Kind
) -> tuple[float, list[End]]:
    """Where a closing line serves most ends, in whole mm.

    Of equal places the one with fewest feet on services, then the one that fewest rails end short of, then one where
    the base was levelled (so that legs stand on readings and bear their names) or a closing line lies already, then
    the nearest to the first line's distance.
    """
    if not over:
        return 0.0, []
    out = over[0].out
    windows = np.array([_window(e, ground, sizes) for e in over])
    corner = ground.corner[1 if rail_kind == "lettered" else 0]
    begin, end = windows[:, 0].min() - corner - SAME_MM, windows[:, 1].max() - corner + SAME_MM
    places = corner + np.arange(math.ceil(begin), math.floor(end) + 1.0)
    if len(places) == 0:
        return 0.0, []
    inside = (places[:, None] >= windows[None, :, 0] - SAME_MM) & (places[:, None] <= windows[None, :, 1] + SAME_MM)
    served = inside.sum(axis=1)
    most = sizes.first_most - sizes.first
    wanted = (_nearest_edge(ground, over, rail_kind) - _back(over[0], sizes)) * out
    best = np.nonzero(served == served.max())[0]
    wet = np.zeros(len(best))
    if len(ground.pipes) and over[0].stop.what != "wall":
        for i, end in enumerate(over):
            near = pipe_intervals(ground, rail_kind, end.line, 0.0)
            wet += inside[best, i] & _inside(near, places[best])
    short = ((places[:, None] - windows[None, :, 1 if out > 0 else 0]) * out > SAME_MM).sum(axis=1)
    taken = {round(track.at, 3) for track in made}
    read = {round(at, 3) for at in ground.read[0 if rail_kind == "numbered" else 1] if abs(at - wanted) <= most}
    at = [round(place, 3) for place in places.tolist()]
    j = min(
        (wet[k], short[i], at[i] not in read, at[i] not in taken, round(abs(places[i] - wanted), 3), int(i))
        for k, i in enumerate(best)
    )[-1]
    return float(places[j]), [e for i, e in enumerate(over) if inside[j, i]]


def _nearest_edge(ground: Ground, over: Sequence[End], rail_kind: Kind) -> float:
    """How far out the wall or face begins, seen from the rails: for a skew wall its nearest corner."""
    stop, out = over[0].stop, over[0].out
    side = [1, 3] if rail_kind == "lettered" else [0, 2]
    mine = [i for i, owner in enumerate(ground.owners) if owner == stop]
    places = ground.edges[mine][:, side].ravel() if mine else np.array([e.at for e in over])
    return float((places * out).min())


def _window(end: End, ground: Ground, sizes: Sizes) -> Interval:
    """Where a closing line serves this end: not nearer to an edge than a first line to its wall (at a joint: than half
    a foot), not so far that the rail stands over too much, with a foot's width between its rail and the last leg's."""
    half = ground.foot / 2
    back = half if end.stop.in_floor else max(half, _back(end, sizes))
    near, far = end.at - end.out * back, end.at - end.out * end.limit
    if end.last is not None:
        after = end.last + end.out * (ground.foot + ground.rail)
        far = max(far, after) if end.out > 0 else min(far, after)
    return (far, near) if end.out > 0 else (near, far)


def _back(end: End, sizes: Sizes) -> float:
    """How far before a rail end the line beside the edge lies: as far from a wall or a joint as a first line."""
    return sizes.first if end.stop.in_floor else sizes.first - sizes.strip


def _inside(taken: Sequence[Interval], at: np.ndarray) -> np.ndarray:
    """For each place whether it lies in one of the stretches: more of them have begun before it than ended."""
    begin, end = np.sort(np.array(taken, dtype=float).reshape(-1, 2), axis=0).T
    inside: np.ndarray = np.searchsorted(begin, at, "left") > np.searchsorted(end, at, "right")
    return inside


def _extent(
    ground: Ground,
    kind: Kind,
    at: float,
    rails: Sequence[Track],
    beside: Sequence[Track],
    served: Sequence[End],
    sizes: Sizes,
    whole: bool,
) -> tuple[Run, ...]:
    """The runs of the closing line. An outermost line runs as far as it can; one inside the room runs from the
    crossing before the first rail it serves to the crossing after the last, or to the wall if that comes first. It
    stops at the rails it serves where the next crossing is more than a module away."""
    out = []
    over = sorted(those_over(runs_of(rails), at))
    for run in _clear_of_neighbours(ground, kind, at, beside, sizes):
        free = foot_places(ground, kind, at, run.lo, run.hi)
        met = those_within(free, over)
        mine = [i for i, t in enumerate(met) if any(abs(e.line - t) < SAME_MM for e in served)]
        if not mine and not (whole and met):
            continue
        if not whole:
            lo, hi = _reach(met, mine[0], -1, sizes.module), _reach(met, mine[-1], 1, sizes.module)
            run = run if lo is None else replace(run, lo=lo, lo_stop=Stop("node"))
            run = run if hi is None else replace(run, hi=hi, hi_stop=Stop("node"))
        if run.length >= sizes.smallest:
            out.append(run)
    return tuple(out)


def _reach(met: Sequence[float], here: int, step: int, module: float) -> float | None:
    """Where a short line ends beyond its outermost served rail; None where it runs on to the edge of the floor."""
    if not 0 <= here + step < len(met):
        return None
    there = met[here + step]
    return there if abs(there - met[here]) <= module + SAME_MM else met[here]


def _clear_of_neighbours(ground: Ground, kind: Kind, at: float, beside: Sequence[Track], sizes: Sizes) -> list[Run]:
    """The usable runs less the stretches along which a rail of the same direction lies less than a foot's width
    beside; two rails with a joint or border between them are no such neighbours."""
    cross = ground.joint_axes[:, [0, 2]] if kind == "lettered" else ground.joint_axes[:, [1, 3]]
    taken = []
    for line in beside:
        parted = any(min(line.at, at) < c.min() and c.max() < max(line.at, at) for c in cross)
        if abs(line.at - at) < (ground.foot if parted else ground.foot + ground.rail) - SAME_MM:
            taken += [(r.lo - ground.rail, r.hi + ground.rail) for r in line.runs]
    out = []
    for run in usable_runs(ground, kind, at, sizes):
        for lo, hi in gaps_between(taken, run.lo, run.hi):
            if hi - lo >= sizes.smallest and foot_places(ground, kind, at, lo, hi):
                lo_stop = run.lo_stop if lo == run.lo else Stop("no foot")
                hi_stop = run.hi_stop if hi == run.hi else Stop("no foot")
                out.append(Run(lo, hi, lo_stop, hi_stop))
    return out
