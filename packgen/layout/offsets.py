"""Where the first lines would have to lie so that fewest feet stand on services."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from packgen.core.plane import bounds
from packgen.layout.clashes import feet_on, to_stretch
from packgen.layout.grid import carried_rails, lay_tracks
from packgen.layout.ground import SAME_MM, Ground
from packgen.layout.lines import Sizes
from packgen.layout.model import Node, PipeRun
from packgen.survey.model import RoomOutline
from packgen.trade.layout_rules import LayoutRules

TRIED = 4  # places that the table ranks best are laid out in full, since legs at rail ends are not in the table


def better_first_lines(
    rooms: Sequence[tuple[RoomOutline, Ground]],
    pipes: Sequence[PipeRun],
    nodes: Sequence[Node],
    sizes: Sizes,
    rules: LayoutRules,
) -> tuple[float, float, int] | None:
    """First lines (from corner 1 along x, along y) with the fewest feet on services, and how many are left.

    All whole mm from the kit's first line up to the farthest allowed are counted by a table: a foot at every crossing.
    Of equal places the one with fewest feet nearer than wanted, then the one that stays best when the lines are set
    out a little off, then the nearest to the plain one. None where no foot stands on a service or none is better.
    """
    standing = feet_on([n.at for n in nodes], pipes, rooms[0][1].foot) if rooms else 0
    if standing == 0:
        return None
    shifts = np.arange(sizes.first, rules.first_line_most + SAME_MM)
    if len(shifts) < 2:
        return None
    on, near = (
        np.sum([_table(room, ground, shifts, sizes, extra) for room, ground in rooms], axis=0)
        for extra in (0.0, rules.near_service)
    )
    off = int(rules.first_line_off)
    order = np.lexsort(
        (
            np.add.outer(shifts, shifts).ravel(),
            _sum_near(near, off).ravel(),
            near.ravel(),
            _worst_near(on, off).ravel(),
            on.ravel(),
        )
    )
    best: tuple[int, float, float] | None = None
    for k in order[:TRIED]:
        x, y = float(shifts[k // len(shifts)]), float(shifts[k % len(shifts)])
        left = sum(_laid(room, ground, pipes, (x, y), sizes) for room, ground in rooms)
        if best is None or left < best[0]:
            best = (left, x, y)
        if left <= on.ravel()[k]:
            break
    if best is None or best[0] >= standing:
        return None
    return (best[1], best[2], best[0])


def _table(room: RoomOutline, ground: Ground, shifts: np.ndarray, sizes: Sizes, extra: float) -> np.ndarray:
    """Feet on services for every pair of shifts (first along x, then along y): every crossing counts."""
    if not ground.floor:
        return np.zeros((len(shifts), len(shifts)), dtype=int)
    boxes = [bounds(p) for p in ground.floor]
    corner = room.corners[0]
    xs = _places(corner[0] + shifts, min(b[0] for b in boxes), max(b[2] for b in boxes), sizes)
    ys = _places(corner[1] + shifts, min(b[1] for b in boxes), max(b[3] for b in boxes), sizes)
    fx, fy = xs.ravel(), ys.ravel()
    hit = np.zeros((len(fx), len(fy)), dtype=bool)
    for (ax, ay, bx, by), reach in zip(ground.pipes, ground.pipe_reach + extra, strict=True):
        i = np.nonzero((fx > min(ax, bx) - reach) & (fx < max(ax, bx) + reach))[0]
        j = np.nonzero((fy > min(ay, by) - reach) & (fy < max(ay, by) + reach))[0]
        if len(i) and len(j):
            hit[np.ix_(i, j)] |= to_stretch(fx[i][:, None], fy[j][None, :], ax, ay, bx, by) < reach - SAME_MM
    counted: np.ndarray = hit.reshape(*xs.shape, *ys.shape).sum(axis=(1, 3))
    return counted


def _places(firsts: np.ndarray, lo: float, hi: float, sizes: Sizes) -> np.ndarray:
    """A row of line places for each first line; places beyond the floor are not a number. The last column is the
    closing line, where there is one."""
    least = int(np.floor((lo - firsts.max()) / sizes.module))
    most = int(np.ceil((hi - firsts.min()) / sizes.module))
    table = firsts[:, None] + sizes.module * np.arange(least, most + 1)[None, :]
    table = np.where((table > lo) & (table < hi), table, np.nan)
    last = np.nanmax(table, axis=1)
    closing = np.where(hi - last > sizes.overhang, hi - (sizes.first - sizes.strip), np.nan)
    return np.concatenate([table, closing[:, None]], axis=1)


def _worst_near(table: np.ndarray, off: int) -> np.ndarray:
    """The greatest count among shifts up to `off` mm away in either direction."""
    worst: np.ndarray = _windows(table, off).max(axis=(2, 3))
    return worst


def _sum_near(table: np.ndarray, off: int) -> np.ndarray:
    """All counts among shifts up to `off` mm away in either direction, added up."""
    total: np.ndarray = _windows(table, off).sum(axis=(2, 3))
    return total


def _windows(table: np.ndarray, off: int) -> np.ndarray:
    padded = np.pad(table, off, mode="edge")
    return np.lib.stride_tricks.sliding_window_view(padded, (2 * off + 1, 2 * off + 1))


def _laid(
    room: RoomOutline, ground: Ground, pipes: Sequence[PipeRun], firsts: tuple[float, float], sizes: Sizes
) -> int:
    """Feet on services when the room is laid out in full from these first lines."""
    tracks = lay_tracks(ground, room.corners[0], firsts, sizes, (0, 0))
    spots = set()
    for _, track, parts in carried_rails(ground, tracks, sizes):
        for leg in (leg for part in parts for leg in part.legs):
            spots.add((track.at, leg.at) if track.kind == "lettered" else (leg.at, track.at))
    return feet_on(sorted(spots), pipes, ground.foot)
