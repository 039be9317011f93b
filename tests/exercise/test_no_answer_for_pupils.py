"""No answer stands in any pupil's file: not in its text, its drawings, its attachments or its metadata."""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from packgen.booklet.classroom.make import sheets_of, write_class_set
from packgen.booklet.classroom.pages import body_of, pupil_places
from packgen.booklet.pdf import weasyprint_or_why
from packgen.exercise.difficulty import printed_numbers
from packgen.exercise.model import Answers, ClassSet, Version, Way
from packgen.exercise.settings import settings_of
from packgen.project.model import Project

WEASYPRINT, _ = weasyprint_or_why()
FIGURE = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?(?![\w.])")
PUPILS = 3


def words(page: str) -> str:
    """What a reader can find in a page: text, titles of drawings, every attribute; not the style sheet or fonts."""
    bare = re.sub(r"<style>.*?</style>|<script>.*?</script>", " ", page, flags=re.DOTALL)
    bare = re.sub(r'(?: d| x| y| width| height| viewBox| style| points| transform)="[^"]*"', " ", bare)
    return html.unescape(re.sub(r"[<>=\"/]", " ", bare))


def told(version: Version) -> dict[str, str]:
    """The answers by blank whose figure has three digits or more, or a decimal: those that stand for nothing else.

    A figure that is given on the sheet (a reading, a length) is no sign of an answer; so are none that the versions'
    choice already keeps off the sheet.
    """
    given = set(printed_numbers(version.project, version.case))
    out = {}
    for blank in version.blanks:
        value = abs(version.right[blank.id])
        text = f"{value:.{blank.digits}f}"
        if blank.writing in ("level", "number") and (value >= 100 or blank.digits) and text not in given:
            out[blank.id] = text
    return out


def test_most_answers_can_be_looked_for(bay_set: ClassSet) -> None:
    for v in bay_set.versions:
        assert len(told(v)) >= 0.3 * len(v.blanks)


def test_nothing_is_worked_out_for_a_pupils_sheets(bay_set: ClassSet) -> None:
    """With blanks that cannot be worked out the sheets are the same, letter by letter."""

    def never(_: Answers) -> Way:
        raise AssertionError("a pupil's sheet asks for an answer")

    settings = settings_of(bay_set.base)
    for v in bay_set.versions:
        bare = tuple(replace(b, work=never, slips=()) for b in v.blanks)
        blind = replace(v, blanks=bare, right={})
        for sheet, same in zip(
            sheets_of(v, settings, bay_set.level), sheets_of(blind, settings, bay_set.level), strict=True
        ):
            assert body_of(sheet) == body_of(same)


def test_not_in_the_text_of_any_sheet(bay_set: ClassSet) -> None:
    settings = settings_of(bay_set.base)
    for v in bay_set.versions:
        sheets = sheets_of(v, settings, bay_set.level)
        assert len(sheets) % 2 == 0, "the next pupil starts on a right-hand page"
        found = set(FIGURE.findall(" ".join(words(str(body_of(s))) for s in sheets)))
        assert {id: text for id, text in told(v).items() if text in found} == {}
        assert all(f"Pupil {v.case.pupil}" in p.who for p in pupil_places(v.case, sheets))


def test_legs_are_all_drawn_by_one_sign(bay_set: ClassSet) -> None:
    """A misfit or an extended leg may not be seen on the plan."""
    settings = settings_of(bay_set.base)
    for v in bay_set.versions:
        task = next(s for s in sheets_of(v, settings, bay_set.level) if s.slug == "task")
        body = str(body_of(task))
        for word in ("does not fit", "with extension", "master"):
            assert word not in words(body.split("<svg", 1)[1].split("</svg>", 1)[0])


