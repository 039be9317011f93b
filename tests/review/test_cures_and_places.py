"""Findings of rooms with doors, drains and joints that no demo project has: said once, with cures that cure them."""

from __future__ import annotations

from collections.abc import Callable

from packgen.core.finding import Finding

Review = Callable[..., tuple[Finding, ...]]


def only(findings: tuple[Finding, ...], code: str) -> Finding:
    hits = [f for f in findings if f.code == code]
    assert len(hits) == 1, [(f.code, f.where) for f in hits]
    return hits[0]


WET = [
    ("covers: whole room\n", "covers: whole room\n    wet: yes\n"),
    ("services: []", "drains:\n  - {kind: point drain, at: [2000, 1500], diameter: 100}\nservices: []"),
]


def test_a_wet_room_inside_falls_to_its_drain_and_not_away_from_a_house(findings_with: Review) -> None:
    assert any("towards the drain" in cure for cure in only(findings_with("07", WET), "fall-wrong").cures)


def test_two_doors_that_disagree_are_cured_by_a_strip_and_by_no_fill(findings_with: Review) -> None:
    second = "floor there: 20 below TBM, sill: none}\n  - {name: back way, in: wall 2, from: 900, width: 900"
    doors = [
        (
            "floor there: 20 below TBM, sill: none}",
            f"{second}, leads to: store, floor there: same as TBM, sill: none}}",
        )
    ]
    cures = only(findings_with("07", doors), "no-height-fits").cures
    assert "a ramp strip at the back way (ramp strip: yes)" in cures
    assert "another fill" not in cures


def test_fields_that_break_the_same_rule_are_one_finding_with_every_place(findings_with: Review) -> None:
    """Each half is 44 m², and 40 m² is the most for a heated screed."""
    long = [
        ("wall 1: 6200", "wall 1: 20000"),
        ("wall 3: 6196", "wall 3: 20000"),
        ("corner 1 to corner 3: 7603", "corner 1 to corner 3: 20477"),
        ("corner 2 to corner 4: 7600", "corner 2 to corner 4: 20477"),
        ("from: [3125, 0], to: [3125, 4400]", "from: [10000, 0], to: [10000, 4400]"),
    ]
    hits = [f for f in findings_with("02", long) if f.code == "joint-missing" and f.where.startswith("field")]
    assert len(hits) == 1
    assert hits[0].where.count(" and ") == 1
    assert "2 such fields" in hits[0].says


def channel(top: str) -> list[tuple[str, str]]:
    """A channel at the far edge: the surface falls 15 a metre from 50 below the TBM, so 3370 from the house 101."""
    return [
        ("along: wall 1, from: 1700, to: 4300, width: 130", f"along: wall 3, from: 0, to: 6000, width: 130, top: {top}")
    ]


def test_a_channel_at_the_far_edge_meets_the_floor_on_its_inner_side(findings_with: Review) -> None:
    assert [f for f in findings_with("05", channel("101 below TBM")) if f.code == "drain-blocked"] == []
    assert only(findings_with("05", channel("100 below TBM")), "drain-blocked").where == "channel along wall 3"
