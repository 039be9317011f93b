"""The plan's sign: six characters by which an old sheet is recognised."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from packgen.plan import Plan

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # without 0 O 1 I L, which people mix up


def sign_of(plan: Plan) -> str:
    """Two groups of three, such as 7K4-M2Q, over all that changes a set-out number.

    Covered: walls, tapes, openings, obstacles, readings, finishes, services, joints, drains, kit, and the layout and
    legs that follow. Not covered: names of people, prices, dates, the backsight of the day.
    """
    text = json.dumps(_set_out(plan), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    value = int.from_bytes(hashlib.sha256(text.encode("utf-8")).digest(), "big")
    letters = []
    for _ in range(6):
        value, at = divmod(value, len(ALPHABET))
        letters.append(ALPHABET[at])
    return f"{''.join(letters[:3])}-{''.join(letters[3:])}"


def _set_out(plan: Plan) -> dict[str, Any]:
    project = plan.project
    given = {
        "datum": project.datum.name,
        "rooms": [r.model_dump(mode="json", exclude={"guard_at_edge"}) for r in project.rooms],
        "openings": [o.model_dump(mode="json", exclude={"others_behind"}) for o in project.openings],
        "finishes": [z.model_dump(mode="json", exclude={"weight_of_layers"}) for z in project.finishes],
        "services": [s.model_dump(mode="json", exclude={"pressure_test"}) for s in project.services],
        "joints": [j.model_dump(mode="json") for j in project.joints],
        "drains": [d.model_dump(mode="json") for d in project.drains],
        "kit": project.kit.model_dump(mode="json"),
        "levels": project.levels.model_dump(mode="json", exclude={"note"}),
        "fill": project.fills.use,
    }
    layout = plan.layout
    found = {
        "corners": [[_mm(c) for c in r.corners] for r in plan.survey.rooms],
        "lines": [[line.name, _tenth(line.first_mm), _tenth(line.second_mm)] for line in layout.lines],
        "nodes": [[n.id, *_mm(n.at)] for n in layout.nodes],
        "pieces": [[p.id, p.length_mm, *_mm(p.start), *_mm(p.end)] for p in layout.pieces],
        "legs": [[s.node, s.base_mm, s.rail_top_mm, s.leg_mm, s.parts] for s in plan.heights.legs],
        "zones": [[z.name, _tenth(z.finished_mm), _tenth(z.rail_top_mm), z.fall_per_m] for z in plan.heights.zones],
    }
    return {"given": given, "found": found}


def _mm(at: tuple[float, float]) -> list[float]:
    return [_tenth(at[0]), _tenth(at[1])]


def _tenth(value: float) -> float:
    return round(value, 1) + 0.0
