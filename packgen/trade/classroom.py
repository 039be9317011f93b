"""Values about exercises: bounds of varying, weights and tolerances of blanks. Source: trade/data/classroom.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from packgen.core.worked import Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class BoundRule:
    """A bound of varying: its figure, unit, the key under `exercise: bounds` that overrules it ("" for none)."""

    name: str
    value: float
    unit: str
    key: str
    says: str
    source: Source


@dataclass(frozen=True, slots=True)
class KindRule:
    """A kind of blank: its weight in steps, and what is accepted (mm, litres ... or a share of the answer)."""

    kind: str
    steps: int
    tolerance: float
    relative: bool


@dataclass(frozen=True, slots=True)
class Covering:
    """A covering and the whole-mm thicknesses it is sold in; hard: laid on mineral bases, not on boards."""

    name: str
    least_mm: int
    most_mm: int
    hard: bool


@cache
def bound_rules() -> tuple[BoundRule, ...]:
    """All bounds in the order of the table."""
    where = source("classroom", "practice")
    return tuple(
        BoundRule(name, float(row["value"]), row["unit"], row["key"], row["says"], where)
        for name, row in table("classroom")["bounds"].items()
    )


@cache
def kind_rules() -> Mapping[str, KindRule]:
    """Kinds of blanks by name, in the order in which they are asked.

    >>> kind_rules()["leg"].tolerance
    1.0
    """
    return {
        kind: KindRule(kind, int(row["steps"]), float(row["tolerance"]), bool(row.get("relative", False)))
        for kind, row in table("classroom")["kinds"].items()
    }


@cache
def coverings() -> tuple[Covering, ...]:
    """Coverings from the thinnest on, soft ones first."""
    return tuple(
        Covering(row["name"], int(row["least"]), int(row["most"]), bool(row.get("hard", False)))
        for row in table("classroom")["coverings"]
    )


def bag_sizes(mixed: bool) -> tuple[float, ...]:
    """Litres that bags of a mixed or a dry fill usually make."""
    return tuple(float(v) for v in table("classroom")["bags"]["mixed" if mixed else "dry"])


def asked(what: str, level: int) -> int:
    """How many "spots" or "parts" are asked at a level of difficulty from 1 to 3."""
    return int(table("classroom")["asked"][what][level - 1])


def marks_rule(name: str) -> float:
    """A figure of the marking: "least", "round_to", "each", or the share of "method", "answer" or "tidy"."""
    return float(table("classroom")["marks"][name])
