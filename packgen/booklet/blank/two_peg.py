"""The two-peg test: whether the laser line is level, with boxes for the arithmetic."""

from __future__ import annotations

import math

from markupsafe import Markup

from packgen.booklet.blank.blocks import Block, Drawing, Field, Fields, Form, Heading, Note, Steps, rows_of
from packgen.booklet.blank.example import PEG_MIDDLE, PEG_NEAR
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.drawing.canvas import CUT, DASHED, RAIL, THIN, Canvas
from packgen.booklet.drawing.labels import LEAST_MM
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import number, plain
from packgen.project.two_peg import two_peg
from packgen.trade.limits import limit
from packgen.trade.survey import pegs_rule

TITLE = "Laser test"
PURPOSE = "Before the levels: is the laser line level? Two marks, two places for the laser, one sum."
HIGH_MM = 41.0


def sheet(job: SurveyJob) -> Sheet:
    """Steps, a picture, and the sum with an example."""
    wide = job.paper.sheet_mm
    pegs, allowed = pegs_rule(), plain(limit("laser_error").value)
    apart, beside = pegs.apart_m, pegs.beside_m
    steps = (
        f"Mark A and B on hard, even ground, {plain(apart)} m apart. In a small room: as far apart as it allows.",
        "Laser in the middle, equally far from both (tape). Let it come to rest. Read the staff on A, then B.",
        f"Carry the laser to the far side of A, {plain(beside)} m from it, in line with A and B. Read A and B again.",
        "From the middle an error spoils both readings alike: that difference is true. From beside A it spoils B more.",
        "A laser that turns or throws a cross: turn its head a quarter and do it once more.",
    )
    svg = _picture(wide, apart, beside)
    readings = (
        Column("laser stands", "text", 44),
        Column("reading on A", "write", 40, "mm"),
        Column("reading on B", "write", 40, "mm"),
        Column("difference", "write", None, "larger less smaller"),
    )
    ma, mb = PEG_MIDDLE
    na, nb = PEG_NEAR
    table = Table(
        readings,
        rows_of(
            [
                ("example, in the middle", str(ma), str(mb), f"{mb - ma}, B larger"),
                ("example, beside A", str(na), str(nb), f"{nb - na}, B larger"),
            ],
            ["1: in the middle", "2: beside A"],
            4,
        ),
        "",
        wide,
    )
    sums = (
        Column("", "text", 24),
        Column("difference 2 against difference 1", "write", 40, "if the larger one changed: add them"),
        Column("metres to B, less metres to A", "write", 40, f"as drawn: {plain(apart)}"),
        Column("first divided by second", "write", None, "mm in 1 m"),
        Column("times 10", "write", 38, "mm in 10 m"),
    )
    error = two_peg(ma, mb, na, nb, beside, apart + beside).error_per_m
    off = (nb - na) - (mb - ma)
    figures = (
        f"{nb - na} - {mb - ma} = {off}",
        plain(apart),
        f"{off} / {plain(apart)} = {plain(error)}",
        plain(error * 10),
    )
    arithmetic = Table(sums, rows_of([("example", *figures)], ["this laser"], 5), "", wide)
    sight = _longest_m(job)
    far = f"The longest sight here is {number(sight, 1)} m. " if sight else ""
    verdict = (
        f"{far}Longest sight in m, times mm in 1 m: not more than {allowed}. More: do not use this laser; have it put "
        f"right. The example: {plain(error)} times 6 m is {plain(error * 6)}: good."
    )
    blocks: list[Block] = [
        Steps(steps),
        Drawing(svg, HIGH_MM),
        Form(table),
        Heading("The sum"),
        Form(arithmetic),
        Note(verdict),
        Fields(
            (
                (
                    Field("longest sight", 18, unit="m"),
                    Field("times mm in 1 m", 18),
                    Field("good", ticks=("yes", "no")),
                    Field("laser", 16),
                ),
            )
        ),
    ]
    return survey_sheet("laser", TITLE, PURPOSE, blocks, signed="Tested by")


def _longest_m(job: SurveyJob) -> float:
    return max(
        (math.dist(a, b) / 1000 for r in job.rooms for a in r.outline.corners for b in r.outline.corners), default=0.0
    )


def _picture(wide: float, apart: float, beside: float) -> Markup:
    """Both places of the laser, side by side, heights exaggerated: the true difference, and the one with the error."""
    canvas = Canvas(wide, HIGH_MM)
    half = wide / 2 - 4
    for k, x0 in enumerate((0.0, wide / 2 + 4)):
        ground = HIGH_MM - 10.0
        a, b = x0 + (10.0 if k == 0 else 20.0), x0 + half - 8.0
        laser = (a + b) / 2 if k == 0 else x0 + 7.0
        canvas.line((x0, ground), (x0 + half, ground), CUT)
        high, drop = ground - 17.0, 5.0  # paper mm over the whole sight
        for x, name in ((a, "A"), (b, "B")):
            canvas.line((x, ground), (x, ground - 27.0), RAIL)
            canvas.line((x + 1.6, ground), (x + 1.6, ground - 27.0), RAIL)
            canvas.words(x + 0.8, ground + 4.2, name, 3.9, True)
            rise = drop * abs(x - laser) / (b - a)
            canvas.line((laser, high), (x, high - rise), DASHED)
        canvas.line((laser, ground), (laser - 2.5, ground), THIN)
        canvas.path(((laser - 3.5, ground), (laser, high), (laser + 3.5, ground)), RAIL)
        canvas.area(
            [
                [
                    (laser - 1.8, high - 1.6),
                    (laser + 1.8, high - 1.6),
                    (laser + 1.8, high + 1.6),
                    (laser - 1.8, high + 1.6),
                ]
            ],
            "#000",
        )
        says = "1: in the middle" if k == 0 else "2: beside A"
        canvas.words(x0 + half / 2, 3.4, says, 3.9, True)
        if k == 0:
            each = plain(apart / 2)
            canvas.words((a + laser) / 2, ground + 4.2, f"{each} m", LEAST_MM)
            canvas.words((b + laser) / 2, ground + 4.2, f"{each} m", LEAST_MM)
            canvas.words(x0 + half / 2, ground + 8.4, "both readings too high by the same", LEAST_MM)
        else:
            canvas.words((a + laser) / 2, ground + 4.2, f"{plain(beside)} m", LEAST_MM)
            canvas.words((a + b) / 2, ground + 4.2, f"{plain(apart)} m", LEAST_MM)
            canvas.words(x0 + half / 2, ground + 8.4, "B too high by more than A", LEAST_MM)
    return canvas.svg("Two places of the laser for the two-peg test, drawn with an error that is far too large")
