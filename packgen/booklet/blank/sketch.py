"""Squared paper for the room."""

from __future__ import annotations

from packgen.booklet.blank.blocks import Block, Drawing, Steps, left_mm
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.squares import squared
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.sheet import Sheet

TITLE = "Sketch"
SCALE = 50
STEPS = (
    "Stand in the door. The wall you want to begin with is wall 1: draw it at the top, from left to right.",
    "Its left end is corner 1. Number the corners on, the way the hands of a clock turn.",
    "Draw doors as gaps, columns and chimneys hatched, pipes as long dashes with their name, cables as dots.",
)


def sheet(job: SurveyJob) -> Sheet:
    """The sketch."""
    blocks: list[Block] = [Steps(STEPS)]
    svg, high = squared(job.paper.sheet_mm, left_mm(job.paper, blocks) - 6.0, SCALE)
    return survey_sheet(
        "sketch",
        TITLE,
        "The room from above. It need not be beautiful; every wall must be there.",
        [*blocks, Drawing(svg, high)],
    )
