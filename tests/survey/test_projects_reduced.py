"""Whole projects through the survey: cut-outs, doors, printed lines, and two rooms in one file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from packgen.core.plane import area
from packgen.project.read import read_project
from packgen.survey.reduce import survey_project

PROJECTS = Path(__file__).parents[2] / "projects"


def surveyed(name: str, change=lambda text: text):
    text = change((PROJECTS / f"{name}.yaml").read_text(encoding="utf-8"))
    read = read_project(text.encode(), f"{name}.yaml")
    assert read.project is not None, read
    return survey_project(read.project)


def test_a_hearth_that_reaches_into_the_wall_is_clipped_to_the_room() -> None:
    room = surveyed("08-skew-old-house-room").rooms[0]
    (hearth,) = room.cut_outs
    # 1400 wide, from 3600 to the far wall: by the other program's overlay 653 376 mm²
    assert area(hearth.shape) == pytest.approx(653_376, abs=10)
    assert room.gross_area_m2 - room.area_m2 == pytest.approx(0.653376, abs=1e-5)
    assert sum(area(p) for p in room.floor) / 1e6 == pytest.approx(room.area_m2)


def test_a_channel_is_cut_from_the_fill_but_belongs_to_the_room() -> None:
    room = surveyed("05-terrace-with-falls").rooms[0]
    assert room.area_m2 == room.gross_area_m2
    assert room.area_m2 - sum(area(p) for p in room.floor) / 1e6 == pytest.approx(2.6 * 0.13)
    assert room.outside


def test_doors_lie_on_their_wall_as_walked_and_know_whether_they_lead_outside() -> None:
    kitchen, sliding = surveyed("02-extension-heated").rooms[0].doors
    assert (kitchen.line.a, kitchen.line.b) == ((2100, 0), (4500, 0))
    assert sliding.line.a[0] - sliding.line.b[0] == pytest.approx(3000)
    assert (kitchen.outside, sliding.outside) == (False, True)
    (house_door,) = surveyed("05-terrace-with-falls").rooms[0].doors
    assert not house_door.outside


def test_a_reading_ten_out_is_found_in_the_extension_and_nothing_else() -> None:
    assert surveyed("02-extension-heated").suspects == ()
    line = "        5        1479   1480   1479   1476"
    found = surveyed("02-extension-heated", lambda t: t.replace(line, line.replace("1480", "1470"))).suspects
    assert [(s.point, s.reading_mm, s.likely_mm) for s in found] == [("G5", 1470, 1480)]


@pytest.mark.parametrize(("name", "asked"), [("05-terrace-with-falls", ()), ("07-school-exercise-bay", ())])
def test_true_slopes_and_humps_are_not_called_mistakes(name, asked) -> None:
    assert tuple(s.point for s in surveyed(name).suspects) == asked


def test_the_spot_on_the_attic_floor_that_stands_alone_is_asked_about() -> None:
    assert [s.point for s in surveyed("01-attic-studio").suspects] == ["C4"]


@pytest.mark.parametrize("name", ["01-attic-studio", "02-extension-heated", "08-skew-old-house-room"])
def test_every_reading_point_has_its_printed_line(name) -> None:
    survey = surveyed(name)
    keys = {w.key for w in survey.levels.worked}
    assert {f"level/{p.id}" for p in survey.levels.points} <= keys
    assert {"misclosure", "correction/S1", "collimation/S2"} <= keys
    assert not any(re.search(r"(^|[(x/+-] ?)-", w.numbers) for w in survey.levels.worked)  # no sign before a figure


def test_a_second_room_lies_beside_the_first() -> None:
    project = read_project((PROJECTS / "02-extension-heated.yaml").read_bytes(), "two.yaml").project
    assert project is not None
    room = project.rooms[0]
    twin = room.model_copy(update={"name": "twin"})
    first, second = survey_project(project.model_copy(update={"rooms": (room, twin)})).rooms
    assert second.area_m2 == pytest.approx(first.area_m2)
    assert min(x for x, _ in second.corners) > max(x for x, _ in first.corners)
    assert [d.name for d in first.doors] == ["kitchen opening", "sliding door"]
    assert second.doors == ()
    keys = [w.key for r in (first, second) for w in r.worked]
    assert len(keys) == len(set(keys))


def test_what_stands_as_near_to_a_wall_as_a_tape_errs_leaves_no_crack() -> None:
    """Wall 3 of the terrace is taped 6003 and wall 1 6000: a channel to 6000 ends at the wall; so does a pillar."""
    channel = ("along: wall 1, from: 1700, to: 4300", "along: wall 3, from: 0, to: 6000")
    (room,) = surveyed("05-terrace-with-falls", lambda t: t.replace(*channel)).rooms
    (floor,) = room.floor
    assert len(floor.shell) == 4
    pillar = "    obstacles:\n      - {name: pillar, from: [5700, 1000], to: [5998, 1300]}\n    free edges:"
    (room,) = surveyed("05-terrace-with-falls", lambda t: t.replace("    free edges:", pillar)).rooms
    (pillar_shape,) = [c.shape for c in room.cut_outs if c.kind == "obstacle"]
    assert max(x for x, _ in pillar_shape.shell) == pytest.approx(max(x for x, _ in room.corners), abs=0.5)
