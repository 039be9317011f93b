"""A file that is begun: what is missing is no fault, what is there is checked like any other file."""

from __future__ import annotations

from pathlib import Path

import pytest

from packgen.cli import REFUSED, USAGE, main
from packgen.project.read import read_begun, read_project

PROJECTS = Path(__file__).parent.parent.parent / "projects"


def test_walls_are_enough_for_a_survey_and_not_for_a_plan(any_room: str) -> None:
    assert read_begun(any_room.encode(), "room.yaml").faults == ()
    whole = read_project(any_room.encode(), "room.yaml")
    assert whole.project is None
    assert any(f.code == "missing-key" for f in whole.faults)


@pytest.mark.parametrize("file", sorted(PROJECTS.glob("0*.yaml")), ids=lambda f: f.stem)
def test_a_whole_file_is_read_as_well(file: Path) -> None:
    begun = read_begun(file.read_bytes(), file.name).begun
    project = read_project(file.read_bytes(), file.name).project
    assert begun is not None
    assert project is not None
    assert (begun.rooms, begun.openings, begun.levels) == (project.rooms, project.openings, project.levels)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("wall 2: 2400, turn right", "wall 2: 2.4, turn right", "did you mean 2.4 m (2400)"),
        ("wall 3: 2600, turn left", "wall 3: 2600, turn lefft", "turn left"),
        ("wall 3: 2600, turn left", "wall 3: 2600, turn right", "wall 3: 2600, turn left"),
        ("wall 6: 4700, turn right", "wall 6: 4400, turn right", "do not close"),
        ("in: wall 5", "in: wall 7", "walls 1 to 6"),
        ("from: 1500, width: 860", "from: 5900, width: 860", "hall door"),
        ("openings:", "opennings:", "'openings'"),
        ("rooms:", "roms:", "'rooms'"),
        ("    walls:", "\twalls:", "tab"),
    ],
)
def test_what_is_there_is_checked(
    old: str, new: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (Path(__file__).parent / "l-room.yaml").read_text(encoding="utf-8")
    assert old in text
    file = tmp_path / "room.yaml"
    file.write_text(text.replace(old, new), encoding="utf-8")
    assert main(["survey-sheet", str(file), "--out", str(tmp_path / "out")]) == REFUSED
    said = capsys.readouterr().out
    assert says in said
    assert "room.yaml:" in said
    assert "nothing was written" in said
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "the file is empty"), ("a letter\n", "'rooms:'"), ("datum: {name: TBM, where: sill}\n", "lacks 'rooms'")],
)
def test_a_file_without_rooms_is_refused(
    text: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "room.yaml"
    file.write_text(text, encoding="utf-8")
    assert main(["survey-sheet", str(file), "--out", str(tmp_path / "out")]) == REFUSED
    assert says in capsys.readouterr().out


def test_a_file_that_is_not_there_and_a_paper_nobody_has(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey-sheet", str(tmp_path / "none.yaml")]) == USAGE
    assert "none.yaml" in capsys.readouterr().err
    with pytest.raises(SystemExit) as ended:
        main(["survey-sheet", "--paper", "a5"])
    assert ended.value.code == USAGE


def test_skew_corners_without_tapes_are_still_to_be_measured_and_a_wrong_tape_is_wrong() -> None:
    walls = "".join(f"      - wall {n}: {mm}, skew\n" for n, mm in enumerate((5420, 4215, 5730, 3960), 1))
    text = f"rooms:\n  - name: front room\n    walls:\n{walls}"
    assert read_begun(text.encode(), "r.yaml").begun is not None
    wrong = f"{text}    check tapes:\n      - corner 1 to corner 3: 16742\n"
    assert [f.code for f in read_begun(wrong.encode(), "r.yaml").faults] == ["tape-disagrees"]
