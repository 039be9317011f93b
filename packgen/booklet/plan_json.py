"""The plan as data: plan.json. Its shape is described by plan.schema.json beside this module.

Names are those of the records; mm, m², litres, kg. Levels are against the datum, up is plus (in this file only: paper
says above and below). A field that is not known is null. VERSION grows when a name changes or goes.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable
from dataclasses import asdict
from functools import cache
from importlib import resources
from typing import Any

from packgen.booklet.sign import sign_of
from packgen.core.figures import half_up
from packgen.core.finding import Finding
from packgen.core.plane import Polygon
from packgen.core.worked import Worked
from packgen.heights.model import Bound, Heights, LegSetting, Window
from packgen.plan import Plan
from packgen.sequence.model import Pour, Sequence

VERSION = 1
Data = dict[str, Any]


def plan_as_data(plan: Plan) -> Data:
    """The whole plan as plain lists, maps, texts, numbers and ISO dates."""
    info = plan.project.project
    data: Data = _plain(
        {
            "version": VERSION,
            "sign": sign_of(plan),
            "project": {
                "name": info.name,
                "reference": info.reference,
                "revision": info.revision,
                "date": info.date,
                "file": plan.project.file_name,
            },
            "datum": {"name": plan.project.datum.name, "where": plan.project.datum.where},
            "rooms": _rooms(plan),
            "levels": _levels(plan),
            "zones": _zones(plan.heights),
            "window": _window(plan.heights.window),
            "doors": [asdict(d) for d in plan.heights.doors],
            "lines": [asdict(line) for line in plan.layout.lines],
            "first_lines": _first_lines(plan),
            "nodes": _nodes(plan),
            "rails": _rails(plan),
            "bays": _bays(plan),
            "cut_list": _cut_list(plan),
            "depth": _depth(plan.heights),
            "covers": [asdict(c) for c in plan.heights.covers],
            "quantities": _quantities(plan),
            "weight": asdict(plan.quantities.weight),
            "comparison": [asdict(c) for c in plan.purchase.comparison],
            "pours": [_pour(p) for p in plan.sequence.pours],
            "waiting": [asdict(w) for w in plan.sequence.waiting],
            "dates": _dates(plan.sequence),
            "findings": [_finding(f) for f in plan.findings],
            "assumed": [{**asdict(a), "source": str(a.source), "known": a.source.known} for a in plan.assumed],
            "worked": [_worked(w) for w in plan.worked],
            "money": asdict(plan.purchase.money),
        }
    )
    return data


@cache
def plan_schema() -> Data:
    """The JSON Schema of plan.json."""
    text = resources.files("packgen.booklet").joinpath("plan.schema.json").read_text(encoding="utf-8")
    schema: Data = json.loads(text)
    return schema


def _plain(value: Any) -> Any:
    """Dates as ISO text, tuples as lists, figures to a thousandth, so that the same plan gives the same text."""
    if isinstance(value, dict):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(v) for v in value]
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, bool) or value is None or isinstance(value, int):
        return value
    if isinstance(value, float):
        rounded = half_up(value, 3)
        return int(rounded) if rounded.is_integer() else rounded
    return str(value)


def _ring(p: Polygon) -> Data:
    return {"shell": p.shell, "holes": p.holes}


def _rooms(plan: Plan) -> list[Data]:
    return [
        {
            "name": r.name,
            "polygon": r.ring,
            "floor": [_ring(p) for p in r.floor],
            "area_m2": r.area_m2,
            "gross_area_m2": r.gross_area_m2,
            "perimeter_mm": r.perimeter_mm,
            "closing_error_mm": r.closing_error_mm,
            "adjusted_by": r.by,
            "tapes": [
                {
                    "from": t.start,
                    "to": t.end,
                    "taped_mm": t.taped_mm,
                    "from_outline_mm": t.from_outline_mm,
                    "residual_mm": t.residual_mm,
                }
                for t in r.tapes
            ],
            "walls": [
                {"name": w.name, "from": w.line.a, "to": w.line.b, "taped_mm": w.taped_mm, "residual_mm": residual}
                for w, residual in zip(r.walls, r.wall_residuals_mm or [None] * len(r.walls), strict=True)
            ],
            "cut_outs": [{"name": c.name, "kind": c.kind, **_ring(c.shape), "top_mm": c.top_mm} for c in r.cut_outs],
        }
        for r in plan.survey.rooms
    ]


def _levels(plan: Plan) -> Data:
    book = plan.survey.levels
    return {
        "setups": [
            {
                "name": s.name,
                "date": s.date,
                "start_point": s.start_point,
                "start_level_mm": s.start_level_mm,
                "backsight_mm": s.backsight_mm,
                "collimation_mm": s.collimation_mm,
                "adjustment_mm": s.correction_mm,
                "adjusted_collimation_mm": s.adjusted_collimation_mm,
            }
            for s in book.setups
        ],
        "undersides": [
            {"name": u.name, "setup": u.setup, "reading_mm": u.reading_mm, "level_mm": u.level_mm}
            for u in book.undersides
        ],
        "read_next": [
            {"node": r.node, "x_mm": r.at[0], "y_mm": r.at[1], "spread_mm": r.spread.mm, "helps": r.helps}
            for r in plan.heights.read_next
        ],
        "misclosure_mm": book.misclosure_mm,
        "allowed_mm": book.allowed_mm,
        "points": [
            {
                "id": p.id,
                "x_mm": p.x_mm,
                "y_mm": p.y_mm,
                "level_mm": p.level_mm,
                "seen": [{"setup": s, "reading_mm": reading, "level_mm": level} for s, reading, level in p.seen],
            }
            for p in book.points
        ],
    }


def _zones(heights: Heights) -> list[Data]:
    return [
        {
            "name": z.name,
            "region": [_ring(p) for p in z.region],
            "layers": [{"name": name, "mm": mm} for name, mm in z.build_up.layers],
            "finish_mm": z.build_up.finish_mm,
            "finished_mm": z.finished_mm,
            "rail_top_mm": z.rail_top_mm,
            "fall_per_m": z.fall_per_m,
            "asked_mm": z.asked_mm,
        }
        for z in heights.zones
    ]


def _window(window: Window) -> Data:
    def bounds(rules: Iterable[Bound]) -> list[Data]:
        return [asdict(b) for b in rules]

    return {
        "at_least": bounds(window.at_least),
        "at_most": bounds(window.at_most),
        "asked_mm": window.asked_mm,
        "offered_mm": window.offered_mm,
    }


def _nodes(plan: Plan) -> list[Data]:
    legs = {leg.node: leg for leg in plan.heights.legs}
    return [
        {
            "id": n.id,
            "x_mm": n.x_mm,
            "y_mm": n.y_mm,
            "lines": n.lines,
            "why": n.why,
            "room": n.room,
            **(_leg(legs[n.id]) if n.id in legs else {}),
        }
        for n in plan.layout.nodes
    ]


def _leg(leg: LegSetting) -> Data:
    return {
        "zone": leg.zone,
        "base_mm": leg.base_mm,
        "base_from": leg.known,
        "base_spread_mm": leg.base_spread_mm,
        "rail_top_mm": leg.rail_top_mm,
        "leg_mm": leg.leg_mm,
        "parts": leg.parts,
        "extensions": leg.extensions,
        "packing_mm": leg.packing_mm,
        "fits": leg.fits,
        "short_by_mm": leg.short_by_mm,
        "leg_kind": leg.leg_kind,
        "extension_kind": leg.extension_kind,
        "adds_mm": leg.adds_mm,
        "turns": leg.turns,
        "target_mm": leg.target_mm,
        "master": leg.master,
        "order": leg.order,
        "depth_mm": leg.depth_mm,
    }


def _rails(plan: Plan) -> list[Data]:
    pieces = {p.id: p for p in plan.layout.pieces}
    return [
        {
            "id": r.id,
            "line": r.line,
            "from": r.start,
            "to": r.end,
            "length_mm": r.length_mm,
            "nodes": r.nodes,
            "pieces": [
                {"id": p.id, "length_mm": p.length_mm, "cut": p.cut, "factory_ends": p.factory_ends}
                for p in (pieces[name] for name in r.pieces)
            ],
        }
        for r in plan.layout.rails
    ]


def _first_lines(plan: Plan) -> list[Data]:
    return [
        {
            "room": c.room,
            "by": c.by,
            "along_wall_1_mm": c.chosen[0],
            "from_wall_1_mm": c.chosen[1],
            "plainest_along_wall_1_mm": c.plain[0],
            "plainest_from_wall_1_mm": c.plain[1],
            "prefer": c.order,
            "decided": c.decided,
        }
        for c in plan.layout.first_lines
    ]


def _bays(plan: Plan) -> list[Data]:
    fills = {b.bay: b for b in plan.quantities.bays}
    turns = {t.bay: (p.number, t.order) for p in plan.sequence.pours for t in p.turns}
    order = {name: i for i, name in enumerate(plan.sequence.order, 1)}
    rows = []
    for b in plan.layout.bays:
        fill = fills.get(b.name)
        pour, turn = turns.get(b.name, (None, order.get(b.name)))
        rows.append(
            {
                "id": b.name,
                "room": b.room,
                "polygon": b.shape.shell,
                "holes": b.shape.holes,
                "area_m2": b.area_m2,
                "mean_depth_mm": fill.mean_depth_mm if fill else None,
                "volume_l": fill.volume_l if fill else None,
                "pour": pour,
                "order": turn,
            }
        )
    return rows


def _cut_list(plan: Plan) -> Data:
    cuts = plan.layout.cut_list
    return {
        "stock_mm": cuts.stock_mm,
        "whole": cuts.whole,
        "stock_lengths": cuts.stock_lengths,
        "fewest_possible_cut": cuts.bound,
        "proven": cuts.proven,
        "stocks": [{"stock_mm": s.stock_mm, "whole": s.whole, "cut": s.cut} for s in cuts.stocks],
        "bought_mm": cuts.bought_mm,
        "least_for_cut_mm": cuts.bound_mm,
        "offcuts_kept_mm": list(cuts.offcuts_kept_mm),
        "bars": [
            {
                "number": b.number,
                "stock_mm": b.stock_mm,
                "pieces": [{"id": name, "length_mm": mm} for name, mm in zip(b.pieces, b.lengths_mm, strict=True)],
                "saw_cuts": b.saw_cuts,
                "saw_cut_mm": b.saw_cut_mm,
                "offcut_mm": b.offcut_mm,
                "at_hand": b.at_hand,
            }
            for b in cuts.bars
        ],
    }


def _depth(heights: Heights) -> Data:
    d = heights.depth
    return {
        "mean": d.mean_mm,
        "smallest": d.least_mm,
        "smallest_at": d.least_at,
        "greatest": d.most_mm,
        "greatest_at": d.most_at,
        "least_allowed": heights.rule.least_mm,
        "most_allowed": heights.rule.most_mm,
        "rule": heights.rule.rule_text,
    }


def _quantities(plan: Plan) -> Data:
    q = plan.quantities
    return {
        "volume_l": q.volume_l,
        "to_order_l": q.to_order_l,
        "strip_m": q.strip_m,
        "separating_layer_m2": q.separating_layer_m2,
        "legs": {
            "plain": q.legs_plain,
            "extended": q.legs_extended,
            "packed": q.legs_packed,
            "not_fitting": q.legs_not_fitting,
        },
        "order": [asdict(line) for line in plan.purchase.order],
        "circuits": [asdict(c) for c in q.circuits],
    }


def _pour(p: Pour) -> Data:
    return {
        "day": p.number,
        "date": p.date,
        "bays": p.bays,
        "volume_l": p.volume_l,
        "bags": p.bags,
        "batches": p.batches,
        "bags_per_batch": p.bags_per_batch,
        "last_batch_bags": p.last_batch_bags,
        "water_l": p.water_l,
        "persons": p.persons,
        "starts_at": p.starts_at,
        "ends_at": p.ends_at,
        "greatest_depth_mm": p.greatest_mm,
        "nights": [{"evening": evening, "lowest_c": lowest} for evening, lowest in p.nights],
        "stop_line": p.stop_line.says if p.stop_line else None,
        "leave_by": p.leave_by,
    }


def _dates(sequence: Sequence) -> Data:
    pours = sequence.pours
    first = {"first_pour": pours[0].date, "last_pour": pours[-1].date} if pours else {}
    return {"start": sequence.started, **first, **sequence.dates}


def _worked(w: Worked) -> Data:
    """A line as it is printed; where its figures come from is for `packgen explain` to tell."""
    return {
        "key": w.key,
        "name": w.name,
        "formula": w.formula,
        "numbers": w.numbers,
        "value": w.value,
        "digits": w.digits,
        "unit": w.unit,
        "source": str(w.source) if w.source else None,
        "needs": w.needs,
    }


def _finding(f: Finding) -> Data:
    lifted = f.lifted_by
    return {
        "kind": f.kind,
        "code": f.code,
        "gate": f.gate,
        "lift": f.lift,
        "place": f.where,
        "says": f.says,
        "number": f.number,
        "limit": f.limit,
        "unit": f.unit,
        "source": f.source,
        "cure": f.cures,
        "open": f.open_stop,
        "lifted_by": None
        if lifted is None
        else {"by": lifted.by, "date": lifted.date, "paper": lifted.paper, "for": lifted.covers},
        "line": f.place.line if f.place else None,
        "column": f.place.column if f.place else None,
    }
