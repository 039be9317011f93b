"""Outlines by offsets, angles, coordinates, bearings and with curved walls; rooms joined through doorways."""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import pytest

from packgen.core.plane import Polygon, arc, area, common
from packgen.project.model import Project
from packgen.project.read import ReadResult, read_project
from packgen.survey.model import RoomOutline
from packgen.survey.reduce import survey_project

PROJECTS = Path(__file__).parents[2] / "projects"
BAY = PROJECTS / "07-school-exercise-bay.yaml"
HOUSE = PROJECTS / "08-skew-old-house-room.yaml"
WALLS = "".join(f"      - wall {n}: {d}, skew\n" for n, d in ((1, 5420), (2, 4182), (3, 5455), (4, 3953)))
TAPES = "      - corner 1 to corner 3: 6742\n      - corner 2 to corner 4: 6839\n"
RING = [(0.0, 0.0), (4000.0, 0.0), (4100.0, 3000.0), (-50.0, 2900.0)]


def read(path: Path, *changes: tuple[str, str]) -> ReadResult:
    text = path.read_text(encoding="utf-8")
    for was, typed in changes:
        assert text.count(was) == 1, was
        text = text.replace(was, typed)
    return read_project(text.encode(), path.name)


def planned(path: Path, *changes: tuple[str, str]) -> Project:
    found = read(path, *changes)
    assert found.project is not None, [f"{f.place}: {f.says}" for f in found.faults]
    return found.project


def room(path: Path, *changes: tuple[str, str]) -> RoomOutline:
    return survey_project(planned(path, *changes)).rooms[0]


SQUARE_WALLS = "".join(f"      - wall {n}: {d}, turn right\n" for n, d in ((1, 4000), (2, 3000), (3, 4000), (4, 3000)))


def bay_with(outline: str) -> RoomOutline:
    text = BAY.read_text(encoding="utf-8")
    start, end = text.index("    walls:\n"), text.index("\nopenings:")
    made = read_project((text[:start] + outline + text[end:]).encode(), "bay.yaml")
    assert made.project is not None, [f"{f.place}: {f.says}" for f in made.faults]
    return survey_project(made.project).rooms[0]


def sides(ring: list[tuple[float, float]]) -> list[float]:
    return [math.dist(ring[i], ring[(i + 1) % len(ring)]) for i in range(len(ring))]


def skew_walls() -> str:
    rows = "".join(f"      - wall {n}: {d:.1f} mm, skew\n" for n, d in enumerate(sides(RING), 1))
    return f"    walls:\n{rows}"


def close(found: RoomOutline, within: float = 0.2) -> None:
    assert [round(c, 1) for p in found.corners for c in p] == pytest.approx([c for p in RING for c in p], abs=within)


def test_offsets_from_a_base_line_fix_a_skew_room() -> None:
    """Chain and offset: the base line runs along the diagonal; the others' places on it by the scalar products."""
    (ax, ay), (cx, cy) = RING[0], RING[2]
    d = math.hypot(cx - ax, cy - ay)
    ux, uy = (cx - ax) / d, (cy - ay) / d
    rows = ""
    for n in (2, 4):
        x, y = RING[n - 1]
        along, right = x * ux + y * uy, -x * uy + y * ux
        rows += f"      - corner {n}: {along:.1f} mm along, {abs(right):.1f} mm {'right' if right > 0 else 'left'}\n"
    found = bay_with(f"{skew_walls()}    base line: corner 1 to corner 3\n    offsets:\n{rows}")
    close(found)
    assert found.spare_tapes == 3  # four figures, and one of them was needed
    assert {w.key for w in found.worked} >= {"offset/2-along", "offset/4-beside"}


def test_coordinates_give_the_room_wherever_they_are_measured_from() -> None:
    turn, moved = math.radians(31), []
    for x, y in RING:
        moved.append((x * math.cos(turn) - y * math.sin(turn) + 900, x * math.sin(turn) + y * math.cos(turn) - 40))
    rows = "".join(f"      - corner {n}: [{x:.1f} mm, {y:.1f} mm]\n" for n, (x, y) in enumerate(moved, 1))
    found = bay_with(f"    corners:\n{rows}")
    close(found)
    assert found.by == "corners by coordinates"


def test_bearings_are_balanced_by_the_compass_rule() -> None:
    rows = ""
    for n, (a, b) in enumerate(zip(RING, [*RING[1:], RING[0]], strict=True), 1):
        bearing = (74 + math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) % 360
        rows += f"      - wall {n}: {math.dist(a, b):.1f} mm, bearing {bearing:.4f}\n"
    found = bay_with(f"    walls:\n{rows}")
    close(found)
    assert found.by == "compass rule"
    assert found.closing_error_mm == pytest.approx(0, abs=0.3)
    assert {"closing/n", "closing/e"} <= {w.key for w in found.worked}


def test_an_inside_angle_stands_for_a_diagonal() -> None:
    at_2 = 180 - math.degrees(math.atan2(3000, 100))
    found = bay_with(skew_walls().replace("skew\n", f"skew, {at_2:.2f} degrees\n", 1))
    close(found, 2.0)
    assert any(w.key == "angle/2" for w in found.worked)


@pytest.mark.parametrize(("curve", "sign"), [("bows out 500", 1), ("bows in 500", -1)])
def test_a_curved_wall_has_the_length_and_the_area_of_its_arc(curve: str, sign: int) -> None:
    """Chord 4000, rise 500: radius 4250; the angle at the middle from its half chord, length and segment by it."""
    flat = bay_with(f"    walls:\n{SQUARE_WALLS}")
    found = bay_with(f"    walls:\n{SQUARE_WALLS}".replace("4000, turn right", f"4000, turn right, {curve}", 1))
    half = math.asin(2000 / 4250)
    assert found.walls[0].length_mm == pytest.approx(2 * half * 4250, abs=1e-6)
    segment = (4250**2 / 2 * (2 * half - math.sin(2 * half))) / 1e6
    assert found.area_m2 - flat.area_m2 == pytest.approx(sign * segment, abs=0.002)
    middle = min(abs(y + sign * 500) for x, y in found.ring if 1800 < x < 2200)
    assert middle < 5


