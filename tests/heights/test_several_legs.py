"""A kit of several legs and extensions: the cheapest that reaches with the screw in hand at both ends."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.heights.kit_range import Made, choose_parts, kit_range, turns_of
from packgen.trade.grid_rules import value

LEG = "  leg: {shortest: 46, longest: 94}     # floor to TOP of rail, fitted\n"
EXTENSION = "  extension: {adds: 40, most per leg: 1}   # an extended leg goes from 86 to 134\n"


def priced(low: float, high: float) -> str:
    return (
        f"  leg:\n    - {{name: low leg, shortest: 30, longest: 60, price: {low}}}\n"
        f"    - {{name: high leg, shortest: 50, longest: 110, price: {high}, turn: 2, delivered at: 80}}\n"
    )


def with_legs(settle, low, high, extension=""):
    return settle("07-school-exercise-bay", (LEG, priced(low, high)), (EXTENSION, extension))


def test_the_cheaper_leg_is_taken_where_it_reaches(settle):
    kit = kit_range(with_legs(settle, 2.0, 3.0).project.kit)
    assert choose_parts(55, kit).made.leg == "low leg"
    assert choose_parts(58, kit).made.leg == "high leg"  # 2 in hand on the low leg, 8 on the high
    kit = kit_range(with_legs(settle, 3.0, 2.0).project.kit)
    assert choose_parts(55, kit).made.leg == "high leg"
    assert choose_parts(35, kit).made.leg == "low leg"


@settings(max_examples=40)
@given(st.integers(20, 140), st.floats(1, 5), st.floats(1, 5))
def test_no_dearer_leg_is_taken_than_need_be(settle, leg, low, high):
    """Against all legs of the kit one by one: what is chosen costs least of those with the screw in hand."""
    kit = kit_range(with_legs(settle, round(low, 2), round(high, 2)).project.kit)
    hand = value("in_hand")
    easy = [m.price for m in kit.made if m.low_mm + hand <= leg <= m.high_mm - hand]
    reach = [m for m in kit.made if m.low_mm <= leg <= m.high_mm]
    found = choose_parts(leg, kit)
    if easy:
        assert found.made.price == min(easy)
    assert (found.parts == "does not fit") == (not reach)


def test_turns_are_counted_from_the_delivered_setting():
    """Common practice, no source: 12 up at a pitch of 2 are 6 turns."""
    made = Made(0, 50, 110, turn_mm=2.0, delivered_mm=80.0)
    assert (turns_of(92, made), turns_of(75, made), turns_of(80, made)) == (6.0, -2.5, 0.0)
    assert turns_of(92, Made(0, 50, 110)) is None


def test_the_plan_counts_both_kinds(settle):
    """The bay's legs run from about 70 to 100: the high leg carries them all but those that the low one reaches."""
    found = with_legs(settle, 2.0, 3.0)
    for leg in found.heights.legs:
        assert leg.fits == (30 <= leg.leg_mm <= 60 or 50 <= leg.leg_mm <= 110)


def test_raising_the_readings_shortens_every_leg_of_several_kinds(settle):
    before = with_legs(settle, 2.0, 3.0)
    raised = settle(
        "07-school-exercise-bay",
        (LEG, priced(2.0, 3.0)),
        (EXTENSION, ""),
        ("finished level: 20 below TBM", "finished level: 27 below TBM"),
    )
    legs = {g.node: g.leg_mm for g in before.heights.legs}
    assert {g.node: g.leg_mm + 7 for g in raised.heights.legs} == legs


@pytest.mark.parametrize("name", ["05-terrace-with-falls", "10-shower-room-to-a-channel"])
def test_ends_of_a_falling_floor_are_tight(settle, name):
    """At each end of the window no rule is broken, 1 beyond it one is."""
    found = settle(name)
    window = found.heights.window
    zone = found.heights.zones[0]
    asked = {"05-terrace-with-falls": "50 below TBM", "10-shower-room-to-a-channel": "same as TBM"}[name]
    shift = zone.finished_mm - (-50 if name.startswith("05") else 0)
    low, high = -(-(window.low_mm - shift) // 1), (window.high_mm - shift) // 1
    for level, holds in ((low, True), (high, True), (low - 1, False), (high + 1, False)):
        said = f"{abs(level):.0f} {'above' if level > 0 else 'below'} TBM" if level else "same as TBM"
        heights = settle(name, (f"level: {asked} at wall", f"level: {said} at wall")).heights
        assert (heights.by_zone[0].cures == ()) == holds, level
