"""Waiting calendar: what may be done when, and the notice for the door."""

from __future__ import annotations

import datetime
from itertools import groupby

from markupsafe import Markup

from packgen.booklet.charts import drying_chart
from packgen.booklet.rows import BODY_BEHIND_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import day, level, number
from packgen.plan import Plan
from packgen.sequence.model import Pour, Waiting

FIGURES_MM = 26.0
CHART_MM = 62.0
NOTICE_KEYS = ("walk_on", "load", "covered_until", "heat_up_not_before", "test_not_before")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The calendar in one part or more, and the door notice; nothing where nothing has to wait."""
    if not plan.sequence.waiting:
        return ()
    tables = parted(_calendar(plan), BODY_BEHIND_MM - FIGURES_MM, BODY_BEHIND_MM)
    chart = _chart(plan)
    left = BODY_BEHIND_MM - tables[-1].height_mm - (FIGURES_MM if len(tables) == 1 else 0.0)
    fits = left > CHART_MM + 14
    parts = len(tables) + 1
    made = [
        _sheet(
            "waiting" if n == 1 else f"waiting-{n}",
            n,
            parts,
            {
                "figures": _figures(plan) if n == 1 else (),
                "table": table,
                "chart": chart if fits and n == len(tables) else None,
                "chart_says": _chart_says(plan),
                "notice": None,
            },
        )
        for n, table in enumerate(tables, 1)
    ]
    notice = {"figures": (), "table": None, "chart": None, "chart_says": "", "notice": _notice(plan)}
    made.append(_sheet("waiting-notice", parts, parts, notice))
    return tuple(made)


def _sheet(slug: str, part: int, parts: int, view: dict[str, object]) -> Sheet:
    return Sheet(
        slug=slug,
        title="Waiting calendar" if view["notice"] is None else "Notice for the door",
        purpose="So that nobody goes on too early. The day of a pour is day 0; holidays do not shorten hardening."
        if view["notice"] is None
        else "Cut in two and hang one at each way in.",
        template="waiting.html",
        view=view,
        behind="fill",
        part=part if view["notice"] is None else 1,
        parts=parts - 1 if view["notice"] is None else 1,
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


def _calendar(plan: Plan) -> Table:
    last = {w.key: w.date for w in sorted(plan.sequence.waiting, key=lambda w: w.date)}
    rows: list[tuple[datetime.date, int, tuple[str, ...], bool]] = []
    for p in plan.sequence.pours:
        rows.append((p.date, 0, (day(p.date), f"Pour {p.number}", "", "", "", ""), False))
    for w in plan.sequence.waiting:
        longest = last[w.key] == w.date and w.key in ("walk_on", "test_not_before", "heat_up_not_before")
        rows.append((w.date, 1, (day(w.date), w.event, day(w.counted_from), str(w.days), w.rule, w.source), longest))
    made: list[Row] = []
    for (year, month), group in groupby(sorted(rows, key=lambda r: r[:2]), key=lambda r: (r[0].year, r[0].month)):
        made.append(Row((f"{MONTHS[month - 1]} {year}",), "heavy", title=True))
        made += [Row(cells, "light", strong=bold) for _, _, cells, bold in group]
    return Table(
        (
            Column("date", width_mm=32),
            Column("from this day on", width_mm=44),
            Column("counted from", width_mm=32),
            Column("days", "number", 13),
            Column("rule", width_mm=30),
            Column("source"),
        ),
        tuple(made),
    )


# ------------------------------------------------------------------------------ drying


def _deciding_pour(plan: Plan) -> Pour | None:
    """The pour whose drying ends last."""
    test = _latest(plan, "test_not_before")
    if test is None:
        return None
    from_day = [p for p in plan.sequence.pours if p.date <= test.date]
    counted = [p for p in from_day if p.date == test.counted_from]
    return max(counted or from_day, key=lambda p: p.greatest_mm, default=None)


def _chart(plan: Plan) -> Markup | None:
    test, pour = _latest(plan, "test_not_before"), _deciding_pour(plan)
    drying = plan.project.fills.used.drying
    if test is None or pour is None or drying is None:
        return None
    covered = [w for w in plan.sequence.waiting if w.key == "covered_until" and w.counted_from == pour.date]
    start = covered[0].date if covered else pour.date
    steps = [(pour.date, pour.greatest_mm), (start, pour.greatest_mm)]
    if pour.greatest_mm > drying.first_mm:
        days = round(drying.first_mm / drying.first_rate)
        steps.append((start + datetime.timedelta(days=days), pour.greatest_mm - drying.first_mm))
    steps.append((test.date, 0.0))
    return drying_chart(tuple(steps), 178, CHART_MM, _chart_says(plan))


def _chart_says(plan: Plan) -> str:
    test, pour = _latest(plan, "test_not_before"), _deciding_pour(plan)
    if test is None or pour is None:
        return ""
    return (
        f"The thickest place of pour {pour.number}, {number(pour.greatest_mm)} mm, decides: "
        f"test not before {day(test.date)}. The test decides, not the date."
    )


# ------------------------------------------------------------------------------ door notice


def _notice(plan: Plan) -> dict[str, object]:
    says = {
        "walk_on": "Nobody walks on it before",
        "load": "No loads, ladders or trolleys before",
        "covered_until": "The cover stays on, windows stay shut until",
        "heat_up_not_before": "The heating stays off until",
        "test_not_before": "No covering before a passed moisture test, and no test before",
    }
    rows = [(says[key], day(w.date)) for key in NOTICE_KEYS if (w := _latest(plan, key))]
    first = rows[0] if rows else ("Ask before you walk on it", "")
    return {"first": first, "rows": rows[1:], "copies": (1, 2), "datum": level(0)}
