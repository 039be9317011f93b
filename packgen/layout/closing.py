"""Closing lines: where rails would end too far beyond their last leg along one wall, a line is put beside that wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from packgen.layout.ground import SAME_MM, Ground, Interval, Kind, Run, Stop, foot_places, pipe_intervals, within
from packgen.layout.lines import Sizes, Track, covers, in_order, usable_runs


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

    A wall, a face of a cut-out or a joint gets a closing line when every rail that ends there would stand over by
    more than allowed, or when rails along two modules of it stand over by more than half a module, and the line
    serves rails at least a module apart (or all of them, beside an outer wall). Single ends get a leg instead.
    """
    regular = list(lines)
    faces: dict[tuple[Stop, int], list[End]] = {}
    for end in _ends(ground, rails, lines, sizes):
        faces.setdefault((end.stop, end.out), []).append(end)
    made: list[Track] = []
    for key in sorted(faces, key=lambda k: (-_span(faces[k]), k[0].what, k[0].number, k[0].side, k[1])):
        face = [_with(end, made) for end in faces[key]]
        over = [e for e in face if e.over > e.limit + SAME_MM]
        everyone = len(over) == len(face)
        if not everyone:
            over = [e for e in over if e.over > sizes.module / 2]
            if _span(over) < 2 * sizes.module - SAME_MM:
                continue
        at, served = _place(ground, over, made, sizes, rails[0].kind)
        outermost = key[0].what == "wall" and all((at - line.at) * key[1] > 0 for line in regular)
        alone = outermost and everyone and len(served) == len(face)
        if served and (alone or _span(served) >= sizes.module - SAME_MM):
            runs = _extent(ground, kind, at, rails, served, sizes, outermost)
            if runs:
                made.append(Track(kind, at, runs, own=outermost))
    return in_order([*regular, *made])


def _span(ends: Sequence[End]) -> float:
    return max(e.line for e in ends) - min(e.line for e in ends) if ends else -1.0


def _ends(ground: Ground, rails: Sequence[Track], lines: Sequence[Track], sizes: Sizes) -> list[End]:
    """Both ends of every rail, with the crossing nearest to each at which a foot can stand."""
    out = []
    for rail in rails:
        for run in rail.runs:
            free = foot_places(ground, rail.kind, rail.at, run.lo, run.hi)
            met = [
                line.at
                for line in lines
                if run.lo - SAME_MM <= line.at <= run.hi + SAME_MM and covers(line, rail.at) and within(free, line.at)
            ]
            for out_way, at, stop in ((-1, run.lo, run.lo_stop), (1, run.hi, run.hi_stop)):
                if stop.what in ("wall", "cut-out", "joint"):
                    last = None if not met else (min(met) if out_way < 0 else max(met))
                    limit = sizes.joint_leg if stop.what == "joint" else sizes.overhang
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
    """Where a closing line serves most ends: whole mm; of equal places the one with fewest feet on services, then one
    where a closing line lies already, then the one nearest to the first line's distance from the nearest end."""
    if not over:
        return 0.0, []
    out = over[0].out
    windows = np.array([_window(e, ground.foot, sizes) for e in over])
    places = np.arange(math.ceil(windows[:, 0].min() - SAME_MM), math.floor(windows[:, 1].max() + SAME_MM) + 1.0)
    if len(places) == 0:
        return 0.0, []
    inside = (places[:, None] >= windows[None, :, 0] - SAME_MM) & (places[:, None] <= windows[None, :, 1] + SAME_MM)
    served = inside.sum(axis=1)
    wanted = min(e.at * out for e in over) * out - _back(over[0], sizes) * out
    best = np.nonzero(served == served.max())[0]
    wet = np.zeros(len(best))
    if len(ground.pipes) and over[0].stop.what != "wall":
        for i, end in enumerate(over):
            near = pipe_intervals(ground, rail_kind, end.line, 0.0)
            wet += [inside[j, i] and _inside(near, places[j]) for j in best]
    taken = {track.at for track in made}
    _, _, _, j = min((wet[k], places[i] not in taken, abs(places[i] - wanted), int(i)) for k, i in enumerate(best))
    return float(places[j]), [e for i, e in enumerate(over) if inside[j, i]]


def _window(end: End, foot: float, sizes: Sizes) -> Interval:
    """Where a closing line serves this end: not nearer to an edge than a first line to its wall (at a joint: than half
    a foot), not so far that the rail stands over too much, and with a foot's width between it and the last leg."""
    back = foot / 2 if end.stop.what == "joint" else max(foot / 2, _back(end, sizes))
    near, far = end.at - end.out * back, end.at - end.out * end.limit
    if end.last is not None:
        after = end.last + end.out * foot
        far = max(far, after) if end.out > 0 else min(far, after)
    return (far, near) if end.out > 0 else (near, far)


def _back(end: End, sizes: Sizes) -> float:
    """How far before a rail end the line beside the edge lies: as far from a wall or a joint as a first line."""
    return sizes.first if end.stop.what == "joint" else sizes.first - sizes.strip


def _inside(taken: Sequence[Interval], at: float) -> bool:
    return any(a < at < b for a, b in taken)


def _extent(
    ground: Ground, kind: Kind, at: float, rails: Sequence[Track], served: Sequence[End], sizes: Sizes, whole: bool
) -> tuple[Run, ...]:
    """The runs of the closing line. An outermost line runs as far as it can; one inside the room runs from the
    crossing before the first rail it serves to the crossing after the last, or to the wall if that comes first."""
    out = []
    for run in usable_runs(ground, kind, at, sizes):
        free = foot_places(ground, kind, at, run.lo, run.hi)
        met = sorted(r.at for r in rails if covers(r, at) and within(free, r.at))
        mine = [i for i, t in enumerate(met) if any(abs(e.line - t) < SAME_MM for e in served)]
        if not mine and not (whole and met):
            continue
        if not whole:
            first, last = mine[0], mine[-1]
            if first > 0:
                reach = first - 1 if met[first] - met[first - 1] <= sizes.module + SAME_MM else first
                run = replace(run, lo=met[reach], lo_stop=Stop("node"))
            if last < len(met) - 1:
                reach = last + 1 if met[last + 1] - met[last] <= sizes.module + SAME_MM else last
                run = replace(run, hi=met[reach], hi_stop=Stop("node"))
        if run.length >= sizes.smallest:
            out.append(run)
    return tuple(out)
