"""Tables for a spreadsheet, as CSV (RFC 4180, UTF-8): a file a table, the first row names the columns with units.

Levels are in words as on paper. A text of the project file that a spreadsheet would take for a formula gets a '
before it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from packgen.core.figures import clock, half_up, level, plain
from packgen.plan import Plan

Cell = str | int | float | None


def csv_tables(plan: Plan) -> dict[str, str]:
    """All tables by their file name. A table without rows is left out."""
    made = {
        "legs.csv": _legs(plan),
        "rails.csv": _rails(plan),
        "cut-list.csv": _cut_list(plan),
        "bays.csv": _bays(plan),
        "order.csv": _order(plan),
        "pours.csv": _pours(plan),
        "waiting.csv": _waiting(plan),
        "findings.csv": _findings(plan),
    }
    return {name: _text(head, rows) for name, (head, rows) in made.items() if rows}


Made = tuple[Sequence[str], list[Sequence[Cell]]]


def _legs(plan: Plan) -> Made:
    datum = plan.project.datum.name
    spots = {n.id: n.at for n in plan.layout.nodes}
    head = [
        "order",
        "node",
        "zone",
        "x_mm",
        "y_mm",
        "base",
        "base_known",
        "rail_top",
        "leg_mm",
        "parts",
        "extensions",
        "packing_mm",
        "fits",
        "short_by_mm",
        "leg_kind",
        "extension_kind",
        "turns",
        "set_with",
        "target_mm",
        "depth_mm",
    ]
    rows: list[Sequence[Cell]] = [
        (
            s.order,
            s.node,
            s.zone,
            half_up(spots[s.node][0], 1),
            half_up(spots[s.node][1], 1),
            level(s.base_mm, datum),
            s.known,
            level(s.rail_top_mm, datum),
            s.leg_mm,
            s.parts,
            s.extensions,
            s.packing_mm,
            "yes" if s.fits else "no",
            s.short_by_mm,
            s.leg_kind,
            s.extension_kind,
            s.turns,
            "laser" if s.master else "straightedge",
            s.target_mm,
            half_up(s.depth_mm, 1),
        )
        for s in sorted(plan.heights.legs, key=lambda s: s.order)
    ]
    return head, rows


def _rails(plan: Plan) -> Made:
    pieces = {p.id: p for p in plan.layout.pieces}
    head = ["rail", "line", "piece", "length_mm", "cut", "factory_ends", "nodes"]
    rows: list[Sequence[Cell]] = [
        (r.id, r.line, p.id, p.length_mm, "cut" if p.cut else "whole", p.factory_ends, " ".join(r.nodes))
        for r in plan.layout.rails
        for p in (pieces[name] for name in r.pieces)
    ]
    return head, rows


def _cut_list(plan: Plan) -> Made:
    head = ["bar", "stock_mm", "piece", "length_mm", "saw_cuts", "saw_cut_mm", "offcut_mm"]
    rows: list[Sequence[Cell]] = [
        (b.number, b.stock_mm, name, mm, b.saw_cuts, b.saw_cut_mm, b.offcut_mm)
        for b in plan.layout.cut_list.bars
        for name, mm in zip(b.pieces, b.lengths_mm, strict=True)
    ]
    return head, rows


def _bays(plan: Plan) -> Made:
    turns = {t.bay: (p.number, t.order) for p in plan.sequence.pours for t in p.turns}
    shapes = {b.name: b for b in plan.layout.bays}
    head = ["bay", "room", "area_m2", "mean_depth_mm", "volume_l", "pour", "order"]
    rows: list[Sequence[Cell]] = [
        (b.bay, shapes[b.bay].room, half_up(b.area_m2, 3), half_up(b.mean_depth_mm, 1), half_up(b.volume_l, 1), *turn)
        for b in plan.quantities.bays
        for turn in (turns.get(b.bay, (None, None)),)
    ]
    return head, rows


def _order(plan: Plan) -> Made:
    head = ["group", "item", "quantity", "unit", "spare", "mass_kg", "used_for"]
    rows: list[Sequence[Cell]] = [
        (o.group, o.item, half_up(o.quantity, o.digits), o.unit, o.spare, o.mass_kg, o.used_for)
        for o in plan.purchase.order
    ]
    return head, rows


def _pours(plan: Plan) -> Made:
    head = [
        "day",
        "date",
        "order",
        "bay",
        "area_m2",
        "mean_depth_mm",
        "volume_l",
        "cumulative_l",
        "ends_at",
        "close_edge_first",
    ]
    rows: list[Sequence[Cell]] = [
        (
            p.number,
            p.date.isoformat(),
            t.order,
            t.bay,
            half_up(t.area_m2, 3),
            half_up(t.mean_depth_mm, 1),
            half_up(t.volume_l, 1),
            half_up(t.cumulative_l, 1),
            clock(t.ends_at),
            "yes" if t.close_edge else "no",
        )
        for p in plan.sequence.pours
        for t in p.turns
    ]
    return head, rows


def _waiting(plan: Plan) -> Made:
    head = ["event", "rule", "counted_from", "days", "date", "source"]
    rows: list[Sequence[Cell]] = [
        (w.event, w.rule, w.counted_from.isoformat(), w.days, w.date.isoformat(), w.source)
        for w in plan.sequence.waiting
    ]
    return head, rows


def _findings(plan: Plan) -> Made:
    head = [
        "kind",
        "code",
        "gate",
        "place",
        "says",
        "number",
        "limit",
        "unit",
        "lift",
        "cure",
        "lifted_by",
        "line",
        "column",
    ]
    rows: list[Sequence[Cell]] = [
        (
            f.kind,
            f.code,
            f.gate or "",
            f.where,
            f.says,
            f.number,
            f.limit,
            f.unit,
            f.lift or "",
            "; ".join(f.cures),
            f"{f.lifted_by.by}, {f.lifted_by.date.isoformat()}, {f.lifted_by.paper}" if f.lifted_by else "",
            f.place.line if f.place else None,
            f.place.column if f.place else None,
        )
        for f in plan.findings
    ]
    return head, rows


def _text(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([_cell(c) for c in row] for row in rows)
    return out.getvalue()


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return plain(value)
    text = str(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(("=", "+", "-", "@", "\t", "\r")) else text
