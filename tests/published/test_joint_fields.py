"""Fields of screed between joints.

Sources: fields of heated cement screed of 40 m², 8 m and 2 : 1 as two trade dictionaries and a heating journal print
them; ZDB, Beläge auf Zementestrich, for 60 m² unheated and 6.5 m heated. The cases were computed from those figures.
"""

from __future__ import annotations

import pytest

from packgen.trade.limits import field_faults, field_rule


@pytest.mark.parametrize(
    ("width", "length", "broken"),
    [
        (8.0, 5.0, ()),  # 40.0 m²: equal passes
        (7.9, 5.1, ("area",)),  # 40.29 m²
        (10.0, 4.0, ("side", "ratio")),  # 40 m², 2.5 : 1
        (12.0, 3.5, ("area", "side", "ratio")),  # 42 m²
        (4.5, 6.0, ()),  # half of 9 x 6
        (9.0, 6.0, ("area", "side")),
    ],
)
def test_heated_cement_screed(width: float, length: float, broken: tuple[str, ...]) -> None:
    assert field_faults(width, length, width * length, field_rule("cement", True)) == broken


def test_the_stricter_side_is_a_named_choice() -> None:
    assert field_faults(8.0, 5.0, 40.0, field_rule("cement", True, "zdb")) == ("side",)
    assert field_faults(6.5, 6.0, 39.0, field_rule("cement", True, "zdb")) == ()


def test_unheated_cement_screed_by_the_zdb() -> None:
    rule = field_rule("cement", False)
    assert field_faults(8.0, 7.5, 60.0, rule) == ()
    assert field_faults(8.0, 7.6, 60.8, rule) == ("area",)
    assert field_faults(8.1, 3.0, 24.3, rule) == ("side",)


def test_calcium_sulfate_runs_longer() -> None:
    assert field_rule("calcium sulfate", False).side_m == 20
    assert field_rule("calcium sulfate", True).side_m == 10
