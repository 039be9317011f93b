"""Days cut out of the order, against every way of cutting it."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.core.beside import Beside
from packgen.core.plane import Segment
from packgen.sequence.days import Amounts, earlier_ends, split_days
from packgen.sequence.fronts import fronts_of
from packgen.sequence.pace import Pace
from packgen.trade.amounts import amount

EDGE = Segment((0, 0), (1, 0))


def pace(hours: float, *, alone: bool = False) -> Pace:
    return Pace(hours, 1.0, 100.0, 120.0, None, 20.0, 0.0, 2, alone)


def closed_of_a_day(links: list[Beside], first: int, end: int) -> float:
    """Edges between the bays of a day and those after it, counted one by one."""
    return sum(k.shared_mm for k in links if first <= k.first < end <= k.second)


@settings(max_examples=80, deadline=None)
@given(
    litres=st.lists(st.integers(1, 60), min_size=1, max_size=9),
    hours=st.sampled_from([0.5, 1.0, 2.0]),
    chance=st.randoms(use_true_random=False),
    alone=st.booleans(),
)
def test_fewest_days_then_shortest_stop_lines(litres: list[int], hours: float, chance, alone: bool) -> None:  # type: ignore[no-untyped-def]
    count = len(litres)
    links = [
        Beside(a, b, float(chance.choice([600, 1200, 1800])), EDGE)
        for a, b in combinations(range(count), 2)
        if chance.random() < 0.4
    ]
    areas = [v / 70 for v in litres]
    job = pace(hours, alone=alone)

    def fits(a: int, b: int) -> bool:
        return b - a == 1 or job.needed_h(sum(litres[a:b]), sum(areas[a:b])) <= hours + 1e-9

    best: tuple[int, float] | None = None
    for size in range(count):
        for cuts in combinations(range(1, count), size):
            ends = [0, *cuts, count]
            if all(fits(a, b) for a, b in pairwise(ends)):
                stop = sum(
                    round(closed_of_a_day(links, a, b) / amount("stop_equal")) for a, b in pairwise(ends) if b < count
                )
                best = min(best or (99, 0.0), (size + 1, stop))
    amounts = Amounts(np.array(litres, float), np.array(areas), ("fill",) * count)
    found = split_days(amounts, fronts_of(range(count), links, [k.shared_mm for k in links]), {"fill": job})
    starts = [0, *found[:-1]]
    assert all(fits(a, b) for a, b in zip(starts, found, strict=True))
    stop = sum(
        round(closed_of_a_day(links, a, b) / amount("stop_equal"))
        for a, b in zip(starts, found, strict=True)
        if b < count
    )
    assert (len(found), stop) == best


def test_a_day_holds_one_fill() -> None:
    amounts = Amounts(np.full(6, 1.0), np.full(6, 0.1), ("a", "a", "b", "b", "b", "a"))
    found = split_days(amounts, fronts_of(range(6), [], []), {"a": pace(8.0), "b": pace(8.0)})
    assert found == (2, 5, 6)


def test_no_bay_no_day() -> None:
    assert split_days(Amounts(np.array([]), np.array([]), ()), fronts_of((), [], []), {}) == ()


def test_the_front_of_a_day_leaves_out_what_was_closed_before() -> None:
    row = [Beside(k, k + 1, 600.0, EDGE) for k in range(4)]
    fronts = fronts_of(range(5), row, [600.0] * 4)
    assert list(fronts.of_day(0, 5)) == [600, 600, 600, 600, 0]
    assert list(fronts.of_day(2, 4)) == [600, 600]


def test_two_places_to_stop_early_lie_inside_the_day_one_after_the_other() -> None:
    litres = np.full(12, 25.0)
    fronts = np.array([9, 9, 9, 1, 9, 9, 9, 9, 1, 9, 9, 0]) * 1000.0
    assert earlier_ends(litres, fronts, 1 / 3, 2 / 3) == (4, 9)
    assert earlier_ends(np.array([25.0]), np.array([0.0]), 1 / 3, 2 / 3) == ()


def test_a_person_alone_needs_the_sum_and_a_crew_the_slowest() -> None:
    assert pace(8.0).needed_h(120, 2) == 1.2
    assert pace(8.0, alone=True).needed_h(120, 2) == 1.2 + 1.0 + 0.1
