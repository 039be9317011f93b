"""The sheets: one page each on either paper, laid out for it, with the words and boxes that a first-timer needs."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from packgen.booklet.blank import example
from packgen.booklet.blank.blocks import Fields, Form, Heading, Note, Steps
from packgen.booklet.blank.file_lines import levels_lines
from packgen.booklet.blank.make import facts_of, screen_page, write_survey_sheets
from packgen.booklet.blank.pack import survey_sheets
from packgen.booklet.blank.paper_size import PAPERS, Name
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.pdf import weasyprint_or_why
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.cli import BUILT, main
from packgen.project.read import read_begun
from packgen.project.two_peg import two_peg
from packgen.survey.prepare import prepare_survey
from packgen.trade.survey import pegs_rule

SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
MINUS = re.compile(r"(?:^|\s)[-\u2212]\s?\d")


def job(text: str | None, paper: Name) -> SurveyJob:
    if text is None:
        return SurveyJob(PAPERS[paper])
    begun = read_begun(text.encode(), "room.yaml").begun
    assert begun is not None
    return SurveyJob(PAPERS[paper], begun, prepare_survey(begun))


@pytest.fixture(params=["a4", "letter"])
def paper(request: pytest.FixtureRequest) -> Name:
    """Both papers."""
    name: Name = request.param
    return name


def texts(sheets: tuple[Sheet, ...]) -> str:
    return screen_page(facts_of(SurveyJob(PAPERS["a4"]), len(sheets)), sheets)


def test_a_blank_pack_has_every_form(paper: Name) -> None:
    sheets = survey_sheets(job(None, paper))
    assert [s.slug for s in sheets if s.part == 1] == [
        "start",
        "sketch",
        "walls",
        "tapes",
        "doors",
        "services",
        "base",
        "laser",
        "levelling",
        "book",
        "file",
    ]
    said = texts(sheets).replace("\u00a0", " ")
    for word in (
        "backsight",
        "between",
        "foresight",
        "height of collimation",
        "sum of backsights",
        "skew",
        "floor beyond",
        "hygrometer box",
        "asbestos",
        "licensed",
        "check with your tape",
        "Scale 1:50",
    ):
        assert word in said, word


def test_sheets_that_are_named_are_there(any_room: str) -> None:
    for text in (None, any_room):
        sheets = survey_sheets(job(text, "a4"))
        titles = {s.title for s in sheets}
        table = next(b for b in sheets[0].view["blocks"] if isinstance(b, Form)).table  # type: ignore[attr-defined]
        named = {name for row in table.rows for name in row.cells[2].split("; ")}
        assert named <= titles
        assert titles - named == ({"Start here"} if text is None else {"Start here", "How to level"})


def test_rows_to_write_in_are_high_enough_and_nothing_overflows_sideways(any_room: str, paper: Name) -> None:
    for text in (None, any_room):
        for sheet in survey_sheets(job(text, paper)):
            wide = PAPERS[paper].sheet_mm
            assert lines_of(sheet.purpose, 11, wide) == 1, sheet.slug
            for block in sheet.view["blocks"]:  # type: ignore[attr-defined]
                if isinstance(block, Form):
                    assert block.table.width_mm == wide
                    assert sum(block.table.widths_mm) == pytest.approx(wide)
                    assert len(block.table.columns) <= 8, sheet.slug
                    for row in block.table.rows:
                        if any(
                            c.kind == "write" and not cell
                            for c, cell in zip(block.table.columns, row.cells, strict=True)
                        ):
                            assert block.table.row_mm(row) >= 8
                if isinstance(block, Fields):
                    for line in block.lines:
                        assert sum(f.wide_mm for f in line) <= wide, (sheet.slug, line)


def test_heights_have_no_minus_and_sentences_are_short(any_room: str) -> None:
    for sheet in survey_sheets(job(any_room, "a4")):
        for block in sheet.view["blocks"]:  # type: ignore[attr-defined]
            said = (
                [block.text] if isinstance(block, (Note, Heading)) else block.items if isinstance(block, Steps) else []
            )
            for text in said:
                assert not MINUS.search(text), text
                for sentence in re.split(r"[.;:]\s", text):
                    assert len(sentence.split()) <= 26, sentence


def test_letter_is_no_scaled_a4() -> None:
    a4, letter = survey_sheets(job(None, "a4")), survey_sheets(job(None, "letter"))
    rows = {}
    for name, sheets in (("a4", a4), ("letter", letter)):
        book = next(s for s in sheets if s.slug == "book")
        rows[name] = next(len(b.table.rows) for b in book.view["blocks"] if isinstance(b, Form))  # type: ignore[attr-defined]
    assert rows["letter"] < rows["a4"]


def test_the_book_names_every_point_once_and_ends_on_the_datum(any_room: str, paper: Name) -> None:
    made = job(any_room, paper)
    points = [p for r in made.rooms for p in r.points]
    booked: list[str] = []
    for sheet in (s for s in survey_sheets(made) if s.title == "Level book"):
        table = next(b.table for b in sheet.view["blocks"] if isinstance(b, Form))  # type: ignore[attr-defined]
        names = [row.cells[0] for row in table.rows]
        assert names[0] == names[-1] == "TBM"
        assert names.count("") >= 2
        booked += [n for n in names[1:-1] if n]
    assert [n.split(" ")[0] for n in booked] == [p.name for p in points]
    assert booked[0].endswith(f"({int(points[0].x_mm)}, {int(points[0].y_mm)})")


def test_the_lines_to_copy_stand_whole_on_the_sheets(any_room: str, paper: Name) -> None:
    made = job(any_room, paper)
    blocks = [b for s in survey_sheets(made) if s.title == "Into the project file" for b in s.view["blocks"]]  # type: ignore[attr-defined]
    printed = "\n".join(b.text for b in blocks if b.kind == "file")
    assert printed.endswith(levels_lines(made.rooms, "TBM"))
    assert all(part in printed for part in example.PARTS)


def test_the_two_peg_example_is_what_the_survey_makes_of_it() -> None:
    """error per metre = (second difference - first) / (far - near): two-peg test, any levelling handbook."""
    apart, beside = pegs_rule().apart_m, pegs_rule().beside_m
    error = two_peg(*example.PEG_MIDDLE, *example.PEG_NEAR, beside, beside + apart).error_per_m
    said = texts(survey_sheets(job(None, "a4")))
    assert error == pytest.approx(0.1)
    assert "17 - 15 = 2" in said
    assert "2 / 20 = 0.1" in said


# --------------------------------------------------------------------------------- paper


@pytest.fixture(scope="module", params=[("a4", ""), ("letter", "corner")], ids=["blank, a4", "corner, letter"])
def printed(
    request: pytest.FixtureRequest, rooms_by_name: dict[str, str], tmp_path_factory: pytest.TempPathFactory
) -> tuple[Name, Path, SurveyJob]:
    """Folders as the command makes them: blank on one paper, a room on the other."""
    if weasyprint_or_why()[0] is None:
        pytest.skip(str(weasyprint_or_why()[1]))
    paper, room = request.param
    folder = tmp_path_factory.mktemp("survey")
    command = ["survey-sheet", "--paper", paper, "--out", str(folder)]
    if room:
        (folder / "room.yaml").write_text(rooms_by_name[room], encoding="utf-8")
        command.append(str(folder / "room.yaml"))
    assert main(command) == BUILT
    return paper, folder / ("room-survey" if room else "survey-sheets"), job(rooms_by_name.get(room), paper)


def test_pages_and_their_size(printed: tuple[Name, Path, SurveyJob]) -> None:
    paper, folder, made = printed
    sheets = survey_sheets(made)
    file = folder / "survey-sheets.pdf"
    with pikepdf.open(file) as pdf:
        assert len(pdf.pages) == len(sheets)
        for page in pdf.pages:
            wide, high = (float(v) for v in list(page.mediabox)[2:])
            assert (wide, high) == pytest.approx(SIZES[paper], abs=0.1)
    text = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, check=True).stdout.decode()
    pages = text.split("\f")[:-1]
    for n, (sheet, page) in enumerate(zip(sheets, pages, strict=True), 1):
        assert sheet.title in page
        assert f"Sheet {n} of {len(sheets)}" in page


def test_squares_are_true_and_the_check_line_is_100_mm(printed: tuple[Name, Path, SurveyJob]) -> None:
    with pikepdf.open(printed[1] / "survey-sheets.pdf") as pdf:
        sketch = list(strokes(pdf.pages[1]))
    assert any(abs(length - 100) < 0.01 for length in sketch)
    full = sorted({round(length, 1) for length in sketch if length > 101})
    assert all(abs(length / 5 - round(length / 5)) < 0.01 for length in full)


def test_the_folder_holds_what_is_needed_and_the_same_room_gives_the_same_bytes(
    printed: tuple[Name, Path, SurveyJob], tmp_path: Path
) -> None:
    paper, folder, made = printed
    write_survey_sheets(made.begun, made.rooms, paper, tmp_path / "again", pdf=bool(made.rooms))
    again = sorted((tmp_path / "again").iterdir())
    assert {f.name for f in folder.iterdir()} - {"survey-sheets.pdf"} == {f.name for f in again} - {"survey-sheets.pdf"}
    assert ("levels-to-fill-in.yaml" in {f.name for f in again}) == bool(made.rooms)
    for file in again:
        assert file.read_bytes() == (folder / file.name).read_bytes(), file.name


def test_a_reader_of_the_screen_hears_every_drawing_and_only_own_fonts_are_inside(
    printed: tuple[Name, Path, SurveyJob],
) -> None:
    with pikepdf.open(printed[1] / "survey-sheets.pdf") as pdf:
        objects = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary)]
        for figure in (o for o in objects if o.get("/Type") == "/StructElem" and o.get("/S") == "/Figure"):
            assert str(figure.get("/Alt", ""))
        fonts = {str(o.FontName).split("+")[-1] for o in objects if o.get("/Type") == "/FontDescriptor"}
        assert {name.strip("/").split("-")[0] for name in fonts} <= {"Pack", "Sym"}
        assert b"pdfuaid" in pdf.Root.Metadata.read_bytes()


Matrix = tuple[float, ...]


def strokes(page: Any, stream: Any = None, res: Any = None, ctm: Matrix = (1, 0, 0, 1, 0, 0)) -> Iterator[float]:
    """Length in mm of each upright or level stroke of a page, through all its transformations."""
    stream, res = stream or page, res or page.Resources
    stack: list[Matrix] = []
    at, parts = (0.0, 0.0), []
    for ops, op in pikepdf.parse_content_stream(stream):
        name = str(op)
        if name == "q":
            stack.append(ctm)
        elif name == "Q":
            ctm = stack.pop()
        elif name == "cm":
            ctm = times(tuple(float(v) for v in ops), ctm)
        elif name in ("m", "l"):
            x, y = (float(v) for v in ops)
            to = (x * ctm[0] + y * ctm[2] + ctm[4], x * ctm[1] + y * ctm[3] + ctm[5])
            if name == "l":
                parts.append((at, to))
            at = to
        elif name in ("S", "n", "f"):
            if name == "S":
                yield from (25.4 / 72 * (abs(a[0] - b[0]) + abs(a[1] - b[1])) for a, b in parts)
            parts = []
        elif name == "Do" and res.XObject[str(ops[0])].get("/Subtype") == "/Form":
            form = res.XObject[str(ops[0])]
            inner = times(tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0])), ctm)
            yield from strokes(page, form, form.get("/Resources", res), inner)


def times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )
