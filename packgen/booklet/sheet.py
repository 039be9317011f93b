"""A sheet: one page of paper, one template, finished strings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from packgen.core.finding import Gate

Paper = Literal["A4", "A3 landscape"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page.

    slug      stable name, for example "legs"; with parts "legs-2"; the anchor in the pack is the slug
    behind    the gate this sheet lies behind: its open stops and those of earlier gates band the sheet
    template  file under templates/sheets/
    view      what the template gets: finished strings, lists of them, drawings as markup; nothing to compute
    """

    slug: str
    title: str
    purpose: str
    template: str
    view: Mapping[str, object]
    behind: Gate | None = None
    part: int = 1
    parts: int = 1
    paper: Paper = "A4"
