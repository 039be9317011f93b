"""The parts that are right are those of the rule that stands on the pupil's own sheet."""

from __future__ import annotations

import pytest

from packgen.exercise.model import ClassSet
from packgen.exercise.ways_height import parts_by_rule
from packgen.heights.kit_range import range_of

KIT = range_of(((0, 46.0, 94.0), (1, 86.0, 134.0)), ())


@pytest.mark.parametrize(
    ("length", "parts"),
    [(45, "does not fit"), (46, "plain"), (92, "plain"), (94, "plain"), (95, "extension"), (134, "extension")],
)
def test_the_plain_leg_where_it_fits(length: float, parts: str) -> None:
    assert parts_by_rule(length, KIT).parts == parts


def test_every_leg_asked_takes_the_same_parts_by_the_rule_and_in_the_plan(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        own = v.project.kit.shortest_leg
        planned = {leg.node: leg.parts for leg in v.plan.heights.legs}
        low, high = own.shortest, own.longest
        for leg in v.case.legs:
            blank = next(b for b in v.blanks if b.id == f"parts/{leg.node}")
            told = blank.choices[int(v.known[blank.id])]
            length = v.known[f"leg/{leg.node}"]
            assert told == planned[leg.node]
            assert (told == "plain") == (low <= length <= high)
