"""Where a number comes from: its source, and the line of arithmetic that made it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.place import Place

Known = Literal["read", "memory", "practice", "calculated", "file"]


@dataclass(frozen=True, slots=True)
class Source:
    """A published source or a rule of the trade.

    known: "read" a page that quotes it was read; "memory" from memory, verify before relying on it;
    "practice" common practice, no source; "calculated" follows from other values; "file" the user's own.
    """

    title: str
    clause: str = ""
    known: Known = "practice"

    def __str__(self) -> str:
        name = f"{self.title}, {self.clause}" if self.clause else self.title
        return {"memory": f"{name} (from memory, verify)", "practice": "common practice, no source"}.get(
            self.known, name
        )


PRACTICE = Source("common practice", known="practice")
FILE = Source("project file", known="file")
ON_PLAN = Source("measured on the plan as laid out", known="calculated")
COUNTED = Source("counted on the plan", known="calculated")


@dataclass(frozen=True, slots=True)
class Given:
    """A figure that a line starts from: read, taped or typed, found on the plan, or published.

    place: where it stands in the project file; None for what does not stand there
    """

    says: str
    value: float
    unit: str = "mm"
    source: Source = FILE
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Worked:
    """One line of arithmetic as it is printed: `name = formula = numbers = value unit`.

    key      unique in the plan, a path such as "node/C4/leg" or "pour/1/bags"
    numbers  only figures and + - x / ( ) and round-up brackets written as ceil(...), floor(...), max(a, b),
             min(a, b): a test reads it back and must get `value` to `digits` decimals (half up in size)
    needs    keys of the worked lines whose results stand among the numbers
    given    the other figures among the numbers, but for those that only turn one unit into another
    """

    key: str
    name: str
    formula: str
    numbers: str
    value: float
    digits: int
    unit: str
    source: Source | None = None
    needs: tuple[str, ...] = ()
    given: tuple[Given, ...] = ()


@dataclass(frozen=True, slots=True)
class By:
    """A figure that is the result of a worked line of the plan; its sign tells above from below."""

    value: float
    key: str


Figure = Given | By | Worked  # a figure with where it comes from


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value the project file did not give, and how the reader overrules it."""

    what: str
    value: str
    unit: str
    source: Source
    overrule: str
    used_for: str = ""
