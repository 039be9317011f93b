"""The starter file reads as it is, whatever its project is called."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.plan import make_plan
from packgen.project.read import read_project
from packgen.project.starter import starter


def test_it_plans_with_nothing_held_but_the_test_of_residual_moisture() -> None:
    project = read_project(starter("my floor").encode(), "starter.yaml").project
    assert project is not None
    assert [f.code for f in make_plan(project).findings if f.open_stop] == ["moisture-open"]


@settings(max_examples=50, deadline=None)
@given(st.text(max_size=120))
def test_any_name_is_printed_as_it_is(name: str) -> None:
    read = read_project(starter(name).encode("utf-8", "replace"), "starter.yaml")
    assert read.project is not None, read.faults
    if name.isascii() and name.isprintable() and name.strip():
        assert read.project.project.name == " ".join(name.split())[:80]


@pytest.mark.parametrize(
    "name", ["no", "a: b", "# 12", "@home", '"quoted"', "C:\\floor", "2027-04-05", "*", "- x", "{a}"]
)
def test_names_that_mean_something_in_yaml(name: str) -> None:
    project = read_project(starter(name).encode(), "starter.yaml").project
    assert project is not None
    assert project.project.name == name
