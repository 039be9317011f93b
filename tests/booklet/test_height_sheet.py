"""The sheet that shows where a floor can finish."""

from __future__ import annotations

from packgen.booklet.sheets.height import sheets
from packgen.core.figures import level
from packgen.plan import Plan


def test_both_ends_of_the_window_and_every_rule_stand_on_it(plan: Plan) -> None:
    found = sheets(plan)
    window = plan.heights.window
    said = " ".join(found[0].view["says"])  # type: ignore[call-overload]
    assert level(window.low_mm) in said
    assert level(window.high_mm) in said
    rules = found[0].view["rules"]
    cells = [row.cells for row in rules.rows]  # type: ignore[attr-defined]
    assert len(cells) == len(window.at_least) + len(window.at_most) + len(window.advised)
    assert [c[0] for c in cells].count("at least") == len(window.at_least)


def test_ways_out_stand_on_it_where_the_level_breaks_a_rule(plan: Plan) -> None:
    shown = [row.cells[0] for s in sheets(plan) if s.view["cures"] for row in s.view["cures"].rows]  # type: ignore[attr-defined]
    assert [w.casefold() for w in shown] == [c.says.casefold() for z in plan.heights.by_zone for c in z.cures]


def test_a_binding_rule_is_written_bold_and_the_plan_crosses_the_ladder(plan: Plan) -> None:
    drawing = str(sheets(plan)[0].view["drawing"])
    assert drawing.count("<svg") == 1
    assert 'font-weight="700"' in drawing
    assert "Ladder of finished levels" in drawing
