"""The order list of rooms that no demo project has: channels at free edges, wool."""

from __future__ import annotations

from pathlib import Path

from packgen.plan import Plan, make_plan
from packgen.project.read import read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"


def planned(name: str, *changes: tuple[str, str]) -> Plan:
    text = (PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")
    for was, typed in changes:
        assert text.count(was) == 1, was
        text = text.replace(was, typed)
    read = read_project(text.encode(), "case.yaml")
    assert read.project is not None, [f"{f.place}: {f.says}" for f in read.faults]
    return make_plan(read.project)


def quantity(plan: Plan, item: str) -> float | None:
    return next((line.quantity for line in plan.purchase.order if line.item.startswith(item)), None)


def test_a_channel_along_a_free_edge_takes_no_strip_from_the_walls() -> None:
    """House 6.0, garden wall 3.5 less the channel 0.13, channel 6.0: 15.37 m, with 5 % spare 16.2 m."""
    change = ("along: wall 1, from: 1700, to: 4300, width: 130", "along: wall 3, from: 0, to: 6000, width: 130")
    assert quantity(planned("05-terrace-with-falls", change), "perimeter strip") == 16.2


def test_wool_needs_no_separating_layer_and_granulate_does() -> None:
    wool = ("kind: dry granulate under board", "kind: mineral wool between rails under boards")
    assert quantity(planned("07-school-exercise-bay", wool), "separating layer") is None
    assert quantity(planned("07-school-exercise-bay"), "separating layer") is not None
