"""The sheet that holds the chosen first lines against the plainest: there where they differ, and only there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from packgen.booklet.sheets.grid import sheets
from packgen.generate import plan_file
from packgen.plan import Plan

PROJECTS = Path(__file__).parents[2] / "projects"


def planned(name: str) -> Plan:
    plan = plan_file(PROJECTS / f"{name}.yaml").plan
    assert plan is not None
    return plan


def test_the_extension_says_how_many_feet_on_pipes_before_and_after() -> None:
    plan = planned("02-extension-heated")
    (sheet,) = sheets(plan)
    rows = {row.cells[1]: row.cells[2:4] for row in sheet.view["table"].rows}  # type: ignore[attr-defined]
    assert rows["feet on a pipe or cable"] == ("35", "0")
    assert "It has none where the plainest has 35" in str(sheet.view["says"])
    assert "first lines 50 along wall 1, 50 from wall 1" in str(sheet.view["plainest_says"])
    # every foot of the plainest on a pipe is a disc of its drawing, the chosen has none
    plainest, chosen = (len(re.findall("a0?.8 0?.8 0 1 0 1.6 0a", str(sheet.view[s]))) for s in ("plainest", "chosen"))
    assert (plainest, chosen) == (35, 0)


@pytest.mark.parametrize("name", ["01-attic-studio", "07-school-exercise-bay"])
def test_a_room_on_the_plainest_grid_has_no_such_sheet(name: str) -> None:
    assert sheets(planned(name)) == ()
