"""How much of a page is left below a hold band, for sheets that fill their page."""

from __future__ import annotations

from packgen.booklet.facts import band_of
from packgen.booklet.rows import BODY_MM, SHEET_MM
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.finding import Gate
from packgen.plan import Plan

INSIDE_MM = SHEET_MM - 16.0  # width of the band's text; its first words are larger
FRAME_MM, LINE_MM = 8.5, 4.5


def body_below_band(plan: Plan, behind: Gate) -> float:
    """Height for the content of a sheet behind a gate, by the band it bears in this plan, mm."""
    band = band_of(plan, Sheet("", "", "", "", {}, behind))
    if band is None:
        return BODY_MM
    lines = lines_of(f"HOLD BEFORE {band.gate.upper()} {band.says}", 10, INSIDE_MM)
    return BODY_MM - FRAME_MM - lines * LINE_MM
