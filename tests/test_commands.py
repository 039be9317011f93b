"""The commands as a user meets them: exit codes, what is printed, what is written and what is not."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from packgen.cli import BUILT, HELD, MISSING, REFUSED, USAGE, main

PROJECTS = Path(__file__).parent.parent / "projects"
EXTENSION = PROJECTS / "02-extension-heated.yaml"


def test_check_prints_findings_and_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["check", str(EXTENSION)]) == HELD
    said = capsys.readouterr().out
    assert "circuit 1" in said
    assert "Gates held:" in said.splitlines()[-1]
    assert list(tmp_path.iterdir()) == []


def test_plan_prints_data_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(EXTENSION)]) == HELD
    data = json.loads(capsys.readouterr().out)
    assert data["rooms"][0]["name"] == "extension"
    assert data["sign"]


def test_a_refused_file_leaves_an_older_pack_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "room.yaml"
    file.write_text(EXTENSION.read_text().replace("module: 600", "moduel: 600"))
    old = tmp_path / "out" / "room" / "index.html"
    old.parent.mkdir(parents=True)
    old.write_text("an older pack")
    assert main(["build", str(file), "--out", str(tmp_path / "out")]) == REFUSED
    assert old.read_text() == "an older pack"
    said = capsys.readouterr().out
    assert "did you mean 'module'" in said
    assert "nothing was written" in said


def test_starter_is_new_and_builds_as_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "our-kitchen"]) == BUILT
    assert main(["new", "our-kitchen"]) == USAGE
    assert main(["check", "our-kitchen.yaml"]) in (BUILT, HELD)
    assert "our-kitchen" in capsys.readouterr().out


def test_schema_is_a_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == BUILT
    jsonschema.Draft202012Validator.check_schema(json.loads(capsys.readouterr().out))


@pytest.mark.parametrize("wrong", [["build"], ["frobnicate"], ["check", "a", "b"], []])
def test_wrong_usage(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(wrong)
    assert end.value.code == USAGE
    assert "usage:" in capsys.readouterr().err


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "nowhere.yaml"]) == USAGE
    assert "nowhere.yaml: no such file" in capsys.readouterr().err


def test_check_wakes_no_renderer_and_no_other_command() -> None:
    """`check` needs neither Pango nor matplotlib nor WeasyPrint, and no sheet, class set or export either."""
    code = (
        "import sys\nfrom packgen.cli import main\nmain(['check', sys.argv[1]])\n"
        "unwanted = ('weasyprint', 'matplotlib', 'jinja2', 'scipy', 'packgen.booklet.make', 'packgen.exercise')\n"
        "print([m for m in unwanted if m in sys.modules], file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", code, str(EXTENSION)], capture_output=True, text=True, check=True)
    assert ran.stderr.strip() == "[]"


def test_without_pango_the_rest_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A machine without Pango: importing WeasyPrint raises OSError, as measured on a bare Debian."""
    fake = tmp_path / "fake" / "weasyprint"
    fake.mkdir(parents=True)
    (fake / "__init__.py").write_text("raise OSError(\"cannot load library 'libgobject-2.0-0': no such file\")\n")
    for name in [m for m in sys.modules if m.split(".")[0] == "weasyprint"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.syspath_prepend(str(fake.parent))
    assert main(["build", str(EXTENSION), "--out", str(tmp_path / "out")]) == MISSING
    said = capsys.readouterr().err.strip()
    assert "apt-get install" in said
    assert len(said.splitlines()) == 1
    written = {p.name for p in (tmp_path / "out" / "02-extension-heated").iterdir()}
    assert {"index.html", "pack.html", "plan.json"} <= written
    assert "pack.pdf" not in written


def test_all_leaves_out_the_class_set_where_the_file_is_for_no_class(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("packgen.booklet.write.weasyprint_or_why", lambda: (None, "no PDF in this test"))
    main(["build", str(PROJECTS / "08-skew-old-house-room.yaml"), "--edition", "all", "--out", str(tmp_path)])
    said = capsys.readouterr().out
    assert "left out: the class set (the file has no section 'exercise')" in said
    assert {"pack.html", "client.html"} <= {p.name for p in tmp_path.glob("*/*.html")}
    assert not list(tmp_path.glob("*-class"))
