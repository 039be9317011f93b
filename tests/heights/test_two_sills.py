"""Two doors with different sills, and the attic whose one leg is too short."""

from __future__ import annotations

from pathlib import Path

from packgen.plan import make_plan
from packgen.project.read import read_project

PROJECTS = Path(__file__).parents[2] / "projects"
DOOR = "floor there: 20 below TBM, sill: none}"


def sills(settle, second, level="20 below TBM", step="4"):
    """The exercise bay with a second door whose floor lies at `second`."""
    back = "{name: back way, in: wall 2, from: 900, width: 900, leads to: store, floor there: "
    more = f"{DOOR}\n  - {back}{second}, sill: none}}"
    return settle(
        "07-school-exercise-bay",
        (DOOR, more),
        ("finished level: 20 below TBM", f"finished level: {level}"),
        ("step without ramp strip: 4", f"step without ramp strip: {step}"),
    )


def test_sills_12_apart_meet_half_way_where_the_step_allows_it(settle):
    """20 and 8 below: half way is 14 below, 6 from each; a step of 6 is allowed."""
    window = sills(settle, "8 below TBM", "open", "6").heights.window
    assert (window.low_mm, window.high_mm, window.offered_mm) == (-14, -14, -14)


def test_sills_12_apart_with_a_step_of_4_fit_nowhere_and_say_by_how_much(settle):
    heights = sills(settle, "8 below TBM").heights
    window = heights.window
    assert window.empty
    assert window.low_mm - window.high_mm == 12 - 2 * 4
    strip = [c for c in heights.by_zone[0].cures if c.rule == "step at door"]
    assert len(strip) == 1
    assert "back way" in strip[0].says
    assert strip[0].hours > 0


def test_one_ramp_strip_makes_both_sills_meet(settle):
    second = "8 below TBM, ramp strip: yes"
    heights = sills(settle, second).heights
    assert not heights.window.empty
    assert heights.by_zone[0].cures == ()


def attic(*changes):
    text = (PROJECTS / "01-attic-studio.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    read = read_project(text.encode(), "test.yaml")
    assert read.project is not None, read.faults
    return make_plan(read.project)


def stops(plan):
    return {f.code for f in plan.findings if f.kind == "stop"}


def test_the_attic_raised_by_what_the_window_asks_has_no_short_leg_and_weighs_more():
    before, raised = attic(), attic(("level: same as TBM", "level: 4 above TBM"))
    assert before.heights.window.offered_mm == 4
    assert "leg-out-of-range" in stops(before)
    assert "leg-out-of-range" not in stops(raised)
    was, now = before.quantities.weight, raised.quantities.weight
    assert now.dry_kg_m2 > was.dry_kg_m2
    assert now.fresh_kg_m2 > was.fresh_kg_m2


def test_the_attic_without_the_engineers_number_is_held():
    assert "engineer-open" not in stops(attic())
    number = "  extra load allowed: 0.60 kN/m2        # permanent load of everything we add, from the engineer\n"
    assert "engineer-open" in stops(attic((number, "")))
