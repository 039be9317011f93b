"""A pack in memory, and what was written of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import Markup

from packgen.booklet.facts import Band, PackFacts
from packgen.booklet.sheet import Sheet


@dataclass(frozen=True)
class Rendered:
    """A sheet with its number, its hold band and its body as HTML (the same on paper and on a screen)."""

    number: int
    sheet: Sheet
    band: Band | None
    body: Markup


@dataclass(frozen=True)
class Pack:
    """All of a pack, nothing of it on a disk yet. `tables` are CSV texts by file name."""

    edition: str
    facts: PackFacts
    sheets: tuple[Rendered, ...]
    data: Mapping[str, Any]
    tables: Mapping[str, str]

    @property
    def stem(self) -> str:
        """Name of its files: the site edition is the pack itself, every other edition bears its own name."""
        return "pack" if self.edition == "site" else self.edition

    @property
    def title(self) -> str:
        """What it is called on the start page."""
        return {"site": "Site pack", "client": "Method statement for the client"}.get(self.edition, self.edition)


@dataclass(frozen=True)
class Written:
    """What was written, and the sentence that says why there is no PDF (None where there is one)."""

    paths: tuple[Path, ...]
    no_pdf: str | None
