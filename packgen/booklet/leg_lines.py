"""Legs that a straightedge sets, by the line they are set along, in blocks that stay together on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import groupby

from packgen.heights.model import LegSetting
from packgen.plan import Plan

MOST_IN_BLOCK = 10  # legs of one line that stay together on a page, and are counted at a glance


def by_line(plan: Plan, legs: Iterable[LegSetting]) -> list[tuple[str, list[LegSetting]]]:
    """Legs by the line they are set along, with where the straightedge lies and what is read again."""
    laid: dict[str, tuple[str, str]] = {}
    for a, b, between in plan.heights.straightedge:
        laid.update(dict.fromkeys(between, (a, b)))
    controls = {c.along: f"{c.node}{' M' if c.master else ''}" for c in plan.heights.controls}
    out = []
    for along, run in groupby(legs, key=lambda leg: leg.along):
        parts = in_parts(list(run), laid)
        for k, group in enumerate(parts):
            pairs = list(dict.fromkeys(" and ".join(laid[leg.node]) for leg in group if leg.node in laid))
            on = f": straightedge on {', then on '.join(pairs)}" if pairs else ""
            after = (
                f"; control then: {controls[along]} reads ______" if k == len(parts) - 1 and along in controls else ""
            )
            out.append((f"Line {along}{', further' if k else ''}{on}{after}", group))
    return out


def in_parts(line: list[LegSetting], laid: dict[str, tuple[str, str]]) -> list[list[LegSetting]]:
    """A line too long for one block in parts about equally long, each begun with a new lay of the straightedge."""
    most = math.ceil(len(line) / math.ceil(len(line) / MOST_IN_BLOCK))
    parts: list[list[LegSetting]] = [[]]
    for _, lay in groupby(line, key=lambda leg: laid.get(leg.node)):
        run = list(lay)
        if parts[-1] and (len(parts[-1]) >= most or len(parts[-1]) + len(run) > MOST_IN_BLOCK):
            parts.append([])
        while len(parts[-1]) + len(run) > MOST_IN_BLOCK:
            room = MOST_IN_BLOCK - len(parts[-1])
            parts[-1] += run[:room]
            run = run[room:]
            parts.append([])
        parts[-1] += run
    return parts
