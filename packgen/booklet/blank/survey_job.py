"""What a survey pack is made for: nothing but a sheet of paper, or the rooms of a file."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.booklet.blank.paper_size import PaperSize
from packgen.project.model import Begun
from packgen.survey.fieldwork_model import Fieldwork


@dataclass(frozen=True, slots=True)
class SurveyJob:
    """begun and rooms: what the file says and what is to be measured there; None and () where there is no file."""

    paper: PaperSize
    begun: Begun | None = None
    rooms: tuple[Fieldwork, ...] = ()

    @property
    def datum(self) -> str:
        """What the datum is called."""
        return self.begun.datum.name if self.begun and self.begun.datum else "TBM"

    @property
    def datum_is(self) -> str:
        """Where the datum is, "" where nobody has said it."""
        return self.begun.datum.where if self.begun and self.begun.datum else ""

    @property
    def title(self) -> str:
        """Name of the job as far as it is known."""
        info = self.begun.project if self.begun else None
        if info is not None:
            return " ".join(part for part in (info.name, info.reference) if part)
        return ", ".join(r.outline.name for r in self.rooms)

    @property
    def closes_within_mm(self) -> float | None:
        """By how much the levels may miss the datum; None where the file does not say."""
        return self.begun.levels.largest_misclosure if self.begun and self.begun.levels else None
