"""The least depth asked of a fill: the file's own, and the published rule for such a construction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.figures import plain
from packgen.heights.model import DepthRule
from packgen.layout.model import PipeRun
from packgen.project.model import Project
from packgen.project.work_model import Fill, Zone
from packgen.trade.grid_rules import value
from packgen.trade.thickness import Construction, RuleSet, ScreedClass, least_thickness, screed_class

STONE = ("tile", "stone", "ceramic", "porcelain", "slab", "terrazzo", "marble", "granite", "slate")


@dataclass(frozen=True, slots=True)
class Kind:
    """Construction of the fill and why it is taken for that, in words."""

    construction: Construction
    why: str


def rule_set(project: Project, fill: Fill) -> RuleSet:
    """Which rule set judges: the one that the fill's `why least` or the wanted surface names, else DIN."""
    if "BS " in fill.why_least:
        return "bs"
    if "DIN" in fill.why_least:
        return "din"
    return "bs" if project.limits.surface.strip().upper().startswith("SR") else "din"


def screed_of(fill: Fill) -> ScreedClass | None:
    """The screed's class as declared, or by its kind; None for a fill that is no screed of the rules."""
    words = f"{fill.kind} {fill.cls or ''}".casefold()
    flowing = any(word in words for word in ("flow", "pump", "self-levelling"))
    if fill.cls is not None and (declared := screed_class(fill.cls, flowing)) is not None:
        return declared if fill.family in ("sand-cement", "calcium sulfate", "other") else None
    if fill.family == "sand-cement":
        return ScreedClass("CT", None)
    if fill.family == "calcium sulfate":
        return ScreedClass("CAF" if flowing else "CA", None)
    return None


def construction_of(project: Project, fill: Fill) -> Kind:
    """Bonded, unbonded or floating, from what the file says about fill, insulation and layers below."""
    said = fill.why_least.casefold()
    if "unbonded" in said:
        return Kind("unbonded", "unbonded, as the fill's own line says")
    if "floating" in said:
        return Kind("floating", "floating, as the fill's own line says")
    if "bonded" in said:
        return Kind("bonded", "bonded, as the fill's own line says")
    insulation = project.base.insulation.casefold()
    if insulation not in ("none", "no", "unknown", "") and "under the slab" not in insulation:
        return Kind("floating", f"floating on insulation ({project.base.insulation})")
    if project.base.separating_layer is not None:
        return Kind("unbonded", "unbonded, on the separating layer")
    if project.base.timber:
        return Kind("unbonded", "unbonded, on boards")
    if project.base.waterproofing is not None:
        return Kind("unbonded", "unbonded, on the waterproofing")
    return Kind("unbonded", "taken as unbonded: no bonding coat is named")


def depth_rule(project: Project, zone: Zone, fill: Fill, pipes: Sequence[PipeRun]) -> DepthRule:
    """The least depth of a zone's fill: the larger of the file and the published rule.

    pipes: the heating pipes in the zone
    """
    least, most = fill.thickness.least, fill.thickness.most
    screed = screed_of(fill)
    own = f"{plain(least)} by the file" + (f" ({fill.why_least})" if fill.why_least else "")
    if screed is None:
        return DepthRule(least, most, None, f"{own}; no published rule for {fill.kind}", "project file")
    kind = construction_of(project, fill)
    found = least_thickness(
        rule_set(project, fill),
        kind.construction,
        screed,
        load_kn_m2=project.base.imposed_load or value("imposed_living"),
        pipe_mm=max((p.outside_mm for p in pipes if p.heating), default=0.0),
        under_stone=under_stone(zone),
    )
    if found is None:
        return DepthRule(least, most, None, f"{own}; {kind.why}: no published figure for it", "project file")
    source = str(found.source) if found.least_mm > least else "project file"
    return DepthRule(
        max(least, found.least_mm), most, found.least_mm, f"{own}; {kind.why}, {found.says} ({found.source})", source
    )


def under_stone(zone: Zone) -> bool:
    """Whether the covering is stone or ceramic: the topmost layer says so."""
    return bool(zone.layers) and any(word in zone.layers[0].name.casefold() for word in STONE)
