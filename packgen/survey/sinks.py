"""Drains that a floor falls to from all sides: where in plan, and how far up the fall a place lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.plane import Point, bounds
from packgen.project.room_model import Drain, drains_called
from packgen.project.work_model import Zone
from packgen.survey.model import RoomOutline
from packgen.trade.grid_rules import value


@dataclass(frozen=True, slots=True)
class Sink:
    """What a floor falls to from all sides. Its planes meet along straight lines, along x and along y.

    low, high: least and greatest x and y between which the floor does not fall that way: one place for a point drain,
    both ends of a long channel (without end where the channel runs from wall to wall)
    """

    low: Point
    high: Point

    @property
    def at(self) -> Point:
        """The middle of the drain; where it runs from wall to wall, that way 0."""
        return self._middle(0), self._middle(1)

    def _middle(self, k: int) -> float:
        return (self.low[k] + self.high[k]) / 2 if math.isfinite(self.low[k]) else 0.0

    def folds(self, k: int) -> tuple[float, ...]:
        """Where the floor folds, by x (0) or y (1): planes meet in a valley there, or begin to fall the other way."""
        return tuple(sorted({v for v in (self.low[k], self.high[k]) if math.isfinite(v)}))

    def side(self, at: Point) -> tuple[int, int]:
        """On which side of the drain a place lies, by x and by y: 1 beyond it, 0 between its ends, -1 before it."""
        return self._side(at, 0), self._side(at, 1)

    def _side(self, at: Point, k: int) -> int:
        return 1 if at[k] > self.high[k] else -1 if at[k] < self.low[k] else 0


def up_mm(sink: Sink, at: Point) -> float:
    """How far up the fall a place lies from the drain, counted along x and along y, mm."""
    return sum(max(sink.low[k] - at[k], at[k] - sink.high[k], 0.0) for k in (0, 1))


def down_mm(direction: tuple[float, float], start: Point, sink: Sink | None, at: Point) -> float:
    """Distance of a place from where the fall starts, down the fall, mm."""
    if sink is not None:
        return up_mm(sink, start) - up_mm(sink, at)
    return (at[0] - start[0]) * direction[0] + (at[1] - start[1]) * direction[1]


def sink_of(zone: Zone, rooms: Sequence[RoomOutline], drains: Sequence[Drain]) -> tuple[Sink, str]:
    """What the zone falls to, and its name. ValueError where the file describes no such drain with a place."""
    called = [d for d in drains_called(zone.fall.to_drain or "", drains) if d.at is not None]
    if not called:
        raise ValueError(f"zone {zone.zone} falls to a drain that is not described")
    drain = called[0]
    room = next((r for r in rooms if r.name == drain.room), rooms[0])
    at = drain.at or (0.0, 0.0)
    middle = (at[0] + room.origin[0], at[1] + room.origin[1])
    sides = drain.size or (0.0, 0.0)
    low, high = list(middle), list(middle)
    long = 0 if sides[0] >= sides[1] else 1
    if sides[long] > value("channel_ratio") * sides[1 - long]:
        low[long], high[long] = _ends(middle[long], sides[long] / 2, long, room)
    return Sink((low[0], low[1]), (high[0], high[1])), drain.name or drain.kind


def _ends(middle: float, half: float, k: int, room: RoomOutline) -> tuple[float, float]:
    """Both ends of a channel; none where it reaches as near to the wall as a strip is thick."""
    x0, y0, x1, y1 = bounds(room.floor[0]) if room.floor else (0.0, 0.0, 0.0, 0.0)
    first, last = ((x0, x1), (y0, y1))[k]
    near = value("channel_at_wall")
    low, high = middle - half, middle + half
    return (-math.inf if low <= first + near else low), (math.inf if high >= last - near else high)
