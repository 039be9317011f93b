"""Weights of the demo projects and of floors whose weight is known."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.plane import Polygon, box, circle
from packgen.core.surface import level_at, plane_surface, through_points
from packgen.plan import Plan
from packgen.quantities.raster import levels, raster_of, windows
from packgen.quantities.weight import as_load, weigh, worst_square, zone_weights

STEEP = 0.02


def test_weights_are_their_formula(plan: Plan) -> None:
    fill, w = plan.project.fills.used, plan.quantities.weight
    mean = plan.heights.depth.mean_mm
    dry = mean / 1000 * fill.hardened_density + plan.project.kit.mass + plan.project.finishes[0].weight_of_layers
    assert w.dry_kg_m2 == pytest.approx(dry, abs=0.05 + 0.00005 * fill.hardened_density)
    assert w.dry_kn_m2 == pytest.approx(w.dry_kg_m2 * 9.80665 / 1000)
    fresh = mean / 1000 * fill.fresh_density + plan.project.kit.mass
    assert w.fresh_kg_m2 == pytest.approx(fresh, abs=0.05 + 0.00005 * fill.fresh_density)
    assert w.fresh_with_people_kn_m2 == pytest.approx(w.fresh_kn_m2 + 1.0)


def test_the_worst_square_metre_weighs_no_less_than_the_mean_and_no_more_than_the_deepest_spot(plan: Plan) -> None:
    w, fill = plan.quantities.weight, plan.project.fills.used
    deepest = plan.heights.depth.most_mm / 1000 * fill.hardened_density + w.kit_kg_m2 + w.layers_kg_m2
    assert w.dry_kn_m2 - 0.01 <= w.worst_dry_kn_m2 <= as_load(deepest) + 1e-9


def test_the_worst_square_of_a_slope_lies_at_its_deep_end(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Depth grows 20 per metre along x: the square at the far wall is as deep as the slope at its middle."""
    plan = plan_of("07-school-exercise-bay")
    survey = replace(plan.survey, base=plane_surface(-60.0, -STEEP, 0.0))
    heights = replace(plan.heights, rail_top=plane_surface(0.0))
    worst = worst_square(survey, heights, zone_weights(plan.project), plan.project.kit.mass)
    assert worst.at[0] == pytest.approx(3000)
    assert worst.mean_mm == pytest.approx(60 + STEEP * 3500)


def test_bags_on_a_square_metre_keep_people_and_fresh_fill_within_what_is_allowed(plan_of) -> None:  # type: ignore[no-untyped-def]
    """Attic: 0.60 allowed for good and 1.5 imposed; bags of 19 kg."""
    w = plan_of("01-attic-studio").quantities.weight
    assert w.allowed_working_kn_m2 == pytest.approx(2.1)
    assert w.bags_per_m2 is not None
    busy = w.worst_fresh_kn_m2 + w.people_kn_m2
    assert busy + as_load(w.bags_per_m2 * 19) <= 2.1 < busy + as_load((w.bags_per_m2 + 1) * 19)
    assert plan_of("02-extension-heated").quantities.weight.bags_per_m2 is None


def test_a_floor_already_too_heavy_takes_no_bag(plan_of) -> None:  # type: ignore[no-untyped-def]
    plan = plan_of("01-attic-studio")
    base = plan.project.base.model_copy(update={"extra_load_allowed": 0.0, "imposed_load": 0.5})
    project = plan.project.model_copy(update={"base": base})
    assert weigh(project, plan.survey, plan.heights, plan.layout.nodes).bags_per_m2 == 0


# --------------------------------------------------------------------------------- the raster below it


@settings(max_examples=40, deadline=None)
@given(x=st.integers(0, 3900), y=st.integers(0, 2900), radius=st.integers(50, 800), step=st.sampled_from([50.0, 100.0]))
def test_squares_inside_cover_about_the_area(x: int, y: int, radius: int, step: float) -> None:
    room = box(0, 0, 4000, 3000)
    hole = circle((max(radius, min(x, 4000 - radius)), max(radius, min(y, 3000 - radius))), radius)
    grid = raster_of([Polygon(room.shell, (hole.shell,))], step)
    exact = 4000 * 3000 - math.pi * radius**2
    assert grid.inside.sum() * step**2 == pytest.approx(exact, abs=2 * math.pi * radius * step + step**2)


def test_levels_on_the_raster_are_those_of_the_surface() -> None:
    spots = [(50, 50, -80), (3900, 100, -95), (3800, 2900, -70), (100, 2950, -88), (2000, 1500, -60), (900, 1400, -99)]
    surface = through_points(spots)
    grid = raster_of([box(0, 0, 4000, 3000)], 100)
    found = levels(grid, surface)
    for row in range(0, 30, 3):
        for column in range(0, 40, 3):
            at = (float(grid.xs[column]), float(grid.ys[row]))
            assert found[row, column] == pytest.approx(level_at(surface, at), abs=1e-6)


def test_outside_the_floor_there_is_no_level() -> None:
    grid = raster_of([box(0, 0, 1000, 1000), box(1500, 0, 2000, 1000)], 100)
    found = levels(grid, plane_surface(-50.0))
    assert np.isnan(found[0, 12])
    assert found[0, 16] == -50


@given(st.integers(1, 6), st.integers(6, 12), st.integers(6, 12), st.randoms(use_true_random=False))
def test_windows_are_sums_of_blocks(size: int, rows: int, columns: int, chance) -> None:  # type: ignore[no-untyped-def]
    values = np.array([[chance.randint(0, 9) for _ in range(columns)] for _ in range(rows)], dtype=float)
    found = windows(values, size)
    for j in range(rows - size + 1):
        for i in range(columns - size + 1):
            assert found[j, i] == values[j : j + size, i : i + size].sum()
