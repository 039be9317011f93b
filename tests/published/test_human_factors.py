"""What people can bear.

Sources: Directive 2002/44/EC for hand-arm vibration (action 2.5, limit 5.0 m/s² over 8 hours), counted in points as
HSE does; HSE guideline weights (25 kg close to the body, less 30 % at one or two lifts a minute); WEL of silica.
"""

from __future__ import annotations

import pytest

from packgen.trade.human import human, vibration_points


@pytest.mark.parametrize(("acceleration", "hours", "points"), [(2.5, 8, 100), (5.0, 8, 400), (5.0, 2, 100)])
def test_points_of_vibration(acceleration: float, hours: float, points: float) -> None:
    assert vibration_points(acceleration, hours) == points


def test_action_and_limit_value_are_those_of_the_directive() -> None:
    assert human("vibration_action").value == 2.5
    assert human("vibration_limit").value == 5.0


def test_lifting_twice_a_minute_takes_off_30_per_cent() -> None:
    assert human("lift_often").value == pytest.approx(human("lift").value * 0.7)


def test_silica_and_chromium() -> None:
    assert (human("silica").value, human("silica").unit) == (0.1, "mg/m³")
    assert human("cement").value == 2
