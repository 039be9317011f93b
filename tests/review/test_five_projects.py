"""What the five demo projects must show before anything is lifted, and what the sentences on paper look like."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from packgen.core.finding import GATES, KINDS, Finding
from packgen.review.judge import natural

Review = Callable[..., tuple[Finding, ...]]
ALL = ("01", "02", "05", "07", "08")

STOPS = {
    "01": {("leg-out-of-range", "C4")},
    "02": {
        ("pressure-test-open", "circuit 1"),
        ("pressure-test-open", "circuit 2"),
        ("moisture-open", "extension"),
        ("heat-log-open", "heating"),
        ("laser-unproved", "laser"),
    },
    "05": {("frost-night", "day 1"), ("edge-bay-open", "wall 2 and wall 3")},
    "07": set(),
    "08": {
        ("asbestos-unknown", "base"),
        ("leg-out-of-range", "C4"),
        ("no-membrane", "base"),
        ("damp-base", "base"),
        ("moisture-open", "front room"),
    },
}


@pytest.mark.parametrize("number", ALL)
def test_stops(number: str, findings_with: Review) -> None:
    assert {(f.code, f.where) for f in findings_with(number) if f.kind == "stop"} == STOPS[number]


@pytest.mark.parametrize(
    ("number", "code", "says"),
    [
        ("01", "leg-out-of-range", "At C4 the leg would be 42; 46 is the shortest that can be set. 4 short."),
        ("01", "comparison-fails", "kN/m² where 0.60 is allowed (load-over-allowed)"),
        ("02", "little-left", "45 is needed: 1 to spare"),
        ("05", "frost-night", "Do not fill before Tue 30 Mar 2027"),
        ("05", "rain-on-fill", "Rain on Tue 23 Mar 2027: cover ready before the first batch."),
        ("05", "fall-of-base-low", "the base falls 2.6 to 9.7 per metre, with a hollow at A1"),
        ("08", "damp-base", "The base is at 88 % RH; 75 is the most under a covering."),
    ],
)
def test_sentences(number: str, code: str, says: str, findings_with: Review) -> None:
    assert any(says in f.says for f in findings_with(number) if f.code == code)


def test_feet_on_one_pipe_are_one_finding_with_a_cure_that_was_computed(findings_with: Review) -> None:
    """The extension with its first lines pinned at 50: the search would put no foot on a pipe."""
    pinned = [("first line from wall: 50", "first lines: {along wall 1: 50, from wall 1: 50}")]
    (stop,) = [f for f in findings_with("02", pinned) if f.code == "foot-on-pipe" and f.kind == "stop"]
    assert "35 legs would stand on circuit 2" in stop.says
    assert stop.says.count(",") >= 6
    assert "and 28 more" in stop.says
    assert stop.cures[0].startswith("write first lines: {along wall 1: ")
    assert stop.cures[0].endswith("} under kit: then no foot stands on a pipe")


@pytest.mark.parametrize("number", ALL)
def test_order_on_paper(number: str, findings_with: Review) -> None:
    keys = [
        (KINDS.index(f.kind), GATES.index(f.gate) if f.gate else len(GATES), natural(f.where))
        for f in findings_with(number)
    ]
    assert keys == sorted(keys)


@pytest.mark.parametrize("number", ALL)
def test_every_finding_can_be_used(number: str, findings_with: Review) -> None:
    for f in findings_with(number):
        assert f.says[0] == f.says[0].strip(), f
        assert f.says.rstrip().endswith((".", "?")), f.says
        assert not re.search(r"(?<![\w)-])[-−]\d", f.says), f"a minus sign: {f.says}"
        assert f.source, f.code
        assert f.where or f.kind == "note", f.code
        if f.kind != "note":
            assert f.cures, f.code
        if f.kind == "stop":
            assert f.gate, f.code
            assert f.place is not None, f.code
        if f.number is not None and f.limit is not None:
            assert f.unit, f.code


def test_a_clean_project_has_no_stops_but_those_to_come(findings_with: Review) -> None:
    """The extension with its grid moved, its pipes tested and its laser proved: only heating and drying are left."""
    mended = [
        ["    leads: 9000\n", "    leads: 9000\n    saddle: yes\n"],
        [
            "limits: {rail top: 1.5",
            "laser: {tested: 2027-04-01}\nlifted:\n"
            "  - {stop: pressure-test-open, where: circuit 1, by: fitter, date: 2027-04-03, paper: P-3, for: 5 bar}\n"
            "  - {stop: pressure-test-open, where: circuit 2, by: fitter, date: 2027-04-03, paper: P-3, for: 5 bar}\n"
            "limits: {rail top: 1.5",
        ],
    ]
    held = {(f.code, f.gate) for f in findings_with("02", mended) if f.open_stop}
    assert held == {("moisture-open", "cover"), ("heat-log-open", "cover")}
