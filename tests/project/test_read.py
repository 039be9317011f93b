"""Reading a project file: what the shorthand means, and that nothing that is typed makes the reader fall over."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from packgen.core.place import Place
from packgen.project.amounts import PersonRate, Price
from packgen.project.model import Project
from packgen.project.read import read_project
from packgen.project.show import show_fault

PROJECTS = Path(__file__).parents[2] / "projects"
NAMES = sorted(p.stem for p in PROJECTS.glob("0*.yaml"))


def text_of(name: str) -> str:
    return (PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")


def project(text: str) -> Project:
    read = read_project(text.encode(), "case.yaml")
    assert read.project is not None, [show_fault(f, "case.yaml", read.lines) for f in read.faults]
    return read.project


@pytest.mark.parametrize("name", NAMES)
def test_demo_projects_are_read(name: str) -> None:
    assert project(text_of(name)).file_name == "case.yaml"


def test_shorthand_of_the_attic() -> None:
    p = project(text_of("01-attic-studio"))
    wall = p.rooms[0].walls[3]
    assert (wall.number, wall.length, wall.turn) == (4, 450.0, "left")
    assert (p.rooms[0].check_tapes[0].start, p.rooms[0].check_tapes[0].end) == (1, 3)
    assert p.base.joists is not None
    assert p.base.joists.run_along == 2
    assert p.base.damp_reading.state == "not needed"
    assert p.openings[0].floor_there == 0.0
    assert p.openings[0].sill is None
    assert [(x.name, x.thickness) for x in p.finishes[0].layers] == [
        ("oak board", 14),
        ("underlay", 3),
        ("OSB board", 22),
    ]
    assert p.fills.used.water is None
    assert p.fills.used.drying is None
    board = p.fills.used.board_on_top
    assert board is not None
    assert (board.thickness, board.material) == (22.0, "OSB")
    assert [name for name, _ in p.fills.described] == ["granulate", "bead screed", "sand cement"]
    assert p.rates.place_fill == PersonRate(1.8, "m2")
    assert p.rates.carry_bags == 12.0
    assert p.calendar.working_days == (5, 6)
    assert dict(p.prices.items)["grid"] == Price(24.0, "m2")
    assert dict(p.prices.items)["delivery"] == Price(65.0, "job")


def test_shorthand_of_the_extension() -> None:
    p = project(text_of("02-extension-heated"))
    assert (p.base.damp_reading.value, p.base.damp_reading.unit) == (71.0, "% RH")
    assert p.services[0].support == 5.0
    assert p.services[2].at == (0.0, 300.0)
    drying = p.fills.used.drying
    assert drying is not None
    assert (drying.first_mm, drying.first_rate, drying.rest_rate) == (40.0, 1.0, 0.5)
    assert p.fills.used.waste == 0.05
    assert p.heating is not None
    assert p.heating.first_stage is not None
    assert (p.heating.first_stage.flow, p.heating.first_stage.days) == (25.0, 3)
    assert p.prices.tax == pytest.approx(0.2)
    assert p.prices.labour == Price(42.0, "hour")


def test_shorthand_of_the_terrace() -> None:
    p = project(text_of("05-terrace-with-falls"))
    zone = p.finishes[0]
    assert (zone.finished_level.level, zone.finished_level.at_wall) == (-50.0, 1)
    assert (zone.fall.per_metre, zone.fall.from_wall, zone.fall.to_wall) == (15.0, 1, 3)
    assert p.rooms[0].free_edges == (2, 3)
    nights = p.calendar.lowest_night_temperature
    assert nights is not None
    assert dict(nights.by_night)[datetime.date(2027, 3, 25)] == 2.0


def test_cells_keep_their_own_place() -> None:
    text = text_of("02-extension-heated")
    cell = next(r for r in project(text).levels.setups[1].readings if r.spot == "G5")
    line = text.split("\n")[cell.marks.start.line - 1]
    assert line[cell.marks.start.column - 1 :].startswith(f"{cell.value:.0f}")
    assert line.split()[0] == "5"


def test_marks_say_where_keys_stand() -> None:
    text = text_of("02-extension-heated")
    kit = project(text).kit
    place = kit.marks.of("module")
    assert text.split("\n")[place.line - 1][place.column - 1 :].startswith("600")
    assert kit.marks.of("saw cut") == kit.marks.start


SAME = [
    ("wall 1: 6200, turn right", "wall 1: 6.2 m, turn right"),
    ("wall 1: 6200, turn right", "wall 1: 620 cm right"),
    ("wall 1: 6200, turn right", "wall 1: 6 200 mm, turn right"),
    ("porcelain tile: 10", "porcelain tile: 010"),
    ("porcelain tile: 10", "porcelain tile: 1 cm"),
    ("{role: labourer, hours a day: 8}", "{role: labourer, hours a day: 8:00}"),
    ("corner 1 to corner 3: 7603", "1 - 3: 7.603 m"),
    ("floor there: 40 below TBM", "floor there: 4 cm below TBM"),
    ("lies on: clip rail 5 high", "lies on: clip rail 5 high"),
    ("waste: 5 %", "waste: 5%"),
    ("compare: [sand cement]", "compare:\n    - sand cement"),
    ("rail: {width: 35, height: 20}", "rail:\n    width: 35\n    height: 20"),
    ("    walls:\n      - wall 1", "    walls:\n    - wall 1"),
    ("  membrane: yes  ", "  membrane: Yes  "),
    ("working days: [Mon, Tue, Wed, Thu, Fri]", "working days: [Monday, tue, WED, Thu, Fri]"),
    ("cool down: {days: 2}", "cool down: 2 days"),
]


@pytest.mark.parametrize(("was", "typed"), SAME)
def test_other_ways_to_write_the_same(was: str, typed: str) -> None:
    text = text_of("02-extension-heated")
    assert was in text
    if was.startswith("    walls"):
        head, rest = text.split(was, 1)
        block, tail = rest.split("    check tapes", 1)
        text_typed = head + typed + block.replace("\n      - wall", "\n    - wall") + "    check tapes" + tail
    else:
        text_typed = text.replace(was, typed, 1)
    assert project(text_typed) == project(text)


READINGS = {
    "by rows": "row A C\n1 1489 1490\n3 1489 -",
    "by columns": "column 1 3\nA 1489 1489\nC 1490 -",
    "in two blocks": "row A\n1 1489\n3 1489\nrow C\n1 1490\n3 -",
    "rows in two blocks": "row A C\n1 1489 1490\n\nrow A C\n3 1489 –",
    "with bars": "| row | A | C |\n| 1 | 1489 | 1490 |\n| 3 | 1489 | - |",
    "with commas": "row, A, C\n1, 1489, 1490\n3, 1489, -   # not reached",
}


@pytest.mark.parametrize("table", READINGS.values(), ids=READINGS.keys())
def test_tables_of_readings(table: str) -> None:
    text = text_of("02-extension-heated")
    start, end = text.index("      readings: |\n"), text.index("      leave on")
    rows = "".join(f"        {line}\n" for line in table.split("\n"))
    read = project(f"{text[:start]}      readings: |\n{rows}{text[end:]}")
    cells = {r.spot: r.value for r in read.levels.setups[0].readings}
    assert cells == {"A1": 1489.0, "C1": 1490.0, "A3": 1489.0}


@pytest.mark.parametrize(
    ("said", "cells", "wanted"),
    [
        ("levels below TBM", "84 0", [-84.0, 0.0]),
        ("levels above TBM", "84 12.5", [84.0, 12.5]),
        ("levels", "-84 +12", [-84.0, 12.0]),
        ("levels", "−84 0", [-84.0, 0.0]),
    ],
)
def test_levels_in_place_of_readings(said: str, cells: str, wanted: list[float]) -> None:
    text = text_of("02-extension-heated")
    start, end = text.index("  setups:\n"), text.index("\ncrew:")
    setups = f"  setups:\n    - name: L1\n      readings: |\n        row A C\n        1 {cells}\n"
    changed = (text[:start] + setups + text[end:]).replace("read as: staff readings", f"read as: {said}")
    read = project(changed)
    assert read.levels.read_as == "levels"
    assert [r.value for r in read.levels.setups[0].readings] == wanted


def test_values_that_another_reader_turns_round_stay_what_was_typed() -> None:
    """no, dates, times and noughts are texts until the record says what they mean."""
    text = text_of("02-extension-heated")
    for typed, wanted in (
        ("no", "no"),
        ("0o17", "0o17"),
        ("1:40", "1:40"),
        ("=", "="),
        ("~", "~"),
        ("2027-04-05", "2027-04-05"),
    ):
        changed = text.replace("note: column E read from both set-ups", f"note: {typed}")
        assert project(changed).levels.note == wanted


def test_all_faults_in_one_run_in_the_order_of_the_file() -> None:
    text = text_of("02-extension-heated")
    for was, typed in (
        ("date: 2027-04-05", "date: 2027-02-30"),
        ("membrane: yes", " membrane: yes"),
        ("note: column E", "note: windy: column E"),
        ("module: 600", "moduel: 600"),
        ("width: 2400", "width: 9000"),
        ("point: CP1, reading: 1474", "point: CPI, reading: 1474"),
        ("use: sand cement", "use: sandcement"),
    ):
        text = text.replace(was, typed, 1)
    faults = read_project(text.encode(), "case.yaml").faults
    assert [f.code for f in faults] == [
        "no-such-day",
        "indent",
        "door-outside-wall",
        "unknown-key",
        "fill-unknown",
        "colon-in-text",
    ]
    assert [f.place for f in faults] == sorted(f.place for f in faults)


EDITS = st.tuples(
    st.sampled_from(NAMES),
    st.lists(
        st.tuples(
            st.integers(0, 10_000),
            st.integers(0, 5),
            st.text(alphabet=" :-,{}[]\"'#|>&*!?%@`\t\nab01.=;–é", max_size=4),
        ),
        min_size=1,
        max_size=4,
    ),
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(EDITS)
def test_no_edit_makes_the_reader_fall_over(edits: tuple[str, list[tuple[int, int, str]]]) -> None:
    name, changes = edits
    text = text_of(name)
    for at, cut, put in changes:
        place = at % len(text)
        text = text[:place] + put + text[place + cut :]
    read = read_project(text.encode(), "case.yaml")
    assert (read.project is None) == bool(read.faults)
    for fault in read.faults:
        assert Place(1, 1) <= fault.place <= Place(len(read.lines) + 1, 1)
        assert fault.says.strip()
        assert "\n" not in fault.says
        assert "Input should" not in fault.says
        assert show_fault(fault, "case.yaml", read.lines)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300))
def test_no_bytes_make_the_reader_fall_over(data: bytes) -> None:
    read = read_project(data, "case.yaml")
    assert read.project is None
    assert read.faults


SIGNS = [*"[]{}:,-#|>&*!?%@`\"' \n\tab0=~.", "- ", ": ", "kit:\n", "\n  ", "---\n", "project:\n  name: x\n"]


@settings(max_examples=300)
@given(st.lists(st.sampled_from(SIGNS), max_size=30).map("".join))
def test_no_soup_of_signs_makes_the_reader_fall_over(text: str) -> None:
    read = read_project(text.encode(), "case.yaml")
    assert read.project is None
    assert all(show_fault(f, "case.yaml", read.lines) for f in read.faults)
    assert read.faults


def test_records_are_compared_without_their_places() -> None:
    text = text_of("07-school-exercise-bay")
    moved: Any = project("# one line more\n" + text)
    assert moved == project(text)
    assert moved.kit.marks != project(text).kit.marks
