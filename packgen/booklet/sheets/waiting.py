"""Waiting calendar: what may be done when, and the notice for the door."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Literal

from markupsafe import Markup

from packgen.booklet.charts import drying_chart
from packgen.booklet.days import room_for_notice
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import BODY_BEHIND_MM, SHEET_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import day, number
from packgen.plan import Plan
from packgen.sequence.model import Pour, Waiting

NOTICE_MM = 118.0
FIGURES_MM = 24.0
HALF_MM = 86.0
CHART_LEAST_MM, CHART_MOST_MM, CHART_WORDS_MM = 40.0, 75.0, 15.0
ONE_DAY = datetime.timedelta(days=1)
AT_ONCE = (
    "Nothing has to harden or dry: a bay is walked on as soon as its boards are screwed down, and covered when all of "
    "them are. Loose fill is never walked on: lay a board."
)
LONGEST = ("walk_on", "heat_up_not_before", "test_not_before")
NOTICE_KEYS = ("walk_on", "load", "covered_until", "heat_up_not_before", "test_not_before")
RULE_FOR = {
    "walk_on": "walking on it",
    "load": "loads and tools",
    "covered_until": "taking the cover off",
    "heat_up_not_before": "first heating",
    "test_not_before": "moisture test",
    "next_pour": "the next pour",
}


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The calendar in one part or more, and the door notice; nothing where nothing is filled."""
    if not plan.sequence.pours:
        return ()
    rules = _rules(plan)
    pages: list[dict[str, object]] = []
    left = BODY_BEHIND_MM - FIGURES_MM
    rows = _dated(plan)
    while rows:
        here, used, rows = _side_by_side(rows, left)
        pages.append({"days": here})
        left -= used
        if rows:
            left = BODY_BEHIND_MM
    if rules.rows:
        if left < rules.height_mm:
            pages.append({})
            left = BODY_BEHIND_MM
        pages[-1]["rules"] = rules
        left -= rules.height_mm
    says = _chart_says(plan)
    if says and left > CHART_LEAST_MM + CHART_WORDS_MM:
        pages[-1]["chart"] = _chart(plan, min(CHART_MOST_MM, left - CHART_WORDS_MM))
    blank = {"at_once": "", "figures": (), "days": (), "rules": None, "chart": None, "chart_says": says, "notice": None}
    pages[0]["figures"] = _figures(plan)
    if not plan.sequence.waiting:
        pages[0]["at_once"] = AT_ONCE
    ways_in = sum(len(r.doors) for r in plan.survey.rooms)
    if left > NOTICE_MM and (ways_in < 2 or not plan.sequence.waiting):
        pages[-1] |= {"notice": door_notice(plan, (1,)), "chart": None}
        return tuple(_sheet(n, len(pages), {**blank, **page}) for n, page in enumerate(pages, 1))
    if room_for_notice(plan):
        return tuple(_sheet(n, len(pages), {**blank, **page}) for n, page in enumerate(pages, 1))
    made = [_sheet(n, len(pages), {**blank, **page}) for n, page in enumerate(pages, 1)]
    made.append(
        Sheet(
            slug="waiting-notice",
            title="Notice for the door",
            purpose="Cut in two and hang one at each way in.",
            template="waiting.html",
            view={**blank, "notice": door_notice(plan, (1, 2))},
            behind="fill",
        )
    )
    return tuple(made)


def _sheet(part: int, parts: int, view: dict[str, object]) -> Sheet:
    return Sheet(
        slug="waiting" if part == 1 else f"waiting-{part}",
        title="Waiting calendar",
        purpose="So that nobody goes on too early. The day of a pour is day 0; holidays do not shorten hardening.",
        template="waiting.html",
        view=view,
        behind="fill",
        part=part,
        parts=parts,
    )


def _latest(plan: Plan, key: str) -> Waiting | None:
    rows = [w for w in plan.sequence.waiting if w.key == key]
    return max(rows, key=lambda w: w.date) if rows else None


def _figures(plan: Plan) -> tuple[tuple[str, str, str, str], ...]:
    asked = (
        ("walk_on", "Walk on all of it from"),
        ("heat_up_not_before", "Heating not before"),
        ("test_not_before", "Moisture test not before"),
    )
    found = [(says, w) for key, says in asked if (w := _latest(plan, key))]
    if len(found) < 3 and (load := _latest(plan, "load")):
        found.insert(1, ("Loads and tools from", load))
    return tuple((says, day(w.date), "", f"day {w.days} after {day(w.counted_from)}") for says, w in found[:3])


