"""What lines find at every whole millimetre: runs, places without a foot and services, for many places at once.

The search for the best first lines asks this of every place in the room. Between two corners of the floor that are not
skew nothing changes, so places are sorted into stretches that are alike and only one of each is looked at.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packgen.layout.ground import SAME_MM, TOUCH_MM, Ground, Kind

CHUNK = 256  # places looked at together, so that tables stay small


@dataclass(frozen=True, eq=False)
class Places:
    """Where lines of one kind can stand: first + module k, for every whole millimetre of first.

    at: (turns k, firsts), where the line really stands: beside a joint that runs along under it; not a number outside
    the floor
    """

    kind: Kind
    at: np.ndarray

    @property
    def firsts(self) -> int:
        return int(self.at.shape[1])

    @property
    def up(self) -> np.ndarray:
        """All places in one row that runs up; endless outside the floor."""
        flat = np.where(np.isnan(self.at), np.inf, self.at).ravel()
        outside = np.flatnonzero(np.isfinite(flat))
        flat[: outside[0] if len(outside) else 0] = -np.inf
        return flat


@dataclass(frozen=True, eq=False)
class Alike:
    """same: for each place of `Places.up` the number of the one it is like, -1 outside the floor.

    at: where those lie
    """

    same: np.ndarray
    at: np.ndarray


def all_places(ground: Ground, kind: Kind, corner: float, lo: float, hi: float, module: float) -> Places:
    """Every whole mm from `corner` on for the first line, and all lines of the module between lo and hi."""
    firsts = np.arange(int(np.ceil(module)), dtype=float)
    least, most = int(np.floor((lo - corner) / module)), int(np.ceil((hi - corner) / module))
    raw = corner + firsts[None, :] + module * np.arange(least, most + 1)[:, None]
    at = _clear_of_joints(ground, kind, raw)
    at[(raw <= lo) | (raw >= hi)] = np.nan
    return Places(kind, at)


def _clear_of_joints(ground: Ground, kind: Kind, raw: np.ndarray) -> np.ndarray:
    """As `lines.clear_of_joints`, for many places: the first joint that a line would run along moves it."""
    at, moved = raw.copy(), np.zeros(raw.shape, dtype=bool)
    cross = ground.joint_axes[:, [0, 2]] if kind == "lettered" else ground.joint_axes[:, [1, 3]]
    for ends, reach in zip(cross, ground.joint_reach, strict=True):
        hit = (np.abs(raw - ends[0]) < reach) & (np.abs(raw - ends[1]) < reach) & ~moved
        corner = ground.corner[0 if kind == "lettered" else 1]
        before = corner + np.floor(ends.min() - reach - corner + SAME_MM)
        after = corner + np.ceil(ends.max() + reach - corner - SAME_MM)
        at[hit] = np.where(raw[hit] - before <= after - raw[hit] + SAME_MM, before, after)
        moved |= hit
    return at


def alike(ground: Ground, places: Places, near: float | None) -> Alike:
    """Sorts places by what a line finds there: edges and joints, and services to `near` mm from a foot."""
    kind, at = places.kind, places.at.ravel()
    order = np.argsort(at, kind="stable")
    up = at[order]
    up = up[: np.count_nonzero(~np.isnan(up))]
    own = np.zeros(len(up) + 1, dtype=int)
    half = ground.rail / 2
    for rows, reach in _reaches(ground, kind, near):
        level = np.abs(rows[:, 1] - rows[:, 3]) < SAME_MM
        low, high = np.minimum(rows[:, 0], rows[:, 2]), np.maximum(rows[:, 0], rows[:, 2])
        wide = np.maximum(reach, half) + 1.0
        for begin, end, which in (
            (low - wide, high + wide, ~level),
            (low - wide, low + wide, level),
            (high - wide, high + wide, level),
        ):
            np.add.at(own, np.searchsorted(up, begin[which], "left"), 1)
            np.add.at(own, np.searchsorted(up, end[which], "right"), -1)
    changing = np.cumsum(own)[:-1] > 0
    fresh = np.ones(len(up), dtype=bool)
    fresh[1:] = changing[1:] | changing[:-1]
    fresh[1:] &= up[1:] != up[:-1]
    same = np.full(len(at), -1)
    same[order[: len(up)]] = np.cumsum(fresh) - 1
    return Alike(same, up[fresh])


def _reaches(ground: Ground, kind: Kind, near: float | None) -> list[tuple[np.ndarray, np.ndarray]]:
    bars = [_turned(bar, kind) for _, bar in ground.bars]
    found = [(s.rows, s.reach) for s in (ground.edges_by[kind], ground.joints_by[kind])]
    if near is not None:
        found.append((ground.pipes_by[kind].rows, ground.pipes_by[kind].reach + near))
    return found + [(bar, np.zeros(len(bar))) for bar in bars]


def _turned(rows: np.ndarray, kind: Kind) -> np.ndarray:
    return rows if kind == "lettered" else rows[:, [1, 0, 3, 2]]


# --------------------------------------------------------------------------------- looking


def feet_off(ground: Ground, kind: Kind, at: np.ndarray) -> np.ndarray:
    """Rows (number of the place, from, to): where no foot can stand, off the floor or over a joint. `at` runs up."""
    return _rows([near_rows(s.rows, s.reach, at) for s in (ground.edges_by[kind], ground.joints_by[kind])])


def feet_wet(ground: Ground, kind: Kind, at: np.ndarray, near: float) -> np.ndarray:
    """Rows (number of the place, from, to): where a foot would stand nearer than `near` to a service."""
    return _rows([near_rows(ground.pipes_by[kind].rows, ground.pipes_by[kind].reach + near, at)])


def _rows(parts: Sequence[np.ndarray]) -> np.ndarray:
    rows = np.concatenate(parts)
    ordered: np.ndarray = rows[np.argsort(rows[:, 0], kind="stable")]
    return ordered


def runs_at(ground: Ground, kind: Kind, at: np.ndarray, wall_limit: float, joint_limit: float) -> np.ndarray:
    """Rows (number of the place, from, to, how far a rail may stand over before, after): where rails can lie."""
    parts = []
    for first in range(0, len(at), CHUNK):
        rows = _runs(ground, kind, at[first : first + CHUNK], wall_limit, joint_limit)
        rows[:, 0] += first
        parts.append(rows)
    return np.concatenate(parts) if parts else np.empty((0, 5))


def near_rows(rows: np.ndarray, reach: np.ndarray, at: np.ndarray) -> np.ndarray:
    """As `strips.near_intervals` for many lines at once: rows (number of the line, from, to)."""
    parts = [np.empty((0, 3))]
    for first in range(0, len(at), CHUNK):
        found = _near_rows(rows, reach, at[first : first + CHUNK])
        found[:, 0] += first
        parts.append(found)
    return np.concatenate(parts)


def _near_rows(rows: np.ndarray, reach: np.ndarray, at: np.ndarray) -> np.ndarray:
    near = (np.minimum(rows[:, 0], rows[:, 2]) - reach < at.max()) & (
        np.maximum(rows[:, 0], rows[:, 2]) + reach > at.min()
    )
    rows, r = rows[near], reach[near][None, :]
    if len(rows) == 0:
        return np.empty((0, 3))
    c0, t0, c1, t1 = (rows[:, k][None, :] for k in range(4))
    a = at[:, None]
    low = np.full((len(at), len(rows)), np.inf)
    high = np.full((len(at), len(rows)), -np.inf)
    for c, t in ((c0, t0), (c1, t1)):
        off = np.abs(a - c)
        side = np.sqrt(np.maximum(r * r - off * off, 0.0))
        hit = off < r
        low = np.where(hit, np.minimum(low, t - side), low)
        high = np.where(hit, np.maximum(high, t + side), high)
    length = np.hypot(c1 - c0, t1 - t0)
    long = np.where(length > SAME_MM, length, np.inf)
    nc, nt = (t1 - t0) / long * r, -(c1 - c0) / long * r
    for sign in (-1, 1):
        p, q = c0 + sign * nc, c1 + sign * nc
        hit = (p <= a) != (q <= a)
        place = t0 + sign * nt + (a - p) / np.where(hit, q - p, 1.0) * (t1 - t0)
        low = np.where(hit, np.minimum(low, place), low)
        high = np.where(hit, np.maximum(high, place), high)
    line, piece = np.nonzero(low < high)
    return np.column_stack([line.astype(float), low[line, piece], high[line, piece]])


def _runs(ground: Ground, kind: Kind, at: np.ndarray, wall_limit: float, joint_limit: float) -> np.ndarray:
    """As `ground.clear_runs` for many lines: rows (index of the line, from, to, limit before, limit after)."""
    half = ground.rail / 2 - TOUCH_MM
    rows = _turned(ground.edges, kind)
    blocks = [_shadows(rows, at, half)]
    limits = [np.full(len(rows), wall_limit)]
    for _, bar in ground.bars:
        low, high = _shadows(_turned(bar, kind), at, half)
        blocks.append((low.min(axis=1, keepdims=True), high.max(axis=1, keepdims=True)))
        limits.append(np.array([joint_limit]))
    low = np.concatenate([b[0] for b in blocks], axis=1)
    high = np.concatenate([b[1] for b in blocks], axis=1)
    used = np.isfinite(low).any(axis=0)
    low, high, limit = low[:, used], high[:, used], np.concatenate(limits)[used]
    if low.shape[1] < 2:
        return np.empty((0, 5))
    order = np.argsort(low, axis=1, kind="stable")
    low, high = np.take_along_axis(low, order, 1), np.take_along_axis(high, order, 1)
    reached = np.maximum.accumulate(high, axis=1)
    place = np.broadcast_to(np.arange(high.shape[1]), high.shape)
    newest = np.ones(high.shape, dtype=bool)
    newest[:, 1:] = high[:, 1:] > reached[:, :-1]
    owner = np.maximum.accumulate(np.where(newest, place, 0), axis=1)
    line, gap = np.nonzero(np.isfinite(low[:, 1:]) & (low[:, 1:] - reached[:, :-1] > SAME_MM))
    a, b = reached[line, gap], low[line, gap + 1]
    inside = _inside(rows, at[line], (a + b) / 2)
    before = limit[order[line, owner[line, gap]]]
    after = limit[order[line, gap + 1]]
    runs: np.ndarray = np.column_stack([line.astype(float), a, b, before, after])[inside]
    return runs


def _shadows(rows: np.ndarray, at: np.ndarray, half: float) -> tuple[np.ndarray, np.ndarray]:
    """What each edge covers of a band round each line: from, to; endless where it covers nothing."""
    c0, t0, c1, t1 = (rows[:, k][None, :] for k in range(4))
    a = at[:, None]
    near = (np.minimum(c0, c1) < a + half) & (np.maximum(c0, c1) > a - half)
    span = c1 - c0
    along = np.abs(span) < SAME_MM
    safe = np.where(along, 1.0, span)
    u = np.clip((a - half - c0) / safe, 0.0, 1.0)
    v = np.clip((a + half - c0) / safe, 0.0, 1.0)
    p, q = np.where(along, t0, t0 + u * (t1 - t0)), np.where(along, t1, t0 + v * (t1 - t0))
    return np.where(near, np.minimum(p, q), np.inf), np.where(near, np.maximum(p, q), -np.inf)


def _inside(rows: np.ndarray, at: np.ndarray, along: np.ndarray) -> np.ndarray:
    """Whether each place (at across, along) lies in the floor: an odd number of edges is passed before it."""
    c0, t0, c1, t1 = (rows[:, k][None, :] for k in range(4))
    a = at[:, None]
    hit = (c0 <= a) != (c1 <= a)
    turn = t0 + (a - c0) / np.where(hit, c1 - c0, 1.0) * (t1 - t0)
    inside: np.ndarray = (hit & (turn < along[:, None])).sum(axis=1) % 2 == 1
    return inside


def clear_of(taken: np.ndarray, first: int, count: int, up: np.ndarray) -> np.ndarray:
    """A table (place from `first` on, cross place): whether it lies in none of the taken stretches."""
    a, b = np.searchsorted(taken[:, 0], [first, first + count])
    row = taken[a:b, 0].astype(int) - first
    begin = np.searchsorted(up, taken[a:b, 1] + SAME_MM, "right")
    end = np.searchsorted(up, taken[a:b, 2] - SAME_MM, "left")
    steps = np.zeros((count, len(up) + 1), dtype=np.int8 if len(taken) < 127 else np.int16)
    some = begin < end
    np.add.at(steps, (row[some], begin[some]), 1)
    np.add.at(steps, (row[some], end[some]), -1)
    free: np.ndarray = np.cumsum(steps, axis=1, dtype=steps.dtype)[:, :-1] == 0
    return free
