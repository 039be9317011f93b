"""Section 15: what is required, after which document, and how each is proved."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Block, Rows, Section, Small, Text
from packgen.booklet.client.sources import Marks
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row
from packgen.booklet.sheets.moisture import binder
from packgen.booklet.tools import boarded
from packgen.core.figures import number, plain, whole
from packgen.core.worked import FILE, PRACTICE, Source
from packgen.plan import Plan
from packgen.trade.limits import air_limit, cm_limit
from packgen.trade.setting_out import setting_rule
from packgen.trade.site_readings import straightedge_count, surface_gap, test_point_count

# property, what is required, sources of that, how and where it is checked, record
Check = tuple[str, str, tuple[Source | str, ...], str, str]

FLATNESS = (
    "The surface limit is a gap under the straightedge, not a plus and minus. Levels read on the grid cannot prove "
    "flatness: a grid that fails has failed, a grid that passes proves nothing between its legs. Where the places of "
    "the straightedge lie and who holds it is agreed before the reading: ____________________"
)


def section(plan: Plan) -> Section:
    """One table and what it does not prove."""
    marks = Marks()
    rows = [
        Row(
            (what, required, ", ".join(marks.of(s) for s in sources), f"{first_upper(how)}. Record: {record}."), "light"
        )
        for what, required, sources, how, record in _rows(plan)
    ]
    columns = (
        Column("property", width_mm=38),
        Column("required", width_mm=50),
        Column("after", width_mm=18),
        Column("how and where it is checked, record"),
    )
    blocks: list[Block] = [Rows(Desk(columns, tuple(rows)))]
    if marks.line():
        blocks.append(Small(marks.line()))
    return Section("quality", "Quality and tolerances", (*blocks, Text(FLATNESS)))


def _rows(plan: Plan) -> Iterator[Check]:
    yield from _grid(plan)
    yield from _surface(plan)
    yield from _depth(plan)
    yield from _moisture(plan)


def _grid(plan: Plan) -> Iterator[Check]:
    limits, legs = plan.project.limits, len(plan.heights.legs)
    if plan.layout.diagonals:
        differ = plain(setting_rule("diagonals").value)
        yield (
            "Squareness of the grid",
            f"diagonals within {differ} mm",
            (PRACTICE,),
            "tape, two diagonals",
            "set-out",
        )
    yield (
        "Rail top against target",
        f"{plain(limits.rail_top, 1)} mm high or low",
        (FILE,),
        f"staff readings by a second person: every master, each second of {legs} legs",
        "as-built",
    )
    yield "One leg to the next", f"{plain(limits.next_node, 1)} mm", (FILE,), "from the same readings", "as-built"


def _surface(plan: Plan) -> Iterator[Check]:
    surface = plan.project.limits.surface
    gap = surface_gap(surface)
    places = sum(straightedge_count(r.area_m2) for r in plan.survey.rooms)
    yield (
        "Surface",
        f"{surface}: gap of {plain(gap.value)} mm at most under 2 m" if gap else f"class {surface}",
        (FILE, gap.source) if gap else (FILE,),
        f"straightedge of 2 m, {places} places, each stop line and the diagonals",
        "straightedge",
    )
    judged = [d for d in plan.heights.doors if d.judged]
    if judged:
        limit = plain(min(d.limit_mm for d in judged))
        worst = max(abs(whole(d.step_mm)) for d in judged)
        yield (
            "Step at doors inside",
            f"{limit} mm at most without a strip; planned {worst}",
            (FILE,),
            f"level and rule at {len(judged)} {'door' if len(judged) == 1 else 'doors'}",
            "handover",
        )
    falls = [z for z in plan.heights.zones if z.fall_per_m]
    for z in falls[:2]:
        yield f"Fall, {z.name}", z.falls_in_words, (FILE,), "level along the fall; water runs off", "as-built"


def _depth(plan: Plan) -> Iterator[Check]:
    depth, rule, heating = plan.heights.depth, plan.heights.rule, plan.project.heating
    yield (
        "Depth of the fill",
        f"{plain(rule.least_mm)} to {plain(rule.most_mm)} mm; planned {whole(depth.least_mm)} to "
        f"{whole(depth.most_mm)}",
        (rule.source,),
        "leg settings and readings of the base, before filling",
        "leg table",
    )
    covers = [c for c in plan.heights.covers if c.needed_mm is not None]
    if covers:
        least = min(covers, key=lambda c: c.cover_mm - (c.needed_mm or 0.0))
        yield (
            "Cover over pipes",
            f"{plain(least.needed_mm or 0.0)} mm or more; planned least {whole(least.cover_mm)}",
            (FILE,),
            f"rule from rail top to pipe, over {least.service} at the place of drawing 2 and where it looks least",
            "as-built",
        )
    circuits = [s for s in plan.project.services if s.heating]
    if heating is not None and heating.test_pressure and circuits:
        p = heating.test_pressure
        yield (
            "Tightness of the heating",
            f"{plain(p.least)} to {plain(p.most)} bar, {heating.test_medium}",
            (FILE,),
            f"by the heating fitter, {len(circuits)} {'circuit' if len(circuits) == 1 else 'circuits'}, before filling",
            "pressure test",
        )
    if boarded(plan):
        yield "Boards", "no springing, heads below the surface", (PRACTICE,), "each board walked on", "day's log"


def _moisture(plan: Plan) -> Iterator[Check]:
    damp = plan.project.base.damp_reading
    air = air_limit()
    if damp.state == "read" and damp.value is not None:
        cm = cm_limit(binder(plan), plan.project.heating is not None)
        limit = air if damp.unit == "% RH" else cm
        yield (
            "Moisture of the base",
            f"{plain(limit.value)} {limit.unit} at most; read {plain(damp.value)}",
            (limit.source,),
            damp.method or "method not stated",
            "damp reading",
        )
    if "test_not_before" in plan.sequence.dates:
        cm = cm_limit(binder(plan), plan.project.heating is not None)
        points = sum(test_point_count(r.area_m2) for r in plan.survey.rooms)
        yield (
            "Moisture of the fill",
            f"{plain(cm.value)} {cm.unit} or {plain(air.value)} {air.unit} at most",
            (cm.source, air.source),
            f"crushed sample or sealed box at {points} {'point' if points == 1 else 'points'}, drawing 1",
            "moisture test",
        )
    cold = plan.project.fills.used.lowest_temperature
    if cold is not None:
        nights = [t for p in plan.sequence.pours for _, t in p.nights if t is not None]
        told = f"; coldest night in the forecast {plain(min(nights))}" if nights else "; no forecast in the file"
        yield (
            "Temperature while hardening",
            f"{plain(cold)} °C or more{told}",
            (FILE,),
            "thermometer at the floor, morning and night",
            "day's log",
        )
    rows = number(len(plan.survey.levels.points))
    book = plan.survey.levels
    closed = "not closed" if book.misclosure_mm is None else f"closed within {plain(abs(book.misclosure_mm), 1)}"
    yield (
        "Levels of the base",
        f"to close within {plain(book.allowed_mm)} mm; {closed}",
        (FILE,),
        f"{rows} places read, run closed on the datum",
        "level book",
    )
