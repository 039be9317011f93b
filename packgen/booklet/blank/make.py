"""Survey sheets to a folder of files: PDF, HTML and, where rooms are known, the lines of the file to fill in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from packgen.booklet.blank.file_lines import levels_lines
from packgen.booklet.blank.pack import survey_sheets
from packgen.booklet.blank.paper_size import PAPERS, Name
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.html import fill
from packgen.booklet.pack import Written
from packgen.booklet.pdf import Page, weasyprint_or_why, write_pdf
from packgen.booklet.screen import FONTS
from packgen.booklet.sheet import Sheet
from packgen.booklet.templates import font_data, style, templates_folder
from packgen.booklet.write import replace_folder
from packgen.project.model import Begun
from packgen.survey.fieldwork_model import Fieldwork

STEM = "survey-sheets"
TO_FILL_IN = "levels-to-fill-in.yaml"


@dataclass(frozen=True, slots=True)
class SurveyFacts:
    """What every sheet says at its head and foot. date_iso: "" where there is no file."""

    title: str
    job: str
    foot: str
    date_iso: str
    count: int


def write_survey_sheets(
    begun: Begun | None, rooms: Sequence[Fieldwork], paper: Name, folder: Path, pdf: bool = True
) -> Written:
    """Writes the sheets into `folder`, which is replaced whole or not at all. OSError where writing fails."""
    job = SurveyJob(PAPERS[paper], begun, tuple(rooms))
    sheets = survey_sheets(job)
    facts = facts_of(job, len(sheets))
    files = {f"{STEM}.html": screen_page(facts, sheets).encode("utf-8")}
    if any(room.points for room in job.rooms):
        files[TO_FILL_IN] = f"{levels_lines(job.rooms, job.datum)}\n".encode()
    weasyprint, no_pdf = weasyprint_or_why() if pdf else (None, None)
    if weasyprint is not None:
        files[f"{STEM}.pdf"] = write_pdf(weasyprint, pages_of(facts, sheets), print_style(job), templates_folder())
    return Written(replace_folder(folder, files), no_pdf)


def facts_of(job: SurveyJob, count: int) -> SurveyFacts:
    """Head and foot of all sheets."""
    info = job.begun.project if job.begun else None
    of_file = f" · {job.begun.file_name}" if job.begun else ""
    return SurveyFacts(
        title=f"{job.title}, survey sheets" if job.title else "Survey sheets",
        job=job.title,
        foot=f"Survey sheets{of_file} · lengths in mm, heights against {job.datum}",
        date_iso=info.date.isoformat() if info else "",
        count=count,
    )


def print_style(job: SurveyJob) -> str:
    """The style sheet for paper, its size included."""
    size = f"@page {{ size: {job.paper.css}; }}\n"
    return style("sheet.css") + style("survey.css") + style("survey-print.css") + size


def pages_of(facts: SurveyFacts, sheets: Sequence[Sheet]) -> tuple[Page, ...]:
    """Sheets as documents for the PDF."""
    return tuple(
        Page(s.slug, fill("survey-page.html", {"facts": facts, "sheet": s, "number": n, "body": body_of(s)}))
        for n, s in enumerate(sheets, 1)
    )


def screen_page(facts: SurveyFacts, sheets: Sequence[Sheet]) -> str:
    """Sheets as cards, one below the other, in a file that loads nothing."""
    fonts = {name.replace("-", "_"): Markup(font_data(f"{name}.woff2")) for name in FONTS}
    css = Markup(style("sheet.css") + style("survey.css") + style("screen.css") + style("survey-screen.css"))
    cards = [(n, s, body_of(s)) for n, s in enumerate(sheets, 1)]
    return fill("survey-screen.html", {"facts": facts, "sheets": cards, "css": css, "fonts": fonts})


def body_of(sheet: Sheet) -> Markup:
    """One sheet's body as HTML."""
    return Markup(fill(f"sheets/{sheet.template}", {**sheet.view, "sheet": sheet}))
