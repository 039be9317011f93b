"""Two rooms levelled from different set-ups: spots, pipes, joints and drains are measured from their own corner 1."""

from __future__ import annotations

from pathlib import Path

import pytest

from packgen.layout.arrange import arrange
from packgen.project.model import Project
from packgen.project.read import ReadResult, read_project
from packgen.survey.reduce import survey_project

BAY = Path(__file__).parent.parent.parent / "projects" / "07-school-exercise-bay.yaml"
STORE = """\
  - name: store
    walls:
      - wall 1: 3000, turn right
      - wall 2: 2000, turn right
      - wall 3: 3000, turn right
      - wall 4: 2000, turn right

openings:
"""
SET_UP = """\
      close on: {point: TBM, reading: 1297}
    - name: S3
      room: Store
      start on: {point: TBM, reading: 1400}
      readings: |
        row      K      L
        8     1500   1501
        9     1502   1503
      close on: {point: TBM, reading: 1400}
"""


def two_rooms(*more: tuple[str, str]) -> ReadResult:
    text = BAY.read_text(encoding="utf-8")
    changes = [
        ("openings:\n", STORE),
        ("{name: way in, in: wall 4,", "{name: way in, room: bay, in: wall 4,"),
        ("covers: whole room", "covers: bay"),
        (
            "services: []",
            "  - {zone: store floor, covers: STORE, finished level: 20 below TBM}\nservices: []",
        ),
        ("H: 3950}", "H: 3950, K: 50, L: 2950}"),
        ("6: 2950}", "6: 2950, 8: 50, 9: 1950}"),
        ("      close on: {point: TBM, reading: 1297}\n", SET_UP),
        *more,
    ]
    for was, typed in changes:
        assert text.count(was) == 1, was
        text = text.replace(was, typed)
    return read_project(text.encode(), "two.yaml")


def project(*more: tuple[str, str]) -> Project:
    read = two_rooms(*more)
    assert read.project is not None, [f"{f.place}: {f.says}" for f in read.faults]
    return read.project


def test_spots_lie_in_the_room_that_their_set_up_names() -> None:
    survey = survey_project(project())
    store = survey.rooms[1]
    spots = {p.id: p for p in survey.levels.points}
    assert (spots["A1"].x_mm, spots["A1"].y_mm) == (50, 50)
    assert (spots["L9"].x_mm - store.origin[0], spots["L9"].y_mm - store.origin[1]) == (2950, 1950)
    assert spots["L9"].level_mm == 1400 - 1503


def test_names_of_rooms_are_read_as_the_rooms_spell_them() -> None:
    found = project()
    assert found.levels.setups[2].room == "store"
    assert found.finishes[1].covers == "store"


def test_a_pipe_and_a_joint_are_measured_from_their_own_room() -> None:
    pipe = "services:\n  - {name: duct, room: store, kind: conduit, outside: 20, from: [500, 1000], to: [2500, 1000]}"
    joint = "joints:\n  - {kind: movement, room: store, from: [1500, 0], to: [1500, 2000], width: 8}"
    job = project(("services: []", pipe), ("joints: []", joint))
    survey = survey_project(job)
    layout, x = arrange(job, survey), survey.rooms[1].origin[0]
    assert layout.services[0].stretches[0].a == pytest.approx((x + 500, 1000))
    assert [j.line.a[0] for j in layout.joints] == pytest.approx([x + 1500])


def test_a_channel_lies_along_a_wall_of_its_own_room() -> None:
    drain = "drains:\n  - {kind: channel, room: store, along: wall 2, from: 0, to: 2000, width: 100}\nservices: []"
    bay, store = survey_project(project(("services: []", drain))).rooms
    assert [c.kind for c in bay.cut_outs] == []
    assert [c.kind for c in store.cut_outs] == ["channel"]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("room: Store", "room: cellar"), "room-unknown"),
        (("row      K      L", "row      A      L"), "spot-in-two-rooms"),
        (("K: 50, L: 2950}", "K: 50, L: 50}"), "same-place"),
    ],
)
def test_a_room_that_is_not_there_or_a_spot_in_two_is_a_fault(change: tuple[str, str], code: str) -> None:
    more = [change]
    if code == "spot-in-two-rooms":
        more.append(("        8     1500   1501\n", "        1     1500   1501\n"))
    assert code in {f.code for f in two_rooms(*more).faults}
