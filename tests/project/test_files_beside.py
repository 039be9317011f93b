"""A table of readings is read from the project's own folder and from nowhere else."""

from __future__ import annotations

from pathlib import Path

from packgen.project.beside import files_in
from packgen.project.text import MOST_BYTES


def test_a_file_in_the_folder_is_read(tmp_path: Path) -> None:
    (tmp_path / "levels.csv").write_bytes(b"point\n")
    assert files_in(tmp_path)("levels.csv") == b"point\n"


def test_a_way_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    inside = tmp_path / "job"
    inside.mkdir()
    (tmp_path / "levels.csv").write_bytes(b"point\n")
    (inside / "link.csv").symlink_to(tmp_path / "levels.csv")
    read = files_in(inside)
    for name in ("../levels.csv", str(tmp_path / "levels.csv"), "link.csv"):
        assert read(name) == "lies outside the folder of the project file"


def test_what_is_missing_or_too_large_is_said(tmp_path: Path) -> None:
    (tmp_path / "large.csv").write_bytes(b"x" * (MOST_BYTES + 1))
    (tmp_path / "folder.csv").mkdir()
    read = files_in(tmp_path)
    assert read("none.csv") == read("folder.csv") == "is not there"
    assert read("large.csv") == "is larger than 1 MB"
    assert isinstance(read("a\0b"), str)
