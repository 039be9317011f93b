"""The cover stays one sheet however much there is to say, and its key rows stay on it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packgen.booklet.sheets import cover
from packgen.core.finding import GATES, Finding
from packgen.generate import plan_file
from packgen.plan import Plan

FILE = Path(__file__).parent.parent.parent / "projects" / "05-terrace-with-falls.yaml"
LONG = (
    "Something is very wrong at a place that takes many words to say so that a person finds it on the floor plan, " * 3
)


@pytest.fixture(scope="module")
def terrace() -> Plan:
    plan = plan_file(FILE).plan
    assert plan is not None
    return plan


def test_at_most_sixteen_rows_and_three_depths_apart(terrace: Plan) -> None:
    rows = cover.key_facts(terrace)
    assert len(rows) <= 16
    names = [name for name, _ in rows]
    for depth in ("mean depth, for ordering", "smallest depth, for strength", "greatest depth, for drying"):
        assert names.count(depth) == 1


def test_long_holds_at_every_gate_push_out_only_what_is_needed_least(terrace: Plan) -> None:
    held = replace(terrace, findings=tuple(Finding("stop", "x", LONG, gate=g, lift="numbers") for g in GATES))
    view = cover.sheets(held)[0].view
    names = [name for name, _ in view["facts"]]  # type: ignore[attr-defined]
    for name in ("finished level", "rail top", "legs", "fill", "smallest depth, for strength", "pour days"):
        assert name in names
    assert len(names) < len(cover.key_facts(terrace))
