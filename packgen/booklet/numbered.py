"""The findings in the order and with the numbers they have on every sheet."""

from __future__ import annotations

from packgen.core.finding import GATES, KINDS, Finding
from packgen.plan import Plan


def numbered(plan: Plan) -> tuple[tuple[int, Finding], ...]:
    """Stops, then cautions, then notes; inside a kind by gate in the order they are met; numbered from 1."""
    gates = {gate: i for i, gate in enumerate(GATES)}
    rows = sorted(plan.findings, key=lambda f: (KINDS.index(f.kind), gates[f.gate] if f.gate else len(gates)))
    return tuple(enumerate(rows, 1))


PEOPLE = (
    "cement-burn",
    "lifting",
    "silica-dust",
    "electric-wet",
    "trip-edge",
    "children-pets",
    "mixer",
    "co-heater",
    "noise-vibration",
    "laser-eye",
    "headroom",
    "alone",
    "hot-works",
    "stair-edge-open",
    "asbestos-unknown",
    "gas-in-floor",
    "services-unknown",
    "escape-blocked",
    "waste-water",
    "stepladder-on-fresh",
)
"""Codes of findings that hurt a person rather than the floor, in the order they are printed."""
