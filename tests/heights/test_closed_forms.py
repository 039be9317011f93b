"""Floors whose depth can be written down: planes under planes."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from packgen.core.plane import area, centroid


def over_a_plane(project, at_origin, slope_x, slope_y):
    """The same project read off a base that is one plane: level = at_origin + slope_x x + slope_y y."""
    x, y = dict(project.levels.columns_at), dict(project.levels.rows_at)
    level = project.levels.model_copy(
        update={
            "read_as": "levels",
            "setups": (
                project.levels.setups[0].model_copy(
                    update={
                        "leave_on": None,
                        "readings": tuple(
                            r.model_copy(
                                update={
                                    "row": row,
                                    "column": col,
                                    "value": at_origin + slope_x * x[col] + slope_y * y[row],
                                }
                            )
                            for r in project.levels.setups[0].readings[:1]
                            for col in x
                            for row in y
                        ),
                    }
                ),
            ),
        }
    )
    return project.model_copy(update={"levels": level})


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(-140, -100), st.sampled_from([0.0, 0.005, -0.01]), st.sampled_from([0.0, 0.005, -0.01]))
def test_level_top_over_a_plane(settle, resettle, at_origin, sx, sy):
    """Mean depth = depth at the middle of the floor; legs = rail top - plane; at readings exact."""
    found = resettle(over_a_plane(settle("07-school-exercise-bay").project, at_origin, sx, sy))
    parts = found.layout.floor
    whole = sum(area(p) for p in parts)
    middle = [sum(area(p) * centroid(p)[i] for p in parts) / whole for i in (0, 1)]
    held = 1.0  # beyond the outermost readings the level is held, not continued
    assert found.heights.depth.mean_mm == pytest.approx(
        -41 - (at_origin + sx * middle[0] + sy * middle[1]), abs=0.02 * held
    )
    at = {n.id: n.at for n in found.layout.nodes}
    for leg in found.heights.legs:
        x, y = at[leg.node]
        assert leg.leg_mm == pytest.approx(-41 - (at_origin + sx * x + sy * y), abs=0.5001)


def test_a_top_that_falls_with_its_base_is_equally_deep_everywhere(settle, resettle):
    terrace = settle("05-terrace-with-falls").project
    found = resettle(over_a_plane(terrace, -155.0, 0.0, -0.015))
    depth = found.heights.depth
    assert depth.mean_mm == pytest.approx(80, abs=0.05)
    inner = [leg for leg in found.heights.legs if leg.known != "beyond"]
    assert {leg.leg_mm for leg in inner} <= {79, 80, 81}
    assert depth.volume_l == pytest.approx(80 * depth.area_mm2 / 1e6, rel=0.001)


def test_bays_add_up_to_the_floor(demo):
    parts = [d for _, d in demo.heights.bay_depths]
    whole = demo.heights.depth
    assert sum(d.volume_l for d in parts) == pytest.approx(whole.volume_l)
    assert sum(d.area_mm2 for d in parts) == pytest.approx(sum(area(p) for p in demo.layout.floor), rel=1e-6)
    assert whole.least_mm == min(d.least_mm for d in parts)
    assert whole.most_mm == max(d.most_mm for d in parts)


def test_one_deep_hole_moves_the_greatest_depth_and_hardly_the_mean(settle):
    name = "07-school-exercise-bay"
    flat, holed = settle(name), settle(name, ("5        1549   1554", "5        1549   1594"))
    assert holed.heights.depth.most_mm - flat.heights.depth.most_mm == pytest.approx(40)
    assert holed.heights.depth.least_mm == flat.heights.depth.least_mm
    assert 0 < holed.heights.depth.mean_mm - flat.heights.depth.mean_mm < 2