def test_a_radius_says_the_same_as_its_rise() -> None:
    by_rise = bay_with(f"    walls:\n{SQUARE_WALLS}".replace("4000, turn right", "4000, turn right, bows out 500", 1))
    text = f"    walls:\n{SQUARE_WALLS}".replace("4000, turn right", "4000, curves out, radius 4250, turn right", 1)
    by_radius = bay_with(text)
    assert len(by_radius.ring) == len(by_rise.ring)
    assert all(math.dist(p, q) < 1e-6 for p, q in zip(by_radius.ring, by_rise.ring, strict=True))


def test_chords_of_an_arc_stay_within_what_is_asked() -> None:
    """The middle of each chord is off the circle by its own sagitta."""
    points = [*arc((0, 0), (3000, 0), 700, 0.5), (3000.0, 0.0)]
    radius = (1500**2 + 700**2) / 1400
    for (ax, ay), (bx, by) in itertools.pairwise(points):
        off = radius - math.dist(((ax + bx) / 2, (ay + by) / 2), (1500, -700 + radius))
        assert -1e-9 < off <= 0.5


JOINED = (
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
  - {name: store door, room: bay, in: wall 2, from: 1200, width: 800, leads to: store, floor there: same as TBM}
  - {name: door to bay, room: store, in: wall 4, from: 700, width: 800, leads to: bay, floor there: same as TBM,
     same doorway as: store door, wall thickness: 120}
""",
    ),
    ("{name: way in, in: wall 4,", "{name: way in, room: bay, in: wall 4,"),
    ("covers: whole room", "covers: bay"),
    ("services: []", "  - {zone: store floor, covers: store, finished level: 20 below TBM}\nservices: []"),
)


def test_rooms_joined_through_a_doorway_lie_where_they_lie() -> None:
    """Wall 2 of the bay is at 4000, the wall 120 thick; the doorway's middle lies 1600 in, and 900 in the store."""
    bay, store = survey_project(planned(BAY, *JOINED)).rooms
    assert store.origin == pytest.approx((4120, 700))
    assert common(Polygon(bay.ring), Polygon(store.ring)) == ()
    door = next(d for d in store.doors if d.name == "door to bay")
    other = next(d for d in bay.doors if d.name == "store door")
    assert (door.wall_mm, other.wall_mm) == (120, 120)
    for p, q in ((door.line.a, other.line.b), (door.line.b, other.line.a)):
        assert math.dist(p, q) == pytest.approx(120, abs=1)


def test_one_book_of_readings_serves_joined_rooms() -> None:
    """A spot measured from the first room's corner 1 may lie in the second room."""
    job = planned(BAY, *JOINED, ("H: 3950}", "H: 4600}"))
    survey = survey_project(job)
    spot = next(p for p in survey.levels.points if p.id == "H3")
    assert area(Polygon(survey.rooms[1].ring)) == pytest.approx(6e6)
    assert survey.rooms[1].origin[0] < spot.x_mm < survey.rooms[1].origin[0] + 3000


@pytest.mark.parametrize(
    ("was", "typed", "code"),
    [
        ("same doorway as: store door", "same doorway as: store dor", "doorway"),
        (", wall thickness: 120", "", "doorway"),
        ("in: wall 4, from: 700", "in: wall 1, from: 700", "doorway"),
        ("from: 700, width: 800", "from: 700, width: 950", "doorway"),
    ],
)
def test_a_doorway_that_fits_no_other_is_a_fault(was: str, typed: str, code: str) -> None:
    changes = [(JOINED[0][0], JOINED[0][1].replace(was, typed)), *JOINED[1:]]
    assert code in {f.code for f in read(BAY, *changes).faults}


# ------------------------------------------------------------------------------------ the old house room


def test_the_old_house_room_closes_with_residuals() -> None:
    found = room(HOUSE)
    keys = {w.key for w in found.worked}
    assert {"wall/1", "wall/2", "wall/3", "wall/4", "tape/1-3", "tape/2-4"} <= keys
    assert found.blamed == ()
    assert max(abs(r) for r in (*found.wall_residuals_mm, *(t.residual_mm for t in found.tapes))) < 2


def test_a_tape_100_off_leaves_an_honest_set() -> None:
    """With one tape to spare nobody can tell which of the six is wrong."""
    found = room(HOUSE, ("corner 1 to corner 3: 6742", "corner 1 to corner 3: 6842"))
    assert "corner 1 to corner 3" in found.blamed
    assert len(found.blamed) > 1


@pytest.mark.parametrize(
    ("gone", "asked"), [("1 to corner 3: 6742", "1 to corner 3"), ("2 to corner 4: 6839", "2 to corner 4")]
)
def test_without_a_diagonal_it_says_which_one_is_missing(gone: str, asked: str) -> None:
    found = room(HOUSE, (f"      - corner {gone}\n", ""))
    assert found.spare_tapes == 0
    assert found.measure == (f"corner {asked}",)


def test_without_both_the_file_is_refused_and_a_diagonal_named() -> None:
    (fault,) = read(
        HOUSE,
        ("    check tapes:                        # both diagonals are needed for a skew room\n", ""),
        (TAPES, ""),
    ).faults
    assert fault.code == "shape-not-fixed"
    assert fault.guess in ("- corner 1 to corner 3: ...", "- corner 2 to corner 4: ...")
