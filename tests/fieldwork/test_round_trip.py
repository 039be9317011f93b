"""What is printed can be typed: names and places go into the file, with readings, and the file is accepted."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest

from packgen.booklet.blank import example
from packgen.booklet.blank.file_lines import BLANK, levels_lines
from packgen.cli import BUILT, HELD, REFUSED, main
from packgen.project.read import read_begun, read_project
from packgen.project.starter import starter
from packgen.survey.fieldwork_model import Fieldwork
from packgen.survey.level_book import full_check, reduce_book, sums

Prepared = Callable[[str], tuple[Fieldwork, ...]]
GAUGE = 1400  # the backsight of the invented readings; points read a little more


def sections(text: str) -> dict[str, str]:
    """A file's sections by name, each with its own lines."""
    parts = re.split(r"^(?=[a-z])", text, flags=re.M)
    return {p.split(":")[0]: p for p in parts if re.match(r"[a-z ]+:", p)}


def whole_file(rooms: str, levels: str) -> str:
    """A starter file with other rooms and levels; what belonged to its own room goes."""
    own = sections(starter("round trip"))
    put = sections(rooms) | {"levels": f"{levels}\n"}
    own |= {"openings": "openings: []\n", "services": "services: []\n", "joints": "joints: []\n"} | put
    names = re.findall(r"^  - name: (.*)$", rooms, re.M)
    zones = ""
    for name in names:
        zones += f"""\
  - zone: {name}
    covers: whole room
    room: {name}
    finished level: 40 above TBM
    fall: level
    layers from the top:
      - ceramic tile: 9
    weight of layers: 27 kg/m2
    wet: no
"""
    own["finishes"] = f"finishes:\n{zones}"
    if "joints" in put:
        own["joints"] = put["joints"]
    return "".join(own.values())


def with_readings(lines: str) -> str:
    """Every blank filled in: datum sights with the gauge, points with a little more."""
    step = count()
    datum = re.sub(r"reading: \.\.\.\.", f"reading: {GAUGE}", lines)
    return re.sub(re.escape(BLANK), lambda _: str(GAUGE + 40 + next(step) % 5), datum)


def test_the_printed_points_are_accepted_by_check(
    any_room: str, prepared: Prepared, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tapes = "    check tapes:\n      - corner 1 to corner 3: 6742\n      - corner 2 to corner 4: 6839\n"
    rooms = any_room + tapes if "front room" in any_room else any_room
    work = prepared(rooms)
    lines = levels_lines(work, "TBM")
    file = tmp_path / "room.yaml"
    file.write_text(whole_file(rooms, with_readings(lines)), encoding="utf-8")
    code = main(["check", str(file)])
    said = capsys.readouterr().out
    assert code in (BUILT, HELD), said
    project = read_project(file.read_bytes(), file.name).project
    assert project is not None
    read = {r.spot for s in project.levels.setups for r in s.readings}
    assert read == {p.name for w in work for p in w.points}
    assert dict(project.levels.columns_at) == {name: mm for w in work for name, mm in w.columns}
    assert dict(project.levels.rows_at) == {name: mm for w in work for name, mm in w.rows}


def test_a_blank_that_is_left_is_a_fault_with_its_line(
    any_room: str, prepared: Prepared, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = with_readings(levels_lines(prepared(any_room), "TBM")).replace("1441", BLANK, 1)
    file = tmp_path / "room.yaml"
    file.write_text(whole_file(any_room, lines), encoding="utf-8")
    assert main(["check", str(file)]) == REFUSED
    assert BLANK in capsys.readouterr().out


def test_the_example_on_the_sheets_is_a_file_that_is_begun() -> None:
    read = read_begun(example.FILE_LINES.encode(), "den.yaml")
    assert read.faults == ()
    assert read.begun is not None
    assert [o.name for o in read.begun.openings] == ["hall door", "yard door"]
    assert read.begun.laser is not None
    walls = [(f"wall {w.number}", str(int(w.length)), w.turn) for w in read.begun.rooms[0].walls]
    assert walls == [w[:3] for w in example.WALLS]


def test_the_example_book_is_what_the_survey_makes_of_the_example_file() -> None:
    begun = read_begun(example.FILE_LINES.encode(), "den.yaml").begun
    assert begun is not None
    assert begun.levels is not None
    book = reduce_book(begun.levels.setups, {"TBM": 0.0})
    printed = example.BOOK
    assert [(b.point, str(int(b.reading_mm))) for b in book.lines] == [
        (row[0], next(cell for cell in row[1:4] if cell)) for row in printed
    ]
    for line, row in zip(book.lines, printed, strict=True):
        if row[4]:
            assert line.collimation_mm == float(row[4])
        if row[6] == "below":
            assert -line.raw_level_mm == float(row[5])
    assert sums(book.lines) == (example.BACKSIGHTS, example.FORESIGHTS)
    assert full_check(book.lines)[0] == full_check(book.lines)[1]
    assert book.runs[0].misclosure_mm == example.BACKSIGHTS - example.FORESIGHTS