def _dated(plan: Plan) -> list[Row]:
    """Every day of the calendar with what happens or may be done, a heavier rule where the month changes."""
    dates: dict[datetime.date, list[tuple[str, bool]]] = {}
    last = plan.sequence.dates
    for p in plan.sequence.pours:
        dates.setdefault(p.date, []).append((f"Pour {p.number}", False))
    whole = {(w.key, w.date) for w in plan.sequence.waiting if w.pour == 0}
    for w in plan.sequence.waiting:
        if w.pour == 0 or (w.key, w.date) not in whole:
            dates.setdefault(w.date, []).append((first_upper(w.event), last[w.key] == w.date and w.key in LONGEST))
    rows: list[Row] = []
    month = None
    for when in sorted(dates):
        for i, (what, longest) in enumerate(dict.fromkeys(dates[when])):
            rule: Literal["", "light", "heavy"] = "" if i else "light" if (when.year, when.month) == month else "heavy"
            rows.append(Row((day(when) if i == 0 else "", what), rule, strong=longest, keep=i > 0))
        month = (when.year, when.month)
    return rows


def _days_table(rows: Sequence[Row]) -> Table:
    return Table((Column("date", width_mm=33), Column("from this day on")), tuple(rows), width_mm=HALF_MM)


def _side_by_side(rows: list[Row], room_mm: float) -> tuple[tuple[Table, ...], float, list[Row]]:
    """As many rows as fit in two columns of equal height, the height they take, and the rows left over."""
    whole = _days_table(rows)
    tall = whole.height_mm / 2
    while len(tables := parted(whole, tall)) > 2 and tall < room_mm:
        tall += 2.0
    tables = tables if len(tables) <= 2 else parted(whole, room_mm)[:2]
    used = max(t.height_mm for t in tables)
    count = sum(len(t.rows) for t in tables)
    return tables, used, rows[count:]


def _rules(plan: Plan) -> Table:
    """Each kind of waiting once, by its last date: the rule, days, and who says so. One starting day is said above."""
    latest = [(says, w) for key, says in RULE_FOR.items() if (w := _latest(plan, key))]
    starts = {w.counted_from for _, w in latest}
    one = len(starts) == 1
    rows = []
    for says, w in latest:
        cells = [says, f"{first_upper(w.rule)}\nSource: {w.source}", str(w.days), day(w.date)]
        if not one:
            cells.insert(2, day(w.counted_from))
        rows.append(Row(tuple(cells), "light"))
    columns = [
        Column("rule for", width_mm=34),
        Column("how it is counted"),
        Column("days", "number", 12),
        Column("last date", width_mm=33),
    ]
    if not one:
        columns.insert(2, Column("from", width_mm=33))
    counted = f", counted from {day(min(starts))}" if one else ""
    return Table(tuple(columns), tuple(rows), f"Which rule decides{counted}")


# ------------------------------------------------------------------------------ drying


def _deciding_pour(plan: Plan) -> Pour | None:
    """The pour whose drying ends last."""
    test = _latest(plan, "test_not_before")
    if test is None:
        return None
    from_day = [p for p in plan.sequence.pours if p.date <= test.date]
    counted = [p for p in from_day if p.date == test.counted_from]
    return max(counted or from_day, key=lambda p: p.greatest_mm, default=None)


def _chart(plan: Plan, height_mm: float) -> Markup | None:
    test, pour = _latest(plan, "test_not_before"), _deciding_pour(plan)
    fills = plan.project.fills
    drying = dict(fills.described).get(pour.fill if pour else "", fills.used).drying
    if test is None or pour is None or drying is None:
        return None
    covered = [w for w in plan.sequence.waiting if w.key == "covered_until" and w.counted_from == pour.date]
    start = covered[0].date if covered else pour.date
    steps = [(pour.date, pour.greatest_mm), (start, pour.greatest_mm)]
    if pour.greatest_mm > drying.first_mm:
        days = round(drying.first_mm / drying.first_rate)
        steps.append((start + datetime.timedelta(days=days), pour.greatest_mm - drying.first_mm))
    steps.append((test.date, 0.0))
    return drying_chart(tuple(steps), SHEET_MM, height_mm, _chart_says(plan))


def _chart_says(plan: Plan) -> str:
    test, pour = _latest(plan, "test_not_before"), _deciding_pour(plan)
    if test is None or pour is None:
        return ""
    return (
        f"The thickest place of pour {pour.number}, {number(pour.greatest_mm)} mm, decides: "
        f"test not before {day(test.date)}. The test decides, not the date."
    )


# ------------------------------------------------------------------------------ door notice


def door_notice(plan: Plan, copies: tuple[int, ...]) -> dict[str, object]:
    """What hangs at a way in: who may go on the floor, and when. copies: one entry a printed copy."""
    says = {
        "walk_on": "Nobody walks on it before",
        "load": "No loads, ladders or trolleys before",
        "covered_until": "The cover stays on, windows stay shut until",
        "heat_up_not_before": "The heating stays off until",
        "test_not_before": "No covering before a passed moisture test, and no test before",
    }
    rows = [(says[key], day(w.date)) for key in NOTICE_KEYS if (w := _latest(plan, key))]
    first = rows[0] if rows else ("Open rails: nobody comes in before", day(plan.sequence.pours[-1].date + ONE_DAY))
    big = "Fresh floor. Keep out." if plan.sequence.waiting else "Open floor. Keep out."
    return {"big": big, "first": first, "rows": rows[1:], "copies": copies, "burns": plan.project.fills.used.cement}
