"""Figures of findings with where they come from: limits by their sources, counts on the plan, lines of the plan."""

from __future__ import annotations

from typing import Protocol

from packgen.core.place import Place
from packgen.core.worked import COUNTED, PRACTICE, Given, Source

DAYS = Source("days from one date to the other", known="calculated")


class Rule(Protocol):
    """A published figure, as the modules of trade/ give them."""

    @property
    def value(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def source(self) -> Source: ...


def limited(rule: Rule, says: str) -> Given:
    """A limit that is published."""
    return Given(says, rule.value, rule.unit, rule.source)


def counted(says: str, number: float, unit: str) -> Given:
    """So many, counted on the plan."""
    return Given(says, number, unit, COUNTED)


def none(says: str, unit: str, source: Source = PRACTICE) -> Given:
    """A limit of nothing at all."""
    return Given(says, 0, unit, source)


def days_between(says: str, number: int, place: Place | None) -> Given:
    """Days between two dates of the file."""
    return Given(says, number, "days", DAYS, place)
