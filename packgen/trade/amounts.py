"""What is added to measured amounts, rates and weights where the project file gives none, from data/amounts.toml."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from packgen.core.figures import KILONEWTON_PER_KG, plain
from packgen.core.worked import Assumed, Source
from packgen.trade.tables import source, table


@dataclass(frozen=True, slots=True)
class AmountRule:
    """A figure with its unit, what it is for, its source, and the key of the project file that overrules it."""

    name: str
    value: float
    unit: str
    says: str
    source: Source
    overrule: str


def amount_rule(name: str) -> AmountRule:
    """The rule of that name. Raises KeyError for an unknown name."""
    row = table("amounts")["rules"][name]
    return AmountRule(
        name, float(row["value"]), row["unit"], row["says"], source("amounts", row["source"]), row["overrule"]
    )


def amount(name: str) -> float:
    """The rule's figure alone."""
    return amount_rule(name).value


def assumed_amount(name: str, used_for: str) -> Assumed:
    """The rule as a line of the list of assumed values; shares are printed in per cent."""
    rule = amount_rule(name)
    value, unit = plain(rule.value), rule.unit
    if unit.startswith("of the ") and rule.value < 1:
        value, unit = plain(rule.value * 100, 1), f"% {unit}"
    return Assumed(rule.says, value, unit, rule.source, rule.overrule, used_for)


@dataclass(frozen=True, slots=True)
class Weighed:
    """Density of a layer, kg/m³, the word it was found by, and its source."""

    kg_m3: float
    word: str
    source: Source


def layer_density(name: str) -> Weighed:
    """Density of a layer or a board by a word in its name; an unknown one counts as heavy as screed.

    Source: EN 1991-1-1 annex A in kN/m³ divided by standard gravity, else common practice.

    >>> round(layer_density("OSB board").kg_m3), layer_density("porcelain tile").word
    (714, 'tile')
    """
    rows: dict[str, dict[str, Any]] = table("amounts")["layers"]
    said = name.casefold()
    word = next((w for w in rows if w.casefold() in said), "other")
    row = rows[word]
    kg_m3 = float(row["kg_m3"]) if "kg_m3" in row else float(row["kn_m3"]) / KILONEWTON_PER_KG
    return Weighed(kg_m3, word, source("amounts", row["source"]))
