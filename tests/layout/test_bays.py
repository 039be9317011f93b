"""Bays: names, needles, joints and zones."""

from __future__ import annotations

import pytest

from packgen.core.plane import bounds, pieces_inside
from packgen.project.room_model import Joint, ServiceArea
from packgen.project.work_model import Fall, FinishedLevel, Layer, Zone


def bay(layout, name):
    return next(b for b in layout.bays if b.name == name)


def zone(name, covers, level, thick=20.0, **more):
    area = covers if isinstance(covers, str) else ServiceArea(start=covers[:2], end=covers[2:])
    layers = (Layer(name="tile", thickness=thick),)
    return Zone(zone=name, covers=area, finished_level=FinishedLevel(level=level), layers=layers, **more)


def test_a_bay_is_named_by_the_lines_round_it_and_reaches_their_middles(box_room, lay):
    layout = lay(box_room(4000, 3000))
    assert bounds(bay(layout, "CD-45").shape) == (1250, 1850, 1850, 2450)
    assert (bay(layout, "CD-45").column, bay(layout, "CD-45").row) == (3, 4)


def test_the_strip_between_first_line_and_wall_is_filled_with_the_bay_beside_it(box_room, lay):
    """40 wide: narrower than a float, so it is no bay of its own (common practice, no source)."""
    layout = lay(box_room(4000, 3000))
    assert bounds(bay(layout, "AB-12").shape) == (10, 10, 650, 650)
    assert set(bay(layout, "AB-12").merged) == {"wA-12", "AB-w1", "wA-w1"}
    assert not [b.name for b in layout.bays if "w" in b.name]


def test_a_strip_wide_enough_for_a_float_is_a_bay(box_room, lay):
    layout = lay(box_room(3190, 2500))
    assert bounds(bay(layout, "Fw-23").shape) == (3050, 650, 3180, 1250)


def test_names_of_more_than_one_sign_are_kept_apart(box_room, lay):
    layout = lay(box_room(16000, 6700))
    assert {"AB-9/10", "Z/AA-10/11", "AA/AB-12"} <= {b.name for b in layout.bays}


def test_no_bay_lies_on_both_sides_of_a_joint(box_room, lay):
    joint = Joint(kind="movement", start=(0.0, 900.0), end=(4000.0, 1500.0), width=8.0)
    layout = lay(box_room(4000, 3000), joints=[joint])
    for b in layout.bays:
        x0, y0, x1, y1 = bounds(b.shape)
        sides = [y - (900 + x * 600 / 4000) for x, y in b.shape.shell]
        assert min(sides) > -1e-3 or max(sides) < 1e-3, b.name
        assert x1 > x0
        assert y1 > y0


def test_a_joint_that_ends_in_the_floor_parts_only_what_it_passes_through(box_room, lay):
    joint = Joint(kind="movement", start=(900.0, 0.0), end=(900.0, 1400.0), width=8.0)
    layout = lay(box_room(4000, 3000), joints=[joint])
    (line,) = [j.line for j in layout.joints]
    cut = [b.name for b in layout.bays if sum(s.length_mm for s in pieces_inside(b.shape, line)) > 1]
    through = [b for b in layout.bays if bounds(b.shape)[0] < 899 and bounds(b.shape)[2] > 901 and b.name in cut]
    assert len(through) == 1
    assert bounds(through[0].shape)[1] < 1400 < bounds(through[0].shape)[3]


def test_a_pier_parts_a_bay_into_a_and_b(outline, lay):
    pier = [(4000, 1500), (3600, 1500), (3600, 1620), (4000, 1620)]
    layout = lay(outline([(0, 0), (4000, 0), *pier, (4000, 3000), (0, 3000)]))
    assert bounds(bay(layout, "GH-34a").shape)[3] == 1490
    assert bounds(bay(layout, "GH-34b").shape)[1] == 1630


LEVEL = -20.0


@pytest.mark.parametrize(
    ("zones", "ends"),
    [
        ([zone("a", (0, 0, 1500, 3000), LEVEL), zone("b", (1500, 0, 4000, 3000), LEVEL - 6)], True),
        ([zone("a", (0, 0, 1500, 3000), LEVEL), zone("b", (1500, 0, 4000, 3000), LEVEL, 12.0)], True),
        ([zone("a", (0, 0, 1500, 3000), LEVEL), zone("b", (1500, 0, 4000, 3000), LEVEL - 8, 12.0)], False),
        ([zone("a", (0, 0, 1500, 3000), None), zone("b", (1500, 0, 4000, 3000), None)], False),
        ([zone("a", "whole room", LEVEL)], False),
        (
            [
                zone("a", (0, 0, 1500, 3000), LEVEL),
                zone("b", (1500, 0, 4000, 3000), LEVEL, fall=Fall(per_metre=10.0, from_wall=1, to_wall=3)),
            ],
            True,
        ),
    ],
    ids=["two levels", "two layers", "one rail top", "left open", "one zone", "a fall"],
)
def test_rails_end_at_a_border_where_rail_tops_differ(box_room, lay, zones, ends):
    layout = lay(box_room(4000, 3000), finishes=zones)
    over = [r for r in layout.rails if r.start[0] < 1499 and r.end[0] > 1501]
    split = [b for b in layout.bays if bounds(b.shape)[0] < 1499 and bounds(b.shape)[2] > 1501]
    assert (over == []) == ends
    assert (split == []) == ends


def test_a_box_of_its_own_level_inside_a_room_is_a_floor_of_its_own(box_room, lay):
    layout = lay(
        box_room(4000, 3000), finishes=[zone("room", "whole room", -20.0), zone("tray", (900, 900, 2100, 2300), -60.0)]
    )
    inside = [
        b for b in layout.bays if b.shape.shell and all(900 <= x <= 2100 and 900 <= y <= 2300 for x, y in b.shape.shell)
    ]
    assert sum(b.area_m2 for b in inside) == pytest.approx(1.2 * 1.4)
    for rail in layout.rails:
        ends = [900 < x < 2100 and 900 < y < 2300 for x, y in (rail.start, rail.end)]
        assert ends[0] == ends[1]
