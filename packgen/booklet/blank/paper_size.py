"""The two papers a survey pack is laid out for, and what a sheet's body may fill on each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Name = Literal["a4", "letter"]

LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 20.0, 12.0, 12.0, 18.0  # as in css/blank-print.css
HEAD_MM = 20.5  # title, one sentence, rule and the gap below
SLACK_MM = 3.0  # texts wrap a little differently than measured


@dataclass(frozen=True, slots=True)
class PaperSize:
    """css: its name in `@page { size: ... }`; widths and heights mm."""

    name: Name
    css: str
    width_mm: float
    height_mm: float

    @property
    def sheet_mm(self) -> float:
        """Width between the margins."""
        return self.width_mm - LEFT_MM - RIGHT_MM

    @property
    def body_mm(self) -> float:
        """Height below the head."""
        return self.height_mm - TOP_MM - BOTTOM_MM - HEAD_MM - SLACK_MM


PAPERS: dict[Name, PaperSize] = {
    "a4": PaperSize("a4", "A4", 210.0, 297.0),
    "letter": PaperSize("letter", "Letter", 215.9, 279.4),
}
