"""The level book on paper: the book that the file asks for, no minus sign, every check in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from packgen.booklet.book_tables import book_pages
from packgen.booklet.rows import Table
from packgen.plan import make_plan
from packgen.project.read import read_project

TEXT = (Path(__file__).parents[2] / "projects" / "02-extension-heated.yaml").read_text(encoding="utf-8")
LEAVE = "      leave on: {point: CP1, reading: 1490}\n"


def tables(booked_by: str) -> dict[str, Table]:
    text = TEXT.replace("  largest misclosure: 3\n", f"  largest misclosure: 3\n  booked by: {booked_by}\n", 1)
    extra = "      upside down: [{point: lintel, reading: 722}]\n      read again: {point: TBM, reading: 1406}\n"
    read = read_project(text.replace(LEAVE, extra + LEAVE, 1).encode(), "room.yaml")
    assert read.project is not None, read.faults
    found: dict[str, Table] = {}
    for page in book_pages(make_plan(read.project)):
        for table in page["tables"]:
            assert isinstance(table, Table)
            same = found.get(table.caption)
            found[table.caption] = (
                table if same is None else Table(table.columns, same.rows + table.rows, table.caption)
            )
    return found


def test_rises_and_falls_are_printed_where_the_file_asks_for_them() -> None:
    rows = {row.cells[0]: row.cells[1:6] for row in tables("rise and fall")["Level book by rise and fall"].rows}
    assert rows["A1"] == ("", "1489", "", "", "84")
    assert rows["lintel"] == ("", "*722", "", "2213", "")


@pytest.mark.parametrize("booked_by", ["height of collimation", "rise and fall"])
def test_no_figure_has_a_minus_sign_and_undersides_a_star(booked_by) -> None:
    cells = [cell for table in tables(booked_by).values() for row in table.rows for cell in row.cells]
    assert not any(cell.startswith(("-", "−")) for cell in cells)
    assert any("*722" in cell for cell in cells)


def test_all_checks_stand_below_it() -> None:
    found = tables("rise and fall")
    checks = {row.cells[0]: row.cells[1] for row in found["Arithmetic checks and misclosure"].rows}
    ends = [
        checks[k].rpartition("= ")[2] for k in checks if k.startswith(("arithmetic check", "which is: last", "and is"))
    ]
    assert ends == ["1 mm"] * 3  # 1405 + 1474 - 1490 - 1388
    assert (
        checks["check with all sights"].rpartition("= ")[2]
        == checks["which is: heights of collimation x sights"].rpartition("= ")[2]
    )
    assert [row.cells[1:] for row in found["Did the laser stand still?"].rows] == [("1405", "1406", "1", "yes")]
    assert [row.cells[3] for row in found["Undersides, read with the staff upside down"].rows] == ["2126 above TBM"]
