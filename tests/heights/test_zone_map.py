"""Which zone a place belongs to: boxes, slivers at walls, borders, floor that nobody claims."""

from __future__ import annotations

import pytest

from packgen.core.plane import area
from packgen.heights.zone_map import map_zones

BAY = "07-school-exercise-bay"
WHOLE = """  - zone: bay
    covers: whole room
    finished level: 20 below TBM
    fall: level
    layers from the top:
      - linoleum: 3
      - OSB board: 18
    weight of layers: 15.3 kg/m2
"""


def zone(name, covers, level="20 below TBM", layers="      - linoleum: 3\n      - OSB board: 18\n", fall="level"):
    return (
        f"  - zone: {name}\n    covers: {covers}\n    finished level: {level}\n    fall: {fall}\n"
        f"    layers from the top:\n{layers}"
    )


def box(x0, y0, x1, y1):
    return f"{{from: [{x0}, {y0}], to: [{x1}, {y1}]}}"


def areas(settled):
    return [sum(area(p) for p in z.region) / 1e6 for z in settled.heights.zones]


def test_two_boxes_share_the_room(settle):
    both = zone("dry", box(0, 0, 2500, 3000)) + zone("shower", box(2500, 0, 4000, 3000))
    found = settle(BAY, (WHOLE, both))
    assert areas(found) == pytest.approx([7.5, 4.5])
    assert found.heights.unclaimed == ()
    assert {leg.zone for leg in found.heights.legs} == {"dry", "shower"}


def test_an_edge_within_5_of_a_wall_is_the_wall(settle):
    both = zone("dry", box(3, 4, 2500, 2996)) + zone("shower", box(2500, 0, 3995, 3004))
    found = settle(BAY, (WHOLE, both))
    assert areas(found) == pytest.approx([7.5, 4.5])
    assert found.heights.unclaimed == ()


def test_floor_that_no_zone_covers_is_said_and_still_has_a_top(settle, resettle):
    """The file is refused in that case; a project made by the program may still come so."""
    both = zone("dry", box(0, 0, 2500, 3000)) + zone("shower", box(2500, 0, 4000, 3000))
    project = settle(BAY, (WHOLE, both)).project
    found = resettle(project.model_copy(update={"finishes": project.finishes[:1]}))
    assert sum(area(p) for p in found.heights.unclaimed) / 1e6 == pytest.approx(4.5)
    assert {leg.zone for leg in found.heights.legs} == {"dry"}


def test_a_box_is_cut_out_of_a_whole_room(settle):
    both = zone("bay", "whole room") + zone("shower", box(1000, 1000, 2000, 2000), "30 below TBM")
    found = settle(BAY, (WHOLE, both))
    assert areas(found) == pytest.approx([11, 1])
    assert {(leg.zone, leg.rail_top_mm) for leg in found.heights.legs} == {("bay", -41), ("shower", -51)}


def test_border_has_the_step_of_both_finished_levels_and_rails(settle):
    both = zone("dry", box(0, 0, 2500, 3000)) + zone(
        "shower", box(2500, 0, 4000, 3000), "26 below TBM", "      - tile: 12\n"
    )
    heights = settle(BAY, (WHOLE, both)).heights
    assert [(b.first, b.second, b.step_mm, b.rail_step_mm) for b in heights.borders] == [("dry", "shower", -6, 3)]
    assert heights.borders[0].line.length_mm == pytest.approx(3000)
    assert heights.border_rails == ()  # the layout ends rails at a border whose rail tops are known to differ


def test_rails_over_a_border_whose_levels_were_left_open_are_named(settle):
    both = zone("strip", box(0, 0, 4000, 600), "open") + zone("bay", box(0, 600, 4000, 3000), "open")
    heights = settle(BAY, (WHOLE, both)).heights
    assert [b.rail_step_mm != 0 for b in heights.borders] == [True]
    assert heights.border_rails == tuple("ABCDEFGH")


def test_level_zones_at_one_rail_top_need_no_stop(settle):
    both = zone("dry", box(0, 0, 2500, 3000)) + zone(
        "tiled", box(2500, 0, 4000, 3000), "20 below TBM", "      - tile: 21\n"
    )
    heights = settle(BAY, (WHOLE, both)).heights
    assert [(b.step_mm, b.rail_step_mm) for b in heights.borders] == [(0, 0)]
    assert heights.border_rails == ()


def test_zones_of_one_room_have_windows_of_their_own(settle):
    both = zone("dry", box(0, 0, 2500, 3000)) + zone("shower", box(2500, 0, 4000, 3000), "40 below TBM")
    heights = settle(BAY, (WHOLE, both)).heights
    assert [z.zone for z in heights.by_zone] == ["dry", "shower"]
    assert [z.window.asked_mm for z in heights.by_zone] == [-20, -40]
    assert heights.window == heights.by_zone[0].window
    assert "way in" in [b.place for b in heights.by_zone[0].window.at_least]
    assert "way in" not in [b.place for b in heights.by_zone[1].window.at_least]


def test_each_place_has_one_owner(settle):
    found = settle(BAY, (WHOLE, zone("dry", box(0, 0, 2500, 3000)) + zone("rest", box(2500, 0, 4000, 3000))))
    zones = map_zones(found.project, found.survey.rooms)
    assert [zones.zone_at("bay", (x, 1500)) for x in (0, 2499, 2500, 4000)] == [0, 0, 1, 1]
    assert sum(area(p) for r in zones.regions for p in r) == pytest.approx(12e6)
