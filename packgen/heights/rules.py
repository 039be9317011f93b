"""The least depth asked of a fill: the file's own, and the published rule for such a construction."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packgen.core.figures import plain
from packgen.core.worked import FILE
from packgen.heights.model import DepthRule, RuleLine
from packgen.layout.model import PipeRun
from packgen.project.model import Project
from packgen.project.work_model import Fill, Zone
from packgen.trade.grid_rules import value
from packgen.trade.thickness import (
    Construction,
    RuleSet,
    ScreedClass,
    advised_cover,
    least_thickness,
    most_in_one_layer,
    pipe_cover,
    screed_class,
)

STONE = ("tile", "stone", "ceramic", "porcelain", "slab", "terrazzo", "marble", "granite", "slate")


@dataclass(frozen=True, slots=True)
class Kind:
    """Construction of the fill and why it is taken for that, in words."""

    construction: Construction
    why: str


def rule_set(project: Project, fill: Fill) -> RuleSet:
    """Which rule set judges: the one that the file chooses (limits: rules); else the one that the fill's `why least`
    or the wanted surface names; else DIN."""
    if project.limits.rules:
        return project.limits.rules
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
        text = f"{own}; no published rule for {fill.kind}"
        return DepthRule(least, most, None, text, "project file", lines=_own_lines(project, fill, True))
    kind, rules = construction_of(project, fill), rule_set(project, fill)
    pipe_mm = max((p.outside_mm for p in pipes if p.heating), default=0.0)
    found = least_thickness(
        rules,
        kind.construction,
        screed,
        load_kn_m2=project.base.imposed_load or value("imposed_living"),
        point_load_kn=project.base.point_load,
        pipe_mm=pipe_mm,
        under_stone=under_stone(zone),
        compressible_mm=project.base.insulation_gives,
    )
    own_cover = project.heating is not None and project.heating.least_cover_over_pipe is not None
    more = tuple(_more_lines(rules, kind.construction, screed, pipe_mm > 0, own_cover))
    cover = next((x.source for x in more if x.rule == "cover over pipes"), None)
    if found is None:
        text = f"{own}; {kind.why}: no published figure for it"
        return DepthRule(
            least, most, None, text, "project file", None, cover, (*_own_lines(project, fill, True), *more)
        )
    above = found.least_mm > least
    published = RuleLine("least depth", f"{kind.why}, {found.says}", found.least_mm, found.source, above)
    return DepthRule(
        max(least, found.least_mm),
        most,
        found.least_mm,
        f"{own}; {kind.why}, {found.says} ({found.source})",
        str(found.source) if above else "project file",
        found.source,
        cover,
        (*_own_lines(project, fill, not above), published, *more),
    )


def _own_lines(project: Project, fill: Fill, governs: bool) -> tuple[RuleLine, ...]:
    """What the file itself says of the fill's depth, and of the cover over heating pipes."""
    why = fill.why_least or "by the file"
    out = [
        RuleLine("least depth", why, fill.thickness.least, FILE, governs),
        RuleLine("most depth", "by the file", fill.thickness.most, FILE, True),
    ]
    if project.heating is not None and project.heating.least_cover_over_pipe is not None:
        out.append(RuleLine("cover over pipes", "by the file", project.heating.least_cover_over_pipe, FILE, True))
    return tuple(out)


def _more_lines(
    rules: RuleSet, construction: Construction, screed: ScreedClass, heated: bool, own_cover: bool
) -> Iterator[RuleLine]:
    """What the rule set says besides: cover over heating pipes, and how much a bonded screed has in one layer."""
    if heated:
        judged, told = pipe_cover(rules, screed), advised_cover(rules, screed)
        if judged is not None:
            yield RuleLine("cover over pipes", "over heating pipes", judged[0], judged[1], not own_cover)
        elif told is not None:
            yield RuleLine("cover over pipes", "over heating pipes, advice", told[0], told[1], False)
    layer = most_in_one_layer(rules)
    if construction == "bonded" and layer is not None:
        yield RuleLine("in one layer", "bonded: not more than this laid in one go", layer[0], layer[1], False)


def under_stone(zone: Zone) -> bool:
    """Whether the covering is stone or ceramic: the topmost layer says so."""
    return bool(zone.layers) and any(word in zone.layers[0].name.casefold() for word in STONE)
