"""Names of walls stand by their own wall: never on the far side of another, and left out where there is no room."""

from __future__ import annotations

from packgen.booklet.drawing.plan_view import SIDES, base_plan, name_margins, plan_view
from packgen.core.plane import Point, Segment, crossing
from packgen.plan import Plan, make_plan
from packgen.project.read import read_project
from tests.conftest import PROJECTS  # type: ignore[import-not-found]

NIB = """\
      - wall 1: 4000, turn right
      - wall 2: 3000, turn right
      - wall 3: 1000, turn right
      - wall 4: 250, turn left
      - wall 5: 200, turn left
      - wall 6: 250, turn right
      - wall 7: 2800, turn right
      - wall 8: 3000, turn right
"""


def bay_with_a_nib() -> Plan:
    text = (PROJECTS / "07-school-exercise-bay.yaml").read_text(encoding="utf-8")
    start = text.index("      - wall 1:")
    text = text[:start] + NIB + text[text.index("\nopenings:") :]
    text = text.replace("in: wall 4, from: 1000", "in: wall 8, from: 1000")
    read = read_project(text.encode(), "nib.yaml")
    assert read.project is not None, [f"{f.place}: {f.says}" for f in read.faults]
    return make_plan(read.project)


def test_nothing_stands_between_a_wall_and_its_name() -> None:
    plan = bay_with_a_nib()
    off = dict.fromkeys(SIDES, 25.0)  # as where dimensions stand outside the walls
    view = plan_view(plan, 178.0, 200.0, name_margins(plan, off))
    base_plan(view, plan, off=off)
    walls = {w.name: w.line for w in plan.survey.rooms[0].walls}
    for label in view.canvas._labels:
        if label.text in walls:
            at = (
                view.window.x0 + (label.x - view.left) * view.scale,
                view.window.y0 + (label.y - view.top) * view.scale,
            )
            way = Segment(at, _nearest(walls[label.text], at))
            assert [name for name, line in walls.items() if name != label.text and crossing(way, line)] == [], label


def _nearest(line: Segment, at: Point) -> Point:
    (ax, ay), (bx, by) = line.a, line.b
    f = ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / line.length_mm**2
    f = min(0.95, max(0.05, f))
    return (ax + f * (bx - ax), ay + f * (by - ay))
