"""Values that the heights rest on and the file did not give."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import plain
from packgen.core.worked import PRACTICE, Assumed
from packgen.heights.kit_range import priced
from packgen.heights.rules import construction_of, rule_set, screed_of
from packgen.heights.straightedge import Reach
from packgen.project.model import Project
from packgen.trade.grid_rules import Name, grid_rule

TABLES = {"din": "DIN 18560", "bs": "BS 8204"}


def assumed_heights(project: Project, reach: Reach) -> Iterator[Assumed]:
    """Rules of setting a grid, and how the published depth rule was chosen."""
    yield _rule("masters_every", "setting order", value=float(reach.every))
    yield Assumed(
        "straightedge for setting between masters", plain(reach.length_mm), "mm", PRACTICE, "", "setting order"
    )
    kit = project.kit
    if kit.extensions or kit.several:
        yield _rule("in_hand", "parts of legs", "kit: extension")
    if kit.several and not priced(kit) and any(part.price is not None for part in kit.parts):
        yield Assumed(
            "choice among kinds of legs",
            "fewest parts",
            "",
            PRACTICE,
            "kit: leg: price, on every kind",
            "parts of legs",
        )
    if project.kit.packing is not None:
        yield _rule("packing_least", "parts of legs")
        if project.kit.packing.most is None:
            yield _rule("packing_most", "parts of legs", "kit: packing: most")
    fill = project.fills.used
    if screed_of(fill) is None:
        return
    kind = construction_of(project, fill)
    if "the fill's own line" not in kind.why:
        yield Assumed("construction of the screed", kind.why, "", PRACTICE, "fills: why least", "least depth")
    tables = TABLES[rule_set(project, fill)]
    if not project.limits.rules and tables.split()[0] not in fill.why_least:
        yield Assumed("published least depths by", tables, "", PRACTICE, "limits: rules", "least depth")
    if project.base.imposed_load is None:
        yield _rule("imposed_living", "least depth", "base: imposed load")
    if screed_of(fill) is not None and fill.cls is None:
        yield Assumed("flexural class of the screed", "F4", "", PRACTICE, "fills: class", "least depth")


def _rule(name: Name, used_for: str, overrule: str = "", value: float | None = None) -> Assumed:
    rule = grid_rule(name)
    return Assumed(rule.says, plain(rule.value if value is None else value), rule.unit, rule.source, overrule, used_for)