@pytest.fixture(scope="module")
def folder(bay: Project, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("class") / "set"
    write_class_set(bay, PUPILS, out, 2, processes=1)
    return out


def test_files_of_a_set(folder: Path) -> None:
    names = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    assert {"index.html", "teacher/key.json", "teacher/teacher.html", "teacher/answers-to-fill-in.csv"} <= names
    assert {f"pupils/pupil-{n:02d}.html" for n in range(1, PUPILS + 1)} <= names
    assert not [n for n in names if n.startswith("pupils/") and not n.endswith((".html", ".pdf"))]


def test_not_in_any_html_file_of_a_pupil(folder: Path, class_of: object) -> None:
    made = class_of("07-school-exercise-bay", PUPILS, 2)  # type: ignore[operator]
    for v in made.versions:
        page = (folder / f"pupils/pupil-{v.case.pupil:02d}.html").read_text(encoding="utf-8")
        found = set(FIGURE.findall(words(page)))
        assert {id: text for id, text in told(v).items() if text in found} == {}
        assert "teacher" not in page.casefold().replace("your teacher", "")


def test_nothing_is_hidden_in_a_page(folder: Path) -> None:
    """No comments; style and script are the same for every pupil, so they can hold nobody's answer."""
    pages = [(folder / f"pupils/pupil-{n:02d}.html").read_text(encoding="utf-8") for n in range(1, PUPILS + 1)]
    assert not [page for page in pages if "<!--" in page]
    hidden = {tuple(re.findall(r"<(?:style|script)\b.*?</(?:style|script)>", page, re.DOTALL)) for page in pages}
    assert len(hidden) == 1
    assert not re.findall(
        r'\s(?:data-[\w-]+|value|hidden)(?:="[^"]*")?', " ".join(re.findall(r"<[a-z][^>]*>", pages[0]))
    )


def strings(value: object, deep: int = 0) -> list[str]:
    """Every text in a dictionary of a PDF, but for what points back to its parents."""
    if isinstance(value, pikepdf.String):
        return [str(value)]
    if deep > 6:
        return []
    if isinstance(value, pikepdf.Array):
        return [s for item in value for s in strings(item, deep + 1)]  # type: ignore[attr-defined]
    if isinstance(value, pikepdf.Dictionary | pikepdf.Stream):
        inner = value if isinstance(value, pikepdf.Dictionary) else value.stream_dict  # type: ignore[union-attr]
        return [s for k, v in inner.items() if k not in ("/P", "/Parent", "/Pg") for s in strings(v, deep + 1)]  # type: ignore[union-attr]
    return []


@pytest.mark.skipif(WEASYPRINT is None, reason="no PDF on this machine")
def test_not_in_any_string_of_the_pdf(folder: Path, class_of: object) -> None:
    """Annotations, form fields, replacement texts, names of layers: whatever a viewer may show or a search find."""
    made = class_of("07-school-exercise-bay", PUPILS, 2)  # type: ignore[operator]
    every = {text for v in made.versions for text in told(v).values()}
    with pikepdf.open(folder / "pupils/pupils.pdf") as pdf:
        kept = [s for o in pdf.objects for s in strings(o, 5)]
        names = [str(k) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) for k in o.keys()]  # noqa: SIM118
    assert kept
    assert not every & set(FIGURE.findall(" ".join(kept)))
    assert not {"/AF", "/EmbeddedFiles", "/JS", "/JavaScript", "/AcroForm", "/OCProperties"} & set(names)


@pytest.mark.skipif(WEASYPRINT is None, reason="no PDF on this machine")
def test_not_in_the_pdf(folder: Path, class_of: object) -> None:
    """Metadata, attachments, alternative texts, outline; and the text itself where poppler is there to read it."""
    made = class_of("07-school-exercise-bay", PUPILS, 2)  # type: ignore[operator]
    file = folder / "pupils/pupils.pdf"
    every = {text for v in made.versions for text in told(v).values()}
    with pikepdf.open(file) as pdf:
        assert len(pdf.pages) % (2 * PUPILS) == 0
        assert len(pdf.attachments) == 0
        kept = [str(v) for v in (pdf.docinfo or {}).values()]
        with pdf.open_outline() as outline:
            kept += [item.title for item in outline.root]
        kept += [str(o["/Alt"]) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]
        with pdf.open_metadata() as meta:
            kept += [str(v) for v in meta.values()]
    assert kept
    assert not every & set(FIGURE.findall(" ".join(kept)))
    reader = shutil.which("pdftotext")
    if reader is None:
        return
    per = len(pdf_pages(file)) // PUPILS
    for v in made.versions:
        first = (v.case.pupil - 1) * per + 1
        text = subprocess.run(
            [reader, "-f", str(first), "-l", str(first + per - 1), str(file), "-"],
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        assert text.count(f"Pupil {v.case.pupil}") >= per, "the number stands on every sheet"
        found = set(FIGURE.findall(text))
        assert {id: t for id, t in told(v).items() if t in found} == {}


def pdf_pages(file: Path) -> list[int]:
    with pikepdf.open(file) as pdf:
        return list(range(len(pdf.pages)))


def test_the_same_set_gives_the_same_bytes(bay: Project, folder: Path, tmp_path: Path) -> None:
    """Also when another process lays the sheets out."""
    write_class_set(bay, PUPILS, tmp_path / "again", 2, processes=2)
    for file in folder.rglob("*"):
        if file.is_file():
            assert file.read_bytes() == (tmp_path / "again" / file.relative_to(folder)).read_bytes(), file.name
