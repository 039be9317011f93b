"""A level book written for wanted levels gives just these levels when it is reduced, whatever its misclosure."""

from __future__ import annotations

import random

import pytest

from packgen.exercise.vary_levels import book_for, levels_of
from packgen.project.model import Project
from packgen.survey.level_book import reduce_book


@pytest.mark.parametrize("misclosure", [-3, -2, -1, 0, 1, 2, 3])
@pytest.mark.parametrize("seed", range(5))
def test_levels_come_out(bay: Project, misclosure: int, seed: int) -> None:
    chance = random.Random(seed)
    wanted = {spot: chance.randint(-160, 20) for spot in levels_of(bay)}
    shifts = {s.name: chance.randint(-150, 150) for s in bay.levels.setups}
    book = book_for(bay, wanted, {"S2": misclosure}, shifts, {})
    reduced = reduce_book(book.setups, {bay.datum.name: 0.0})
    assert reduced.runs[-1].misclosure_mm == misclosure
    assert {spot: level for spot, _, _, level in reduced.sights} == {s: wanted[s] for s in wanted if s != "CP1"}
    change = next(b for b in reduced.lines if b.kind == "fore" and b.point == "CP1")
    assert change.level_mm == wanted["CP1"]
    readings = [r.value for s in book.setups for r in s.readings]
    assert all(float(v).is_integer() for v in readings)
    moved = [s.start_on.reading - b.start_on.reading for s, b in zip(book.setups, bay.levels.setups, strict=True)]
    assert moved == list(shifts.values())


def test_spots_read_twice_scatter_round_the_level(bay: Project) -> None:
    wanted = dict(levels_of(bay))
    twice = {("S1", "D3"): 1, ("S2", "D3"): -1}
    book = book_for(bay, wanted, {"S2": 2}, {}, twice)
    found = [level for spot, _, _, level in reduce_book(book.setups, {"TBM": 0.0}).sights if spot == "D3"]
    assert sorted(found) == [wanted["D3"] - 1, wanted["D3"] + 1]
