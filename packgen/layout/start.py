"""The first lines of a room: those the file pins, or the best found, laid out in full beside the plainest."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packgen.core.plane import Point, Segment
from packgen.layout.clashes import feet_on
from packgen.layout.cut_list import cut_list
from packgen.layout.grid import Grid, NamedTrack, lay_grid, lay_tracks
from packgen.layout.ground import Ground
from packgen.layout.lines import Sizes
from packgen.layout.merits import ALONG_RAILS, Aims, Field, field_of, line_merits, read_merit
from packgen.layout.model import FirstLinesChoice, PipeRun, Stock, Weighed
from packgen.layout.offsets import Pick, picks
from packgen.layout.rails import Bars
from packgen.project.work_model import Merit

NONE_WANTED: tuple[Merit, ...] = ("no short pieces", "no feet on pipes", "no feet near pipes")
MANY_WANTED: tuple[Merit, ...] = ("legs on readings",)
TRIED = 4  # pairs laid out in full: the tables leave out what lines beside walls and legs between bring


@dataclass(frozen=True)
class Kept:
    """What stays the same for every pair of first lines. before: names that earlier rooms have used."""

    room: str
    corner: Point
    ground: Ground
    sizes: Sizes
    aims: Aims
    pipes: Sequence[PipeRun]
    order: Sequence[Merit]
    leg_reach: float
    bars: Bars
    before: tuple[int, int]


@dataclass(frozen=True)
class Laid:
    """A room laid out from one pair of first lines."""

    firsts: tuple[float, float]
    tracks: tuple[NamedTrack, ...]
    grid: Grid


def lay(kept: Kept, firsts: tuple[float, float]) -> Laid:
    tracks = lay_tracks(kept.ground, kept.corner, firsts, kept.sizes, kept.before)
    return Laid(firsts, tracks, lay_grid(kept.ground, tracks, kept.sizes, kept.bars, kept.leg_reach, kept.aims.off))


def pinned(kept: Kept, firsts: tuple[float, float], plain: tuple[float, float]) -> tuple[Laid, FirstLinesChoice]:
    """The room from the first lines of the file."""
    return lay(kept, firsts), FirstLinesChoice(kept.room, "file", firsts, plain, tuple(kept.order), None, ())


def searched(kept: Kept, plain: tuple[float, float]) -> tuple[Laid, FirstLinesChoice]:
    """The room from the best first lines: of a few that the tables rank first, laid out in full, the best of those that
    are not worse there than the plainest, up to the merit that decides."""
    order = tuple(kept.order)
    wanted = kept.ground.floor and order[0] != "plain first lines"
    field = field_of(kept.ground, kept.corner, kept.sizes, kept.aims) if wanted else None
    before: tuple[Laid, Mapping[Merit, int]] | None = None
    found: list[tuple[tuple[int, ...], Pick, Laid, Mapping[Merit, int]]] = []
    for pick in itertools.islice(picks([field] if field else [], order, plain, round(kept.aims.off)), TRIED):
        if pick.decided is None or field is None:
            break
        before = before or _with_figures(kept, field, plain)
        laid, here = _with_figures(kept, field, (float(pick.firsts[0]), float(pick.firsts[1])))
        if _holds(pick, order, before[1], here):
            found.append((_rank(order, here), pick, laid, here))
            if all(here[name] == 0 for name in order[: order.index(pick.decided) + 1] if name in NONE_WANTED):
                break
    if not found or before is None:
        return before[0] if before else lay(kept, plain), FirstLinesChoice(
            kept.room, "search", plain, plain, order, None, ()
        )
    _, pick, laid, here = min(found, key=lambda f: f[0])
    there = before[1]
    return laid, FirstLinesChoice(
        kept.room,
        "search",
        laid.firsts,
        plain,
        order,
        pick.decided,
        tuple(Weighed(name, there[name], here[name]) for name in order if name in here),
        tuple(Segment(r.start, r.end) for r in before[0].grid.rails),
        tuple(n.at for n in before[0].grid.nodes if feet_on([n.at], kept.pipes, kept.ground.foot)),
    )


def _with_figures(kept: Kept, field: Field, firsts: tuple[float, float]) -> tuple[Laid, Mapping[Merit, int]]:
    laid = lay(kept, firsts)
    return laid, counted(kept, field, laid)


def _rank(order: Sequence[Merit], figures: Mapping[Merit, int]) -> tuple[int, ...]:
    return tuple(-figures[n] if n in MANY_WANTED else figures[n] for n in order if n in figures)


def _holds(pick: Pick, order: Sequence[Merit], there: Mapping[Merit, int], here: Mapping[Merit, int]) -> bool:
    """Whether the pick, laid out in full, is better up to what decided, or as good where setting out could spoil the
    plainest."""
    for name in order:
        if name in here and there[name] != here[name]:
            return (here[name] < there[name]) != (name in MANY_WANTED)
        if name == pick.decided:
            return name not in ALONG_RAILS
    return False


def counted(kept: Kept, field: Field, laid: Laid) -> dict[Merit, int]:
    """The merits of a room laid out in full, as figures."""
    grid, aims = laid.grid, kept.aims
    stocks = [Stock(v) for v in kept.bars.lengths]
    bars = cut_list(grid.pieces, stocks, aims.saw_cut, kept.bars.clipped, 0.0)
    spots = [n.at for n in grid.nodes]
    at = tuple(round(first) % size for first, size in zip(laid.firsts, field.empty().shape, strict=True))
    return {
        "no short pieces": len(grid.short),
        "no feet on pipes": feet_on(spots, kept.pipes, kept.ground.foot) if kept.pipes else 0,
        "no feet near pipes": feet_on(spots, kept.pipes, kept.ground.foot + 2 * kept.sizes.near_service),
        "legs on readings": _read(spots, aims) if read_merit(field).any() else 0,
        **{name: round(float(table[at])) for name, table in line_merits(field).items()},
        "few legs": len(grid.nodes),
        "little stock": bars.stock_lengths,
        "few cuts": sum(1 for p in grid.pieces if p.cut),
    }


def _read(spots: Sequence[Point], aims: Aims) -> int:
    return sum(any(_same(spot, s, aims.same_spot) for s in spots) for spot in aims.read)


def _same(one: Point, other: Point, within: float) -> bool:
    return abs(one[0] - other[0]) <= within and abs(one[1] - other[1]) <= within


def better_than_pinned(rooms: Sequence[Kept], firsts: tuple[float, float]) -> tuple[float, float, int] | None:
    """First lines for all rooms with fewer feet on services than the pinned ones, and how many are left.

    None where no foot stands on a service, or no pair has fewer.
    """
    rooms = [kept for kept in rooms if kept.ground.floor]
    if not rooms or not any(kept.pipes for kept in rooms):
        return None
    standing = sum(_wet_feet(kept, firsts) for kept in rooms)
    if standing == 0:
        return None
    fields = [field_of(kept.ground, kept.corner, kept.sizes, kept.aims) for kept in rooms]
    order: tuple[Merit, ...] = tuple(dict.fromkeys(("no feet on pipes", *rooms[0].order)))
    found = []
    for pick in itertools.islice(picks(fields, order, firsts, round(rooms[0].aims.off)), TRIED):
        pair = (float(pick.firsts[0]), float(pick.firsts[1]))
        found.append((sum(_wet_feet(kept, pair) for kept in rooms), *pair))
        if found[-1][0] == 0:
            break
    left, x, y = min(found, key=lambda f: f[0])
    return (x, y, left) if left < standing else None


def _wet_feet(kept: Kept, firsts: tuple[float, float]) -> int:
    return feet_on([n.at for n in lay(kept, firsts).grid.nodes], kept.pipes, kept.ground.foot)
