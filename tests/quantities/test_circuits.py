"""Pipe of the heated extension."""

from __future__ import annotations

import pytest


def test_length_is_area_by_spacing_and_leads(plan_of) -> None:  # type: ignore[no-untyped-def]
    """2.90 x 4.05 m and 2.82 x 4.05 m at 150, leads of 6 and 9 m: worked by hand."""
    found = {c.service: c for c in plan_of("02-extension-heated").quantities.circuits}
    assert found["circuit 1"].length_m == pytest.approx(2.90 * 4.05 / 0.15 + 6, abs=0.05)
    assert found["circuit 2"].length_m == pytest.approx(2.82 * 4.05 / 0.15 + 9, abs=0.05)
    assert all(c.fits for c in found.values())
