"""Closed traverses balanced by the compass rule: published departures, latitudes, closures and coordinates."""

from __future__ import annotations

import pytest

from packgen.core.plane import ring_area
from packgen.project.amounts import bearing
from packgen.survey.traverse import compass_rule


def degrees(d: int, m: int, s: int) -> float:
    return d + m / 60 + s / 3600


def test_t2_five_sides() -> None:
    """T2: Ghilani and Wolf, Elementary Surveying, the traverse chapter's example (inputs and departures as printed on
    scribd 481557956, coordinates from memory of the book, all recalculated), feet."""
    t = compass_rule(
        [
            (647.25, degrees(126, 55, 17)),
            (203.03, degrees(178, 18, 58)),
            (720.35, degrees(15, 31, 54)),
            (610.24, degrees(284, 35, 20)),
            (285.13, degrees(206, 9, 42)),
        ]
    )
    printed = [(-388.82, 517.45), (-202.94, 5.97), (694.05, 192.89), (153.70, -590.57), (-255.92, -125.72)]
    for leg, (latitude, departure) in zip(t.legs, printed, strict=True):
        assert leg.latitude_mm == pytest.approx(latitude, abs=0.01)
        assert leg.departure_mm == pytest.approx(departure, abs=0.01)
    assert t.misclosure_mm == pytest.approx(0.080, abs=0.001)
    wanted = [(10_000.0, 5_000.0), (10_517.444, 4_611.165), (10_523.408, 4_408.216), (10_716.289, 5_102.239)]
    for (east, north), (x, y) in zip(t.stations, [*wanted, (10_125.718, 5_255.928)], strict=True):
        assert (10_000 + east, 5_000 + north) == pytest.approx((x, y), abs=0.01)
    assert abs(ring_area(t.stations)) == pytest.approx(272_585, abs=1)


def test_t3_four_sides_by_quadrants() -> None:
    """T3: justaaa.com 19749: departures and latitudes as printed; the coordinates recalculated, since the page's own do
    not follow from its departures."""
    legs = [(314.02, "N22°36'40\"W"), (264.49, "S60°39'24\"W"), (213.50, "S38°46'10\"E"), (217.69, "N88°22'58\"E")]
    t = compass_rule([(d, bearing(b)) for d, b in legs])
    printed = [(289.883, -120.733), (-129.611, -230.556), (-166.460, 133.691), (6.144, 217.603)]
    for leg, (latitude, departure) in zip(t.legs, printed, strict=True):
        assert (leg.latitude_mm, leg.departure_mm) == pytest.approx((latitude, departure), abs=0.002)
    assert t.misclosure_mm == pytest.approx(0.045, abs=0.001)
    wanted = [(10_000.0, 5_000.0), (9_879.265, 5_289.897), (9_648.708, 5_160.297), (9_782.398, 4_993.847)]
    for (east, north), (x, y) in zip(t.stations, wanted, strict=True):
        assert (10_000 + east, 5_000 + north) == pytest.approx((x, y), abs=0.002)
    assert abs(ring_area(t.stations)) == pytest.approx(59_763.8, abs=0.5)


def test_t4_small_closure() -> None:
    """T4: reuven.tools, traverse closure: the first leg's departure is corrected by 100/399."""
    t = compass_rule([(100, 0), (100, 90), (100, 180), (99, 270)])
    assert t.closing_mm == pytest.approx((0, 1))
    assert t.misclosure_mm / sum(leg.length_mm for leg in t.legs) == pytest.approx(1 / 399)
    assert t.stations[1][0] == pytest.approx(-0.2506, abs=5e-5)
