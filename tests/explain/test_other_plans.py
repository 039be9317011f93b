"""Lines of plans that the demo projects do not have: several zones and rooms, open levels, a crew of one, drains."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from packgen.explain.answer import explain
from packgen.plan import Plan, make_plan
from packgen.project.read import read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"
Changes = tuple[tuple[str, str], ...]

TWO_ZONES: Changes = (
    ("  - zone: extension\n", "  - zone: wet end\n"),
    ("covers: whole room", "covers: {from: [0, 0], to: [2450, 4400]}"),
    (
        "    weight of layers: 33.0 kg/m2\n",
        """\
  - zone: dry end
    covers: {from: [2450, 0], to: [6200, 4400]}
    finished level: open
    fall: level
    layers from the top:
      - oak board: 14
      - underlay: 3
""",
    ),
)
STORE: Changes = (
    (
        "openings:\n",
        """\
  - name: store
    walls:
      - wall 1: 3000, turn right
      - wall 2: 2000, turn right
      - wall 3: 3000, turn right
      - wall 4: 2000, turn right

openings:
""",
    ),
    ("{name: way in, in: wall 4,", "{name: way in, room: bay, in: wall 4,"),
    ("covers: whole room", "covers: bay"),
    ("services: []", "  - {zone: store floor, covers: store, finished level: 20 below TBM}\nservices: []"),
    ("H: 3950}", "H: 3950, K: 50, L: 2950}"),
    ("6: 2950}", "6: 2950, 8: 50, 9: 1950}"),
    (
        "      close on: {point: TBM, reading: 1297}\n",
        """\
      close on: {point: TBM, reading: 1297}
    - name: S3
      room: store
      start on: {point: TBM, reading: 1400}
      readings: |
        row      K      L
        8     1500   1501
        9     1502   1503
      close on: {point: TBM, reading: 1400}
""",
    ),
)
PLANS: dict[str, tuple[str, Changes]] = {
    "two zones, one level left open": ("02-extension-heated", TWO_ZONES),
    "two rooms": ("07-school-exercise-bay", STORE),
    "everything open": ("02-extension-heated", (("finished level: same as TBM", "finished level: open"),)),
    "four days on the grid": ("07-school-exercise-bay", (("set grid: 1.0", "set grid: 0.1"),)),
    "a grating with its own height": (
        "05-terrace-with-falls",
        (("width: 130}", "width: 130, top: 60 below TBM}"),),
    ),
}


def planned(name: str, changes: Changes) -> tuple[Plan, list[str]]:
    text = (PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")
    for was, typed in changes:
        assert text.count(was) == 1, was
        text = text.replace(was, typed)
    read = read_project(text.encode(), "case.yaml")
    assert read.project is not None, [f.says for f in read.faults]
    return make_plan(read.project), text.splitlines()


@pytest.mark.parametrize("case", PLANS)
def test_each_line_works_out_and_each_figure_is_from_somewhere(
    case: str, faults_of: Callable[[Plan], list[str]]
) -> None:
    plan, lines = planned(*PLANS[case])
    faults = faults_of(plan)
    assert not faults, "\n".join(faults[:20])
    assert explain(plan, "case.yaml", lines, ()).known
