"""The output folder is replaced whole or not at all; without Pango all but the PDF is written."""

from __future__ import annotations

import builtins
import json
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from packgen.booklet import write
from packgen.booklet.make import write_pack_files
from packgen.booklet.pack import Pack
from packgen.booklet.pdf import Overflow, Page, Refused, weasyprint_or_why, write_pdf
from packgen.booklet.templates import style, templates_folder


def test_everything_but_the_pdf(extension: Pack, tmp_path: Path) -> None:
    done = write_pack_files(extension, tmp_path / "out", pdf=False)
    names = {p.name for p in done.paths}
    assert {"index.html", "pack.html", "plan.json", "legs.csv"} <= names
    assert names == {p.name for p in (tmp_path / "out").iterdir()}
    assert "pack.pdf" not in names
    assert json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))["sign"] == extension.facts.sign
    assert "pack.pdf" not in (tmp_path / "out" / "index.html").read_text(encoding="utf-8")


def test_old_content_goes(extension: Pack, tmp_path: Path) -> None:
    old = tmp_path / "out"
    old.mkdir()
    (old / "stale.csv").write_text("old")
    write_pack_files(extension, old, pdf=False)
    assert not (old / "stale.csv").exists()
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_failure_leaves_the_old_content(extension: Pack, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = tmp_path / "out"
    old.mkdir()
    (old / "mine.txt").write_text("old")
    real, written = Path.write_bytes, []

    def full_disk(self: Path, data: bytes) -> int:
        written.append(self)
        if len(written) == 3:
            raise OSError(28, "No space left on device", str(self))
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", full_disk)
    with pytest.raises(OSError, match="No space left"):
        write_pack_files(extension, old, pdf=False)
    assert (old / "mine.txt").read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_without_pango_one_sentence_says_what_to_install(
    extension: Pack, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = builtins.__import__

    def bare(name: str, *rest: Any, **more: Any) -> ModuleType:
        if name == "weasyprint":
            raise OSError("cannot load library 'libgobject-2.0-0': no such file")
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", bare)
    done = write_pack_files(extension, tmp_path / "out")
    assert done.no_pdf is not None
    assert "libpangoft2" in done.no_pdf
    assert "\n" not in done.no_pdf
    assert {"index.html", "pack.html", "plan.json"} <= {p.name for p in done.paths}


@pytest.fixture
def weasyprint() -> Any:
    found, why = weasyprint_or_why()
    if found is None:
        pytest.skip(str(why))
    return found


def page(body: str, slug: str = "trial") -> Page:
    return Page(slug, f'<!doctype html><html lang="en"><title>t</title><body><main>{body}</main></body></html>')


def test_a_sheet_that_grows_over_its_page_is_named(weasyprint: Any) -> None:
    css = style("sheet.css") + style("print.css")
    with pytest.raises(Overflow, match="sheet trial takes 2 pages"):
        write_pdf(weasyprint, [page("<p>row</p>" * 70)], css, templates_folder())


@pytest.mark.parametrize(
    "body",
    [
        '<img src="file:///etc/hostname" alt="x">',
        '<img src="../pyproject.toml" alt="x">',
        '<img src="http://127.0.0.1:9/x.png" alt="x">',
        '<svg width="9mm" height="9mm"><title>x</title><image href="file:///etc/hostname" width="5" height="5"/></svg>',
        '<link rel="stylesheet" href="file:///etc/hostname">',
    ],
)
def test_a_sheet_loads_nothing_from_elsewhere(weasyprint: Any, body: str) -> None:
    with pytest.raises(Refused, match="may not load"):
        write_pdf(weasyprint, [page(body)], "", templates_folder())


def test_the_folder_is_made_with_its_parents(extension: Pack, tmp_path: Path) -> None:
    write.write_folder([extension], tmp_path / "a" / "b" / "out", pdf=False)
    assert (tmp_path / "a" / "b" / "out" / "index.html").is_file()
