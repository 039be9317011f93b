"""Limits a plan is held against: damp, fields between joints, frost, test pressures and the rest of the review."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.worked import Source
from packgen.trade.tables import source, table

Binder = Literal["cement", "calcium sulfate"]
RuleSet = Literal["general", "zdb"]


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure with its unit and source."""

    value: float
    unit: str
    source: Source


@dataclass(frozen=True, slots=True)
class FieldRule:
    """The largest field of screed between joints: side in m, area in m², ratio of the sides (None: not asked)."""

    side_m: float
    area_m2: float
    ratio: float | None
    source: Source


def limit(name: str) -> Limit:
    """A single figure by its name in limits.toml; KeyError for a name that is not there.

    >>> limit("damp_reading_age").value
    28.0
    """
    row = table("limits")["limit"][name]
    return Limit(float(row["value"]), row["unit"], source("limits", row["source"]))


def cm_limit(binder: Binder, heated: bool) -> Limit:
    """Most residual moisture of a screed before it is covered, CM-%.

    >>> cm_limit("cement", True).value
    1.8
    """
    row = table("limits")["damp"][binder.replace(" ", "_")]
    return Limit(float(row["heated" if heated else "unheated"]), "CM-%", source("limits", row["source"]))


def air_limit() -> Limit:
    """Most relative humidity over a base or screed in a hygrometer box, % RH."""
    row = table("limits")["damp"]["air"]
    return Limit(float(row["unheated"]), "% RH", source("limits", row["source"]))


def damp_limit(unit: str, binder: Binder, heated: bool) -> Limit:
    """The limit in the unit of the reading: "% RH" or "CM-%"."""
    return air_limit() if unit == "% RH" else cm_limit(binder, heated)


def pressure_range(medium: str) -> tuple[float, float, Source]:
    """Least and most test pressure of heating pipes in bar, for water or air.

    >>> pressure_range("air")[:2]
    (2.0, 3.0)
    """
    row = table("limits")["pressure"]["air" if "air" in medium.lower() else "water"]
    return float(row["least"]), float(row["most"]), source("limits", row["source"])


def field_rule(binder: Binder, heated: bool, rules: RuleSet = "general") -> FieldRule:
    """The largest field between joints in the rule set named."""
    row = table("limits")["field"][rules][binder.replace(" ", "_")]["heated" if heated else "unheated"]
    ratio = row.get("ratio")
    return FieldRule(
        float(row["side"]), float(row["area"]), None if ratio is None else float(ratio), source("limits", row["source"])
    )


def board_span(thickness_mm: float) -> Limit:
    """How far a board of this thickness spans between rails when the fill below does not carry it, mm.

    Thinner boards than the thinnest in the table span nothing here: 0.
    """
    rows = table("limits")["board"]
    known = [r for r in rows if thickness_mm >= r["thickness"]]
    row = max(known, key=lambda r: r["span"]) if known else {"span": 0, "source": rows[0]["source"]}
    return Limit(float(row["span"]), "mm", source("limits", row["source"]))


def field_faults(width_m: float, length_m: float, area_m2: float, rule: FieldRule) -> tuple[str, ...]:
    """What a field of this size breaks: "area", "side", "ratio". Equal passes. All lengths in m."""
    long, short = max(width_m, length_m), min(width_m, length_m)
    out = []
    if area_m2 > rule.area_m2 + 1e-9:
        out.append("area")
    if long > rule.side_m + 1e-9:
        out.append("side")
    if rule.ratio is not None and long > rule.ratio * short + 1e-9:
        out.append("ratio")
    return tuple(out)
