"""The plan as data."""

from __future__ import annotations

from typing import Any

from packgen.plan import Plan


def plan_as_data(plan: Plan) -> dict[str, Any]:
    return {}
