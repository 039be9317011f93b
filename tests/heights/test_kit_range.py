"""Which parts make a leg: plain, extension, packing, or none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.heights.kit_range import choose_parts, kit_range
from packgen.project.work_model import Extension, Foot, Kit, LegPart, Packing, RailPart


def kit(shortest=46.0, longest=94.0, extension=None, packing=None):
    return kit_range(
        Kit(
            module=600.0,
            rail=RailPart(width=35.0, height=20.0),
            leg=LegPart(shortest=shortest, longest=longest),
            extension=extension,
            packing=packing,
            foot=Foot(diameter=60.0),
        )
    )


PLAIN = kit()
ONE = kit(extension=Extension(adds=40.0))
GAP = kit(extension=Extension(adds=60.0, most_per_leg=2))
PLATES = kit(packing=Packing(plates=(4.0, 10.0)))


@pytest.mark.parametrize(
    ("leg", "parts", "extensions"),
    [
        (45, "does not fit", 0),
        (46, "plain", 0),
        (86, "plain", 0),
        (91, "plain", 0),
        (92, "extension", 1),  # 2 in hand plain, 6 in hand extended
        (94, "extension", 1),
        (95, "extension", 1),
        (134, "extension", 1),
        (135, "does not fit", 0),
    ],
)
def test_overlapping_ranges_86_to_134_over_46_to_94(leg, parts, extensions):
    found = choose_parts(leg, ONE)
    assert (found.parts, found.extensions) == (parts, extensions)


def test_the_end_of_the_screw_is_used_where_nothing_else_reaches():
    assert choose_parts(94, PLAIN).parts == "plain"
    assert choose_parts(46, PLAIN).parts == "plain"


@pytest.mark.parametrize(("leg", "outside"), [(43, 3), (95, 1), (100, 6), (103, 3), (235, 21)])
def test_how_far_outside(leg, outside):
    """Ranges 46-94, 106-154 and 166-214: between two that do not meet the nearer end counts."""
    found = choose_parts(leg, GAP)
    assert (found.parts, found.outside_mm) == ("does not fit", outside)


def test_packing_only_from_plates_and_only_between_5_and_30():
    assert PLATES.packings == (8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30)
    assert choose_parts(94, PLATES).parts == "plain"
    found = choose_parts(103, PLATES)
    assert (found.parts, found.packing_mm, found.extensions) == ("packing", 10, 0)
    assert choose_parts(95, PLATES).packing_mm == 8  # 4 alone is thinner than 5
    assert choose_parts(124, PLATES).packing_mm == 30
    assert choose_parts(125, PLATES).outside_mm == 1


def test_the_file_may_allow_less_packing():
    assert kit(packing=Packing(plates=(10.0,), most=20.0)).packings == (10, 20)


def test_without_plates_there_is_no_packing():
    assert choose_parts(95, PLAIN).parts == "does not fit"


@given(st.integers(0, 300), st.sampled_from([PLAIN, ONE, GAP, PLATES]))
def test_what_is_chosen_can_be_set(leg, ranges):
    found = choose_parts(leg, ranges)
    spans = {n: (lo, hi) for n, lo, hi in ranges.ranges}
    reachable = any(lo + p <= leg <= hi + p for lo, hi in spans.values() for p in (0.0, *ranges.packings))
    assert (found.parts != "does not fit") == reachable
    if reachable:
        lo, hi = spans[found.extensions]
        assert lo <= leg - found.packing_mm <= hi
        assert found.outside_mm == 0
    else:
        assert found.outside_mm > 0
