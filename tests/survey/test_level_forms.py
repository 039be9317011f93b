"""Marks, undersides, repeat sights, a laser line that is not level, rules for the misclosure: from file to level."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packgen.project.model import Project
from packgen.project.read import read_project
from packgen.survey.model import Survey
from packgen.survey.reduce import survey_project

FILE = Path(__file__).parents[2] / "projects" / "02-extension-heated.yaml"
TEXT = FILE.read_text(encoding="utf-8")


def project_with(*changes: tuple[str, str]) -> Project:
    text = TEXT
    for was, typed in changes:
        assert was in text
        text = text.replace(was, typed, 1)
    read = read_project(text.encode(), FILE.name)
    assert read.project is not None, read.faults
    return read.project


def surveyed(*changes: tuple[str, str]) -> Survey:
    return survey_project(project_with(*changes))


LEAVE = "      leave on: {point: CP1, reading: 1490}\n"
CLOSE = "close on: {point: TBM, reading: 1388}"
MEANS = "  means: finished floor of the kitchen\n"


def test_closing_on_a_second_mark() -> None:
    """The second line stands at 1405 - 1490 + 1474 = 1389; a mark 20 above reads 1370 where it closes 1 too low."""
    mark = (MEANS, f"{MEANS}  other marks: {{TBM2: 20 above TBM}}\n")
    book = surveyed(mark, (CLOSE, "close on: {point: TBM2, reading: 1370}"))
    assert book.levels.misclosure_mm == -1
    assert [s.correction_mm for s in book.levels.setups] == [1, 1]
    assert book.levels.lines[-1].level_mm == 20


def test_starting_on_a_second_mark() -> None:
    book = surveyed(
        (MEANS, f"{MEANS}  other marks: {{TBM2: 100 below TBM}}\n"),
        ("start on: {point: TBM, reading: 1405}", "start on: {point: TBM2, reading: 1505}"),
    )
    assert book.levels.setups[0].collimation_mm == 1405
    assert "closing" not in [w.key for w in book.levels.worked]


def test_an_underside_lies_above_the_line_by_its_reading() -> None:
    with_lintel = f"      upside down: [{{point: lintel, reading: 722}}]\n{LEAVE}"
    book = surveyed((LEAVE, with_lintel)).levels
    (lintel,) = book.undersides
    assert lintel.level_mm == 1405 + 722 - 1  # the line of S1 is lowered by 1, its part of the misclosure
    assert [p.level_mm for p in book.points] == [p.level_mm for p in surveyed().levels.points]


def test_a_change_point_in_the_ceiling_carries_the_level_like_any_other() -> None:
    """Hook 700 above the line of S1; the line of S2 stands 16 lower, so it reads 716 there."""
    book = surveyed(
        (LEAVE, "      leave on: {point: hook, reading: 700, staff: upside down}\n"),
        ("start on: {point: CP1, reading: 1474}", "start on: {point: hook, reading: 716, staff: upside down}"),
    ).levels
    assert [s.collimation_mm for s in book.setups] == [1405, 1389]
    assert [p.level_mm for p in book.points] == [p.level_mm for p in surveyed().levels.points]


def test_a_point_read_again_tells_whether_the_laser_moved() -> None:
    book = surveyed((LEAVE, f"      read again: {{point: TBM, reading: 1408}}\n{LEAVE}")).levels
    (again,) = book.again
    assert (again.expected_mm, again.differs_mm) == (1405, 3)
    assert [p.level_mm for p in book.points] == [p.level_mm for p in surveyed().levels.points]


# a line that rises 1 mm in a metre: from the end B reads 40 too much, from the middle both alike
PEGS = (
    "\nlevels:\n",
    "\nlaser:\n  two-peg test: {A from middle: 1300, B from middle: 1350, A from end: 1301, B from end: 1391, "
    "end to A: 1 m, end to B: 41 m}\n\nlevels:\n",
)


def test_a_line_that_rises_is_taken_off_by_distance() -> None:
    stands = "stands at: [50, 50]\n      start on: {point: TBM, reading: 1405, distance: 5 m}"
    tilted = surveyed(
        PEGS,
        ("start on: {point: TBM, reading: 1405}", stands),
        (LEAVE, "      leave on: {point: CP1, reading: 1490, distance: 5 m}\n"),
    ).levels
    level = {p.id: p.level_mm for p in tilted.points}
    plain = {p.id: p.level_mm for p in surveyed().levels.points}
    assert tilted.line_error == 1
    assert tilted.setups[0].collimation_mm == 1400
    assert level["A1"] == plain["A1"] - 5  # at the laser itself nothing is wrong but the line, 5 too high on the TBM
    assert level["C5"] == plain["C5"] - 2  # 2.68 m away: 3 taken off the reading


def test_without_distances_nothing_is_corrected() -> None:
    book = surveyed(PEGS).levels
    assert book.line_error is None
    assert [p.level_mm for p in book.points] == [p.level_mm for p in surveyed().levels.points]


@pytest.mark.parametrize(
    ("rule", "allowed", "known"),
    [
        ("  misclosure rule: set-ups\n", 7.07, "read"),  # 5 x root of 2
        ("  misclosure rule: third order\n  levelled way: 250 m\n", 6.0, "memory"),  # 12 x root of 0.25
        ("  misclosure rule: set-ups\n  largest misclosure: 2\n", 2.0, "file"),  # the file is stricter
    ],
)
def test_rules_for_the_misclosure(rule, allowed, known) -> None:
    book = surveyed(("  largest misclosure: 3\n", rule)).levels
    assert (book.allowed_mm, book.allowed_by.known) == (allowed, known)


@settings(max_examples=15)
@given(st.permutations(range(1, 6)), st.integers(-700, 700))
def test_neither_the_order_of_rows_nor_the_height_of_the_laser_changes_a_level(order, higher) -> None:
    rows = ["1        1489   1490   1490", "3        1489   1492   1495", "5        1489   1493   1496"]
    rows += ["7        1489   1489   1493", "8        1489   1489   1491"]
    table = "".join(f"        {row}\n" for row in rows)

    def raised(row: str) -> str:
        name, *cells = row.split()
        return " ".join([name, *(str(int(c) + higher) for c in cells)])

    moved = "".join(f"        {raised(rows[i - 1])}\n" for i in order)
    book = surveyed(
        (table, moved),
        ("start on: {point: TBM, reading: 1405}", f"start on: {{point: TBM, reading: {1405 + higher}}}"),
        (LEAVE, f"      leave on: {{point: CP1, reading: {1490 + higher}}}\n"),
    ).levels
    plain = surveyed().levels
    assert {p.id: p.level_mm for p in book.points} == {p.id: p.level_mm for p in plain.points}
    assert book.misclosure_mm == plain.misclosure_mm


def test_the_checks_come_in_pairs_that_agree() -> None:
    for change in ((), (LEAVE, f"      upside down: [{{point: lintel, reading: 722}}]\n{LEAVE}")):
        found = {w.key: w for w in surveyed(*([change] if change else [])).levels.worked}
        ends = {found[f"level-book/{k}"].value for k in ("check", "ends", "rises")}
        assert len(ends) == 1
        assert found["level-book/between"].value == found["level-book/lines"].value
