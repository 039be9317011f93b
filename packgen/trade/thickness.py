"""Least thickness of screeds by rule set, construction, class and load."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

from packgen.core.figures import plain
from packgen.core.worked import Source
from packgen.trade.tables import source, table

RuleSet = Literal["din", "bs"]
Construction = Literal["bonded", "unbonded", "floating"]
Letters = Literal["CT", "CA", "CAF"]


@dataclass(frozen=True, slots=True)
class ScreedClass:
    """Binder (CT cement, CA calcium sulfate, CAF the same, flowing) and flexural class; None: not declared."""

    letters: Letters
    flexural: int | None


@dataclass(frozen=True, slots=True)
class ThicknessRule:
    """A published least thickness: mm, how it comes about in words, where from."""

    least_mm: float
    says: str
    source: Source
    nominal_mm: float
    pipe_mm: float = 0.0


def screed_class(declared: str, flowing: bool = False) -> ScreedClass | None:
    """Reads a class as declared to EN 13813; None where it is not one of the binders that the rules know.

    >>> screed_class("CT-C20-F4"), screed_class("CA-C25-F5", flowing=True)
    (ScreedClass(letters='CT', flexural=4), ScreedClass(letters='CAF', flexural=5))
    """
    met = re.match(r"\s*(CAF|CA|CT)\b", declared.upper())
    if met is None:
        return None
    letters: Letters = "CT" if met[1] == "CT" else "CAF" if met[1] == "CAF" or flowing else "CA"
    flexural = re.search(r"\bF(\d+)\b", declared.upper())
    return ScreedClass(letters, int(flexural[1]) if flexural else None)


def least_thickness(
    rule_set: RuleSet,
    construction: Construction,
    screed: ScreedClass,
    *,
    load_kn_m2: float,
    point_load_kn: float | None = None,
    pipe_mm: float = 0.0,
    under_stone: bool = False,
    compressible_mm: float | None = None,
) -> ThicknessRule | None:
    """Least nominal thickness, mm; None where the rule set has no figure for such a screed.

    pipe_mm  outside diameter of heating pipes inside the screed; 0: none
    A class that is not declared counts as the lowest that the rules allow, F4.
    Source: rows S1 to S4 of the data file, named in the result.
    """
    if rule_set == "bs":
        return _bs(construction, screed, load_kn_m2)
    if construction == "bonded" or (screed.flexural or 4) < table("thickness")["din"]["layer"]["lowest_flexural"]:
        return None
    if construction == "floating":
        found = _din_floating(screed, load_kn_m2, point_load_kn, compressible_mm)
    else:
        found = _din_layer(screed, under_stone)
    return found if found is None or pipe_mm == 0 else _with_pipes(found, screed, pipe_mm)


def pipe_cover(rule_set: RuleSet, screed: ScreedClass) -> tuple[float, Source] | None:
    """Least cover over heating pipes, mm, and its source; None where the rule set gives none."""
    if rule_set != "din":
        return None
    return float(table("thickness")["din"]["heated"]["cover_flexural_4"]), source("thickness", "din_heated")


def advised_cover(rule_set: RuleSet, screed: ScreedClass) -> tuple[float, Source] | None:
    """Cover over heating pipes that is known from memory only: told and not judged by, mm, and its source."""
    if rule_set != "bs" or screed.letters == "CT":
        return None
    return float(table("thickness")["bs"]["heated"]["cover_calcium"]), source("thickness", "bs_calcium")


def most_in_one_layer(rule_set: RuleSet) -> tuple[float, Source] | None:
    """Most thickness of a bonded screed laid in one go, mm; None where the rule set gives none."""
    if rule_set != "din":
        return None
    return float(table("thickness")["din"]["bonded"]["most_in_one_layer"]), source("thickness", "din_bonded")


def _named(screed: ScreedClass) -> str:
    return f"{screed.letters}-F{screed.flexural}" if screed.flexural else f"{screed.letters} (class taken as F4)"


def _din_floating(
    screed: ScreedClass, load: float, point_load: float | None, compressible: float | None
) -> ThicknessRule | None:
    rows: dict[str, Any] = table("thickness")["din"]["floating"]
    column = _column(rows["loads"], load)
    if point_load is not None:
        by_point = _column(rows["point_loads"], point_load)
        column = None if column is None or by_point is None else max(column, by_point)
    if column is None:
        return None
    known = [f for f in (4, 5, 7) if f <= (screed.flexural or 4) and f"{screed.letters}{f}" in rows["rows"]]
    nominal = float(rows["rows"][f"{screed.letters}{max(known)}"][column])
    extra = ""
    if compressible is not None and compressible > rows["compressible"][column]:
        if column > 0 or compressible > rows["soft_compressible"]:
            return None
        nominal += rows["soft_adds"]
        extra = f", {plain(rows['soft_adds'])} more over insulation that gives by over {plain(rows['compressible'][0])}"
    says = f"{_named(screed)} on insulation, up to {plain(rows['loads'][column])} kN/m²{extra}: {plain(nominal)}"
    return ThicknessRule(nominal, says, source("thickness", "din"), nominal)


def _column(limits: Iterable[float], value: float) -> int | None:
    return next((i for i, limit in enumerate(limits) if value <= limit), None)


def _din_layer(screed: ScreedClass, under_stone: bool) -> ThicknessRule:
    rows: dict[str, Any] = table("thickness")["din"]["layer"]
    if under_stone:
        nominal = float(rows["under_stone"][screed.letters])
    elif (screed.flexural or 4) > rows["strong_above"][screed.letters]:
        nominal = float(rows["strong_least"])
    else:
        nominal = float(rows["least"][screed.letters])
    under = " under stone or ceramic" if under_stone else ""
    says = f"{_named(screed)} on a separating layer{under}: {plain(nominal)}"
    return ThicknessRule(nominal, says, source("thickness", "din_layer"), nominal)


def _with_pipes(found: ThicknessRule, screed: ScreedClass, pipe_mm: float) -> ThicknessRule:
    """Pipes inside the screed: nominal thickness and pipe, and never less than the cover asked for and pipe."""
    heated = table("thickness")["din"]["heated"]
    cover = float(heated["cover_flexural_4" if (screed.flexural or 4) <= 4 else "cover_higher_class"])
    nominal = max(found.nominal_mm, cover)
    least = nominal + pipe_mm
    says = f"{found.says}; heated, pipes inside: {plain(nominal)} + {plain(pipe_mm)} = {plain(least)}"
    return ThicknessRule(least, says, source("thickness", "din_heated"), nominal, pipe_mm)


def _bs(construction: Construction, screed: ScreedClass, load: float) -> ThicknessRule:
    light = load <= table("thickness")["bs"]["light_load_up_to"]
    row = {"floating": "floating_light" if light else "floating_heavy"}.get(construction, construction)
    binder = "cement" if screed.letters == "CT" else "calcium"
    least = float(table("thickness")["bs"][binder][row])
    words = {"bonded": "bonded", "unbonded": "unbonded", "floating_light": "floating, lightly loaded"}
    says = f"{screed.letters} {words.get(row, 'floating, more heavily loaded')}: {plain(least)}"
    return ThicknessRule(least, says, source("thickness", "bs" if binder == "cement" else "bs_calcium"), least)
