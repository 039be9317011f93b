"""Closed traverses by lengths and bearings, adjusted by the compass rule."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.plane import Point


@dataclass(frozen=True, slots=True)
class Leg:
    """A leg as measured and its latitude (to the north) and departure (to the east), mm; south and west below 0."""

    length_mm: float
    bearing_deg: float
    latitude_mm: float
    departure_mm: float


@dataclass(frozen=True, slots=True)
class Traverse:
    """A closed traverse. stations: (east, north) of each station after adjustment, the first at the origin.

    closing_mm: what latitudes and departures fail to add up to nothing by, (north, east)
    """

    legs: tuple[Leg, ...]
    closing_mm: tuple[float, float]
    stations: tuple[Point, ...]

    @property
    def misclosure_mm(self) -> float:
        return math.hypot(*self.closing_mm)


def compass_rule(legs: Sequence[tuple[float, float]]) -> Traverse:
    """A closed traverse from (length, bearing in degrees from north round by east), balanced by the compass rule.

    latitude = length x cos bearing, departure = length x sin bearing  [mm]
    correction of a leg = - closing error x its length / length of all legs

    Source: compass rule (Bowditch), any surveying handbook.

    >>> t = compass_rule([(100, 0), (100, 90), (100, 180), (99, 270)])
    >>> round(t.closing_mm[1], 6), round(t.stations[1][0], 4)
    (1.0, -0.2506)
    """
    found = []
    for length, bearing in legs:
        b = math.radians(bearing)
        found.append(Leg(length, bearing, length * math.cos(b), length * math.sin(b)))
    north, east = sum(leg.latitude_mm for leg in found), sum(leg.departure_mm for leg in found)
    around = sum(leg.length_mm for leg in found)
    stations, at_north, at_east = [], 0.0, 0.0
    for leg in found:
        stations.append((at_east, at_north))
        at_north += leg.latitude_mm - north * leg.length_mm / around
        at_east += leg.departure_mm - east * leg.length_mm / around
    return Traverse(tuple(found), (north, east), tuple(stations))


def on_plan(stations: Sequence[Point]) -> tuple[Point, ...]:
    """Stations (east, north) as corners of a room: corner 1 at the origin, wall 1 along x, y to its right."""
    (e0, n0), (e1, n1) = stations[0], stations[1]
    d = math.hypot(e1 - e0, n1 - n0)
    s, c = (e1 - e0) / d, (n1 - n0) / d
    out = [((n - n0) * c + (e - e0) * s, (e - e0) * c - (n - n0) * s) for e, n in stations]
    return tuple((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in out)
