"""Which sheets in which order for whom: the one place that says so."""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec

from packgen.booklet.sheet import Sheet
from packgen.plan import Plan

SITE = (
    *("cover", "first", "ready", "hazards", "holds"),
    *("base", "datum", "setout", "parts", "pipes", "legs", "sections", "depths"),
    *("order", "pours", "mixing", "placing", "faults", "log", "restart"),
    *("waiting", "moisture", "asbuilt", "handover"),
    *("assumed", "findings", "worked"),
)

# Sections of the method statement, each a module in booklet/client; they flow on, several on a sheet.
CLIENT = (
    *("document", "unconfirmed", "scope", "drawings", "assumptions", "exclusions", "base"),
    *("method", "people", "programme", "client", "risks", "materials", "environment", "quality", "signoffs"),
    *("options", "price", "variations", "acceptance"),
)

EDITIONS = {"site": SITE, "client": CLIENT}


def sheets_of(plan: Plan, edition: str) -> tuple[Sheet, ...]:
    """The sheets of an edition in order. An edition that does not exist yet gets the site's sheets."""
    if edition == "client":
        statement: tuple[Sheet, ...] = import_module("packgen.booklet.client.statement").sheets(plan, CLIENT)
        return statement
    found: list[Sheet] = []
    for name in EDITIONS.get(edition, SITE):
        module = f"packgen.booklet.sheets.{name}"
        if find_spec(module) is not None:
            found += import_module(module).sheets(plan)
    return tuple(found)
