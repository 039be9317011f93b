"""The plan's sign changes with every set-out number and with nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from packgen.booklet.sign import ALPHABET, sign_of
from packgen.plan import make_plan
from packgen.project.read import read_project

FILE = Path(__file__).parent.parent.parent / "projects" / "02-extension-heated.yaml"
TEXT = FILE.read_text(encoding="utf-8")


def signed(old: str = "", new: str = "") -> str:
    assert old in TEXT
    read = read_project(TEXT.replace(old, new, 1).encode() if old else TEXT.encode(), FILE.name)
    assert read.project is not None, read.faults
    return sign_of(make_plan(read.project))


def test_six_letters_nobody_mixes_up() -> None:
    sign = signed()
    assert len(sign) == 7
    assert sign[3] == "-"
    assert set(sign[:3] + sign[4:]) <= set(ALPHABET)
    assert not set("01OIL") & set(ALPHABET)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("wall 1: 6200", "wall 1: 6190"),
        ("3        1489   1492   1495", "3        1489   1492   1494"),
        ("porcelain tile: 10", "porcelain tile: 11"),
        ("finished level: same as TBM", "finished level: 1 above TBM"),
        ("shortest: 46", "shortest: 47"),
        ("first line from wall: 50", "first line from wall: 60"),
        ("from: 2100, width: 2400", "from: 2200, width: 2400"),
        ("module: 600", "module: 550"),
    ],
)
def test_what_is_set_out_changes_it(old: str, new: str) -> None:
    assert signed(old, new) != signed()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("name: Garden extension", "name: Another name"),
        ("prepared by: flooring contractor", "prepared by: somebody else"),
        ("price: 4.20", "price: 9.90"),
        ("date: 2027-04-05\n", "date: 2027-04-06\n"),
        ("pressure test: not done", "pressure test: unknown"),
        ("wheelbarrow, number: 2", "wheelbarrow, number: 3"),
    ],
)
def test_what_is_not_set_out_leaves_it(old: str, new: str) -> None:
    assert signed(old, new) == signed()
