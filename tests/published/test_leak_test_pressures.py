"""Leak test of heating pipes before the screed.

Source: EN 1264-4:2021, 4.2.3, as a page on its installation part prints it: water 4 to 6 bar, air 2 to 3 bar.
"""

from __future__ import annotations

from packgen.trade.limits import pressure_range


def test_water_and_air() -> None:
    assert pressure_range("water")[:2] == (4, 6)
    assert pressure_range("compressed air")[:2] == (2, 3)
    assert "EN 1264-4" in str(pressure_range("water")[2])
