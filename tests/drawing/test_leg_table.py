"""Every leg once in setting order, heights in words, targets that add up, STOP where it does not fit."""

from __future__ import annotations

import re
from collections.abc import Callable

from packgen.booklet.rows import BODY_BEHIND_MM, Table
from packgen.booklet.sheets import legs as legs_sheet
from packgen.plan import Plan


def tables(plan: Plan) -> list[Table]:
    found: list[Table] = []
    for sheet in legs_sheet.sheets(plan):
        here = sheet.view["tables"]
        assert isinstance(here, list)
        found += [*here, *sheet.view["columns"]]  # type: ignore[misc]
    return found


def plain(cell: str) -> str:
    return re.sub(r"<[^>]+>", "", str(cell)).strip()


def rows_of(plan: Plan) -> list[tuple[str, str, list[str]]]:
    """(number, node, cells of its half) of every leg in reading order: down the left half, then the right."""
    out = []
    for table in tables(plan):
        heads = [c.head for c in table.columns]
        starts = [i for i, head in enumerate(heads) if head == "no."]
        width = starts[1] - 1 if len(starts) > 1 else 2 * len(heads)
        group: list[list[str]] = []

        def close(group: list[list[str]], starts: list[int] = starts, width: int = width) -> None:
            for s in starts:
                for cells in group:
                    half = cells[s : s + width]
                    if half[0].strip():
                        out.append((half[0], half[1].removesuffix(" M"), half))

        for row in table.rows:
            if row.title:
                close(group)
                group = []
            else:
                parts = [str(c).split("<br>") for c in row.cells]  # what makes a leg stands under its length
                group.append([plain(first) for first, *_ in parts] + [plain(p) for _, *more in parts for p in more])
        close(group)
    return out


def test_every_leg_once_and_in_setting_order(any_plan: Plan) -> None:
    rows = rows_of(any_plan)
    assert [int(number) for number, _, _ in rows] == list(range(1, len(any_plan.heights.legs) + 1))
    nodes = [node for _, node, _ in rows]
    in_order = [leg.node for leg in sorted(any_plan.heights.legs, key=lambda leg: leg.order)]
    assert nodes == in_order


def test_leg_is_rail_top_less_base_as_printed(any_plan: Plan) -> None:
    for leg in any_plan.heights.legs:
        assert leg.leg_mm == leg.rail_top_mm - leg.base_mm
    by_node = {node: cells for _, node, cells in rows_of(any_plan)}
    for leg in any_plan.heights.legs:
        assert str(leg.leg_mm) in by_node[leg.node], leg.node


def test_no_height_has_a_sign(any_plan: Plan) -> None:
    for _, _, cells in rows_of(any_plan):
        assert not any(re.search(r"(^|\s)[-−]\d", cell) for cell in cells), cells


def test_a_leg_that_does_not_fit_says_stop(any_plan: Plan) -> None:
    misfits = {leg.node for leg in any_plan.heights.legs if not leg.fits}
    said = {node for _, node, cells in rows_of(any_plan) if any(c.startswith("STOP") for c in cells)}
    assert said == misfits


def test_the_attic_has_such_a_leg(plan_named: Callable[[str], Plan]) -> None:
    assert [leg.node for leg in plan_named("01").heights.legs if not leg.fits] == ["C4"]


def test_one_target_on_a_level_floor(plan_named: Callable[[str], Plan]) -> None:
    first = legs_sheet.sheets(plan_named("02"))[0]
    head = first.view["head"]
    assert isinstance(head, dict)
    assert [s["term"] for s in head["sums"]] == ["+ 18"]
    assert head["says"] == "Rail top everywhere 18 below TBM."


def test_two_zones_have_two_targets_from_todays_backsight(plan_named: Callable[[str], Plan]) -> None:
    plan = plan_named("two-zones")
    head = legs_sheet.sheets(plan)[0].view["head"]
    assert isinstance(head, dict)
    # finishes 16 and 18 under finished levels 0 and 4 below: rail tops 16 and 22 below; 1405 + 16 and 1405 + 22
    assert [(s["term"], s["target"]) for s in head["sums"]] == [("+ 16", "1421"), ("+ 22", "1427")]
    targets = {leg.node: 1405 - leg.rail_top_mm for leg in plan.heights.legs}
    masters = [r for r in rows_of(plan) if r[2][1].endswith(" M")]
    assert masters
    assert all(str(targets[node]) in cells for _, node, cells in masters)


def test_parts_fit_their_pages_and_no_line_is_torn(any_plan: Plan) -> None:
    for sheet in legs_sheet.sheets(any_plan):
        here = sheet.view["tables"]
        assert isinstance(here, list)
        assert sum(t.height_mm for t in here) <= BODY_BEHIND_MM
        for table in here:
            assert not table.rows[-1].title
            if any(r.title for r in table.rows):
                assert table.rows[0].title
