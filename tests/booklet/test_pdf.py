"""The printed pack: one page a sheet, own fonts, tags, and the same bytes for the same project."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from packgen.booklet.pack import Pack

PROJECTS = Path(__file__).parent.parent.parent / "projects"
pytestmark = pytest.mark.slow


@pytest.fixture
def pdf(written: Path) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(written / "pack.pdf") as opened:
        yield opened


def objects(pdf: pikepdf.Pdf) -> Iterator[Any]:
    for item in pdf.objects:
        if isinstance(item, pikepdf.Dictionary):
            yield item


def test_a_page_a_sheet_with_the_sign_on_each(pack: Pack, written: Path, pdf: pikepdf.Pdf) -> None:
    assert len(pdf.pages) == len(pack.sheets)
    text = subprocess.run(["pdftotext", "-layout", written / "pack.pdf", "-"], capture_output=True, check=True)
    pages = text.stdout.decode().split("\f")[:-1]
    assert len(pages) == len(pack.sheets)
    for one, page in zip(pack.sheets, pages, strict=True):
        assert pack.facts.sign in page
        assert f"Sheet {one.number} of {len(pack.sheets)}" in page
        if one.band:
            assert f"HOLD BEFORE {one.band.gate.upper()}" in page


def test_only_the_packs_own_fonts_and_all_of_them_inside(pdf: pikepdf.Pdf) -> None:
    found = [d for d in objects(pdf) if d.get("/Type") == "/FontDescriptor"]
    assert found
    for font in found:
        name = str(font.FontName).lstrip("/").split("+")[-1]
        assert name.split("-")[0].split(",")[0] in ("Pack", "Sym"), name
        assert "/FontFile2" in font


def test_it_claims_and_carries_what_a_screen_reader_needs(pdf: pikepdf.Pdf) -> None:
    root = pdf.Root
    assert str(root.Lang) == "en"
    assert bool(root.MarkInfo.Marked)
    assert bool(root.ViewerPreferences.DisplayDocTitle)
    assert b"pdfuaid" in root.Metadata.read_bytes()
    assert str(root.PageLabels.Nums[1].P) == "Sheet "
    tags = [d for d in objects(pdf) if d.get("/Type") == "/StructElem"]
    for figure in (d for d in tags if d.get("/S") == "/Figure"):
        assert str(figure.get("/Alt", "")), "a drawing without a title"
    heads = [str(d.S) for d in tags if str(d.get("/S")) in ("/H1", "/H2", "/H3")]
    assert heads.count("/H1") == len(pdf.pages)
    for page in pdf.pages:
        assert page.obj.get("/Tabs") == "/S"


def test_nothing_is_painted_outside_the_tags(pdf: pikepdf.Pdf) -> None:
    for number, page in enumerate(pdf.pages, 1):
        depth = 0
        for _, operator in pikepdf.parse_content_stream(page):
            depth += {"BDC": 1, "BMC": 1, "EMC": -1}.get(str(operator), 0)
            assert depth or str(operator) not in {"Tj", "TJ", "S", "f", "f*", "B"}, f"page {number}"


Matrix = tuple[float, float, float, float, float, float]


def times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def marks(stream: Any, resources: Any, ctm: Matrix = (1, 0, 0, 1, 0, 0)) -> Iterator[tuple[str, float]]:
    """Each painted text with its size in pt and each stroke with its width in mm, drawings inside drawings too."""
    stack: list[tuple[Matrix, float]] = []
    width, size, placed = 1.0, 0.0, ctm
    for operands, operator in pikepdf.parse_content_stream(stream):
        op = str(operator)
        scale = abs(ctm[0] * ctm[3] - ctm[1] * ctm[2]) ** 0.5
        if op == "q":
            stack.append((ctm, width))
        elif op == "Q":
            ctm, width = stack.pop()
        elif op == "cm":
            ctm = times(tuple(float(v) for v in operands), ctm)  # type: ignore[arg-type]
        elif op == "w":
            width = float(operands[0])
        elif op == "Tf":
            size = float(operands[1])
        elif op == "Tm":
            placed = times(tuple(float(v) for v in operands), ctm)  # type: ignore[arg-type]
        elif op in ("TJ", "Tj"):
            yield "text", size * abs(placed[0] * placed[3] - placed[1] * placed[2]) ** 0.5
        elif op in ("S", "s", "B", "b"):
            yield "line", width * scale * 25.4 / 72
        elif op == "Do":
            form = resources.XObject[str(operands[0])]
            if form.get("/Subtype") == "/Form":
                own = tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                yield from marks(form, form.get("/Resources", resources), times(own, ctm))  # type: ignore[arg-type]


def test_letters_and_lines_survive_a_photocopier(pdf: pikepdf.Pdf) -> None:
    # measured in booklet.md 9: text under 9 pt and lines under 0.25 mm are gone on a copy of a copy
    for number, page in enumerate(pdf.pages, 1):
        for kind, measure in marks(page, page.Resources):
            assert measure >= (8.99 if kind == "text" else 0.249), f"page {number}: {kind} of {measure:.2f}"


def test_the_outline_names_every_sheet(pack: Pack, pdf: pikepdf.Pdf) -> None:
    with pdf.open_outline() as outline:
        titles = [str(item.title) for item in outline.root]
    assert len(titles) == len(pack.sheets)
    assert titles[0].startswith("Sheet 1: ")


BUILD = """
import sys, time, datetime
from pathlib import Path
now = float(sys.argv[3]); time.time = lambda: now
from packgen.generate import plan_file
from packgen.booklet.make import make_pack, write_pack_files
plan = plan_file(Path(sys.argv[1])).plan
write_pack_files(make_pack(plan, "site"), Path(sys.argv[2]))
"""


def build(folder: Path, when: str, zone: str, seed: str) -> dict[str, bytes]:
    project = folder / "02-extension-heated.yaml"
    folder.mkdir(parents=True)
    project.write_bytes((PROJECTS / project.name).read_bytes())
    env = {**os.environ, "TZ": zone, "PYTHONHASHSEED": seed, "PYTHONPATH": str(PROJECTS.parent)}
    command = [sys.executable, "-c", BUILD, str(project), str(folder / "out"), when]
    subprocess.run(command, check=True, env=env, cwd=folder, capture_output=True)
    return {p.name: p.read_bytes() for p in sorted((folder / "out").iterdir())}


def test_two_folders_two_dates_two_zones_the_same_bytes(tmp_path: Path) -> None:
    one = build(tmp_path / "one", "1770000000", "UTC", "1")
    two = build(tmp_path / "a" / "longer" / "place", "1890000000", "Asia/Tokyo", "77")
    assert "pack.pdf" in one
    assert one.keys() == two.keys()
    for name in one:
        assert one[name] == two[name], name
