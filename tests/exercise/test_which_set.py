"""Answers are marked against the set they stand in, or the only one there is; where several could be meant one is
asked for."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from packgen.exercise.key import KeyFault, key_as_data, key_of
from packgen.school import mark_file

ANSWERS = "pupil;question;answer\n1;12;20 below TBM\n"


@pytest.fixture
def build(class_of: Any, tmp_path: Path) -> Path:
    """A folder `build` with one set in it: its key is all that marking needs."""
    folder = tmp_path / "build" / "bay-class" / "teacher"
    folder.mkdir(parents=True)
    key = key_as_data(key_of(class_of("07-school-exercise-bay", 6, 2)))
    (folder / "key.json").write_text(json.dumps(key), encoding="utf-8")
    return tmp_path / "build"


def handed_in(folder: Path) -> Path:
    file = folder / "answers.csv"
    file.write_bytes(ANSWERS.encode("utf-16"))
    return file


@pytest.mark.parametrize("where", ["bay-class", "bay-class/teacher", ".."])
def test_the_set_that_is_meant(build: Path, where: str) -> None:
    written = mark_file(handed_in(build / where), None, build)
    assert (build / "bay-class" / "marked" / "marks.csv") in written.paths
    found = next(a for a in written.marking.pupils[0].answers if a.number == 12)
    assert (found.status, found.code) == ("mistake", "W5")


def test_two_sets_and_none(build: Path, tmp_path: Path) -> None:
    with pytest.raises(KeyFault, match="there is none"):
        mark_file(handed_in(tmp_path), None, tmp_path / "elsewhere")
    other = build / "other-class" / "teacher"
    other.mkdir(parents=True)
    (other / "key.json").write_text("{}", encoding="utf-8")
    with pytest.raises(KeyFault, match="there are 2"):
        mark_file(handed_in(tmp_path), None, build)
