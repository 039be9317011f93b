"""Hazards of the trade with likelihood, harm, controls and what remains, from data/risk.toml."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.worked import Source
from packgen.trade.tables import source, table

Level = Literal["low", "medium", "high"]


@dataclass(frozen=True, slots=True)
class Risk:
    """One hazard. Levels are words; `residual` holds with every control in place and is never "high".

    always  answered on every job, with a reason where it is not met
    codes   findings of the review that mean this hazard
    """

    key: str
    title: str
    who: str
    likelihood: Level
    harm: Level
    before: Level
    controls: tuple[str, ...]
    residual: Level
    always: bool
    codes: tuple[str, ...]
    source: Source


def level_before(likelihood: Level, harm: Level) -> Level:
    """The level without controls.

    >>> level_before("medium", "high"), level_before("low", "medium")
    ('high', 'low')
    """
    level: Level = table("risk")["scale"][likelihood][harm]
    return level


def risks() -> tuple[Risk, ...]:
    """Every hazard in the order it is printed. ValueError for a residual level that is high."""
    return tuple(_risk(key, row) for key, row in table("risk")["hazard"].items())


def _risk(key: str, row: dict[str, object]) -> Risk:
    likelihood: Level = row["likelihood"]  # type: ignore[assignment]
    harm: Level = row["harm"]  # type: ignore[assignment]
    residual: Level = row["residual"]  # type: ignore[assignment]
    if residual == "high":
        raise ValueError(f"risk {key}: what stays high is a stop, no residual level")
    return Risk(
        key,
        str(row["title"]),
        str(row["who"]),
        likelihood,
        harm,
        level_before(likelihood, harm),
        tuple(row["controls"]),  # type: ignore[arg-type]
        residual,
        bool(row["always"]),
        tuple(row["codes"]),  # type: ignore[arg-type]
        source("risk", str(row["source"])),
    )
