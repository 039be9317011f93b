"""The sheets of the pouring side: what a day's figures must keep to, whatever the job."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.booklet.fault_rows import FAULTS
from packgen.booklet.placing_steps import placing_steps
from packgen.booklet.pour_words import fills_in_use, grouped, head_line, range_of, turn_rows
from packgen.booklet.rows import Table
from packgen.booklet.sheets import faults, log, mixing, order, placing, pours, restart
from packgen.plan import Plan
from packgen.sequence.model import Turn


@given(st.floats(0.5, 500), st.floats(0.1, 50))
def test_a_printed_water_range_never_leaves_the_bags(least: float, wide: float) -> None:
    numbers = [float(n) for n in re.findall(r"[\d.]+", range_of((least, least + wide)))]
    assert all(least - 1e-6 <= n <= least + wide + 1e-6 for n in numbers)


def test_a_day_is_one_sheet_and_carries_its_head_line(plan: Plan) -> None:
    sheets = pours.sheets(plan)
    assert [s.slug for s in sheets] == ["pours", *(f"pours-{n}" for n in range(2, len(plan.sequence.pours) + 1))]
    for pour, sheet in zip(plan.sequence.pours, sheets, strict=True):
        line = " · ".join(head_line(plan, pour))
        assert f"{pour.bags} bag" in line
        assert sheet.behind == "fill"
        if pour.water_per_batch_l:
            assert f"{pour.batches} batch" in line
            assert "water" in line
        else:
            assert "water" not in line


def test_the_rows_of_a_day_hold_every_bay_once_and_end_on_the_day_s_litres(plan: Plan) -> None:
    for pour in plan.sequence.pours:
        for most in (4, 12, 200):
            groups = grouped(plan, pour.turns, most)
            assert [t.bay for g in groups for t in g] == list(pour.bays)
            rows = turn_rows(plan, pour, most)
            assert rows[-1].so_far.replace("\u202f", "") == f"{sum(t.volume_l for t in pour.turns):.0f}"
            assert rows[0].order.split(" to ")[0] == "1"
        assert all(len(g) == 1 for g in grouped(plan, pour.turns, len(pour.turns)))


def test_each_day_s_tally_has_a_box_for_its_last_batch(plan: Plan) -> None:
    for sheet in mixing.sheets(plan):
        tally = sheet.view["tally"]
        assert isinstance(tally, list)
        assert len(tally) <= mixing.STRIP
        counted = {str(p.batches) for p in plan.sequence.pours} | {str(sum(p.bags for p in plan.sequence.pours))}
        assert tally[-1] in counted
        assert [int(n) for n in tally] == sorted({int(n) for n in tally})


def test_bags_ordered_are_the_bags_of_the_days(plan: Plan) -> None:
    bags = [o for o in plan.purchase.order if o.unit.startswith(("bag", "pack")) and not o.total]
    assert sum(o.quantity for o in bags) == sum(p.bags for p in plan.sequence.pours)
    printed = "".join("".join(r.cells) for s in order.sheets(plan) for r in _table(s.view["table"]).rows)
    assert all(f"{p.bags} bags" in printed for p in plan.sequence.pours)


def test_faults_and_steps_fit_the_fill(plan: Plan) -> None:
    seen = " ".join("".join(r.cells) for s in faults.sheets(plan) for r in _table(s.view["table"]).rows)
    fills = fills_in_use(plan)
    mixed = any(f.mixed for f in fills)
    assert ("mixer stops" in seen) == mixed
    assert ("grains damp" in seen) == any(f.family == "granulate" for f in fills)
    assert ("a board springs" in seen) == any(f.board_on_top is not None for f in fills)
    assert "a rail rocks" in seen
    boards = sum(f.board_on_top is not None for f in fills)
    assert len(placing.sheets(plan)) == len(fills) + boards
    for fill in fills:
        assert 4 <= len(placing_steps(plan, fill)) <= 6
        assert all(right.startswith("You see it is right when") for _, right in placing_steps(plan, fill))


def test_no_row_of_the_fault_table_asks_for_what_no_job_has() -> None:
    known = {
        "mixed",
        "cement",
        "screed",
        "trowelled",
        "loose",
        "boards",
        "heated",
        "mixer",
        "dries",
        "drainage",
        "bead",
    }
    assert {need for f in FAULTS for need in f.needs} <= known
    assert len({f.see for f in FAULTS}) == len(FAULTS)


def test_each_day_has_a_log_with_its_planned_bays(plan: Plan) -> None:
    sheets = log.sheets(plan)
    assert len(sheets) == len(plan.sequence.pours)
    for pour, sheet in zip(plan.sequence.pours, sheets, strict=True):
        rows = _table(sheet.view["bays"]).rows
        assert rows[0].cells[0].split(" to ")[0] == "1"
        assert rows[-1].cells[0].split(" to ")[-1] == str(len(pour.turns))
        assert all(r.cells[-1] == "" for r in rows)  # nothing is filled in for the reader


def test_stopping_is_told_on_one_sheet(plan: Plan) -> None:
    (sheet,) = restart.sheets(plan)
    stops = sheet.view["stops"]
    if stops is not None:
        assert len(_table(stops).rows) == len(plan.sequence.pours)


def test_no_sheet_of_filling_puts_a_sign_before_a_height(plan: Plan) -> None:
    for module in (pours, mixing, placing, faults, log, restart, order):
        for sheet in module.sheets(plan):
            words = " ".join(_strings(sheet.view))
            assert not re.search(r"(?<![\w\d])[-\u2212]\d", words), sheet.slug
            assert "thickness" not in words


@given(st.lists(st.integers(0, 6), min_size=1, max_size=60), st.integers(2, 12))
def test_rows_of_bays_are_taken_together_without_being_torn(rows: list[int], most: int) -> None:
    turns = [Turn(i + 1, str(i), 0.36, 70, 25, 25 * (i + 1), 9.0, False, ()) for i in range(len(rows))]
    bays = [_Bay(str(i), row, i % 7) for i, row in enumerate(rows)]
    groups = grouped(_Plan(bays), turns, most)  # type: ignore[arg-type]
    assert [t for g in groups for t in g] == turns
    assert len(groups) <= max(most, 2 * math.ceil(len(turns) / math.ceil(len(turns) / most)))


class _Bay:
    def __init__(self, name: str, row: int, column: int) -> None:
        self.name, self.row, self.column = name, row, column


class _Plan:
    def __init__(self, bays: list[_Bay]) -> None:
        self.layout = type("Layout", (), {"bays": bays})


def _table(thing: object) -> Table:
    assert isinstance(thing, Table)
    return thing


def _strings(view: object) -> list[str]:
    """All plain words of a view; drawings are left out, their coordinates have signs."""
    if isinstance(view, str):
        return [] if view.lstrip().startswith("<svg") else [view]
    if isinstance(view, Table):
        return [c for r in view.rows for c in r.cells if not c.startswith("<")]
    if isinstance(view, dict):
        return [t for v in view.values() for t in _strings(v)]
    if isinstance(view, list | tuple):
        return [t for v in view for t in _strings(v)]
    return []


@pytest.mark.parametrize("water", [(9.2, 11.2), (4.6, 5.6)])
def test_the_water_of_a_batch_as_the_bag_gives_it(water: tuple[float, float]) -> None:
    """4 bags and 2 bags of 2.3 to 2.8 L: the figures of the mixing sheet by hand."""
    assert range_of(water) == f"{water[0]} to {water[1]}"
