"""Residual moisture before covering.

Sources: DIN 18560-1:2015 as quoted on betontechnische-daten.de 15.5 (CT 2.0 and 1.8, CA 0.5 CM-%); natursteinonline.de
(trade associations keep 0.3 for heated CA); BS 8203 and BS 8201 as quoted in guides to moisture testing (75 % RH).
"""

from __future__ import annotations

import pytest

from packgen.trade.limits import Binder, air_limit, cm_limit, damp_limit


@pytest.mark.parametrize(
    ("binder", "heated", "most"),
    [
        ("cement", False, 2.0),
        ("cement", True, 1.8),
        ("calcium sulfate", False, 0.5),
        ("calcium sulfate", True, 0.3),
    ],
)
def test_cm_limits(binder: Binder, heated: bool, most: float) -> None:
    assert cm_limit(binder, heated).value == most
    assert cm_limit(binder, heated).unit == "CM-%"


def test_hygrometer_box() -> None:
    assert air_limit().value == 75
    assert damp_limit("% RH", "calcium sulfate", True) == air_limit()
    assert damp_limit("CM-%", "cement", True) == cm_limit("cement", True)


def test_the_sources_were_read() -> None:
    assert {cm_limit("cement", True).source.known, air_limit().source.known} == {"read"}
