"""Tables as CSV."""

from __future__ import annotations

from packgen.plan import Plan


def csv_tables(plan: Plan) -> dict[str, str]:
    return {}
