"""Sections: every printed sum adds up, in figures a reader can check, and levels are words."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from packgen.booklet.drawing.section import all_sections
from packgen.plan import Plan

SUM = re.compile(r"((?:[a-z][\w ]*? )?\d+(?:\.\d+)?(?: \+ (?:[\w' -]+? )?\d+(?:\.\d+)?)+) = (\d+(?:\.\d+)?)")


def test_sums_add_up(any_plan: Plan) -> None:
    checked = 0
    for section in all_sections(any_plan):
        for left, right in SUM.findall(section.sums):
            parts = [float(re.search(r"(\d+(?:\.\d+)?)$", t).group(1)) for t in left.split(" + ")]  # type: ignore[union-attr]
            assert sum(parts) == pytest.approx(float(right)), section.sums
            checked += 1
    assert checked


def test_pipe_cover_is_depth_less_pipe_and_support(plan_named: Callable[[str], Plan]) -> None:
    pipe = next(s for s in all_sections(plan_named("02")) if s.key == "pipe")
    found = re.search(r"depth (\d+) less support (\d+) and pipe (\d+) = cover (\d+)", pipe.sums)
    assert found
    depth, support, outside, cover = (int(v) for v in found.groups())
    assert depth - support - outside == cover


def test_no_height_has_a_sign(any_plan: Plan) -> None:
    for section in all_sections(any_plan):
        assert not re.search(r"(^|[\s(])[-−]\d", section.sums), section.sums


def test_every_door_has_its_section(any_plan: Plan) -> None:
    keys = {s.key for s in all_sections(any_plan)}
    for room in any_plan.survey.rooms:
        assert all(f"door-{door.name}" in keys for door in room.doors)


def test_what_a_job_has_is_shown(plan_named: Callable[[str], Plan]) -> None:
    def kinds(name: str) -> set[str]:
        return {s.key.split("-")[0] for s in all_sections(plan_named(name))}

    assert {"wall", "door", "pipe", "extremes", "joint"} <= kinds("02")
    assert "free" in kinds("05")
    assert "border" in kinds("two-zones")
