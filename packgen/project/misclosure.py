"""How far a levelled run may fail to close: the file's own figure, or a rule by its name."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.worked import FILE, Source
from packgen.project.work_model import Levels, SetUp
from packgen.trade.survey import misclosure_rule


def allowed_misclosure(levels: Levels, run: Sequence[SetUp]) -> tuple[float, Source]:
    """What a run of set-ups is allowed, mm, and by which rule; a smaller figure in the file counts before a rule."""
    if not levels.misclosure_rule:
        return levels.largest_misclosure, FILE
    rule = misclosure_rule(levels.misclosure_rule)
    by_rule = rule.allowed_mm(len(run), way_km(levels, run))
    if "largest misclosure" in dict(levels.marks.keys) and levels.largest_misclosure < by_rule:
        return levels.largest_misclosure, FILE
    return by_rule, rule.source


def way_km(levels: Levels, run: Sequence[SetUp]) -> float:
    """The levelled way: as the file says, else backsights and foresights with their distances, km."""
    if levels.levelled_way is not None:
        return levels.levelled_way / 1e6
    ends = [e for s in run for e in (s.start_on, s.leave_on, s.close_on) if e is not None]
    return sum(e.distance or 0.0 for e in ends) / 1e6
