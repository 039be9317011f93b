"""What a reader of a method statement looks for and the project file does not state. Nothing is put in its place."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.pour_words import counted
from packgen.plan import Plan

Missing = tuple[str, str]  # what, and the key of the section that would have it


def missing(plan: Plan) -> tuple[Missing, ...]:
    """In the order of the sections."""
    return tuple(found for part in (_parties, _floor, _work, _money) for found in part(plan))


def _parties(plan: Plan) -> Iterator[Missing]:
    info = plan.project.project
    if info.contractor is None:
        yield "contractor", "document"
    elif not info.contractor.address:
        yield "contractor: address", "document"
    if not info.client:
        yield "client", "document"
    yield "address of the site", "document"
    yield "insurance, licences", "document"


def _floor(plan: Plan) -> Iterator[Missing]:
    base, weight = plan.project.base, plan.quantities.weight
    if weight.allowed_dry_kn_m2 is None:
        yield "load the structure allows", "base"
    if base.old_covering.lower() != "none" and base.built is None:
        yield "year the building was built", "base"
    if any(r.free_edges for r in plan.project.rooms) and not any(r.edge_profile for r in plan.project.rooms):
        yield "profile at the free edges", "scope"
    yield "who lays the covering", "scope"


def _work(plan: Plan) -> Iterator[Missing]:
    yield "person in charge on site", "people"
    yield "competence papers", "people"
    if any(p.number and not p.power for p in plan.project.plant):
        yield "power or fuel of the plant", "people"
    yield "noise of the plant, its place", "people"
    if plan.project.project.house_lived_in == "unknown":
        yield "building lived in or not", "risks"
    if plan.project.calendar.ready_by is None:
        yield "date wanted for the floor", "programme"
    yield "safety data sheets", "materials"


def _money(plan: Plan) -> Iterator[Missing]:
    prices, money = plan.project.prices, plan.purchase.money
    if not money.rows:
        yield "prices", "price"
        return
    if money.not_priced:
        yield f"price of {counted(len(money.not_priced), 'item')}", "price"
    if prices.overhead_and_profit is None:
        yield "overhead and profit", "price"
    if prices.tax is None:
        yield "tax", "price"
    yield "price held until; payment", "price"
