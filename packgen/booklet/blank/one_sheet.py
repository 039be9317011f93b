"""Blocks to a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.blank.blocks import Block
from packgen.booklet.sheet import Sheet


def survey_sheet(
    slug: str,
    title: str,
    purpose: str,
    blocks: Sequence[Block],
    signed: str = "Measured by",
    part: int = 1,
    parts: int = 1,
) -> Sheet:
    """A sheet of these blocks; signed: who signs it below, "" where nothing is written on it."""
    return Sheet(
        slug=slug if part == 1 else f"{slug}-{part}",
        title=title,
        purpose=purpose,
        template="survey.html",
        view={"blocks": tuple(blocks), "signed": signed},
        part=part,
        parts=parts,
    )
