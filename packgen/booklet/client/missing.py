"""What a reader of a method statement looks for and the project file does not state. Nothing is put in its place."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import listed
from packgen.plan import Plan

Missing = tuple[str, str, str]  # what, what it is needed for, key of the section


def missing(plan: Plan) -> tuple[Missing, ...]:
    """In the order of the sections."""
    return tuple(found for part in (_parties, _floor, _work, _money) for found in part(plan))


def _parties(plan: Plan) -> Iterator[Missing]:
    info = plan.project.project
    if info.contractor is None:
        yield "contractor: name and address", "who answers for the work", "document"
    elif not info.contractor.address:
        yield "contractor: address", "who answers for the work", "document"
    if not info.client:
        yield "client", "for whom the work is done", "document"
    yield "address of the site", "delivery, emergency", "document"
    yield "insurance and licences of the contractor", "who answers for damage", "document"


def _floor(plan: Plan) -> Iterator[Missing]:
    base, weight = plan.project.base, plan.quantities.weight
    if weight.allowed_dry_kn_m2 is None:
        yield "load that the structure allows", "weight of this floor", "base"
    if base.old_covering.lower() != "none" and base.built is None:
        yield "year the building was built", "asbestos", "base"
    if any(r.free_edges for r in plan.project.rooms) and not any(r.edge_profile for r in plan.project.rooms):
        yield "profile at the free edges", "closing the edge, price", "scope"
    yield "who lays the covering", "hand over, dates", "scope"


def _work(plan: Plan) -> Iterator[Missing]:
    yield "person in charge on site", "instructions, stopping the work", "people"
    yield "competence papers: laser, cutting, first aid", "who may do what", "people"
    powerless = [p.item for p in plan.project.plant if p.number and not p.power]
    if powerless:
        yield f"power or fuel of {listed(powerless, most=4)}", "supply, fumes, fire", "people"
    yield "noise of the plant, and where it stands", "neighbours, hearing", "people"
    if plan.project.project.house_lived_in == "unknown":
        yield "whether the building is lived in", "doors, notices, ways out", "risks"
    if plan.project.calendar.ready_by is None:
        yield "date by which the floor is wanted", "programme", "programme"
    yield "safety data sheets of the materials", "protection, first aid", "materials"


def _money(plan: Plan) -> Iterator[Missing]:
    prices, money = plan.project.prices, plan.purchase.money
    if not money.rows:
        yield "prices", "price", "price"
        return
    if money.not_priced:
        yield f"price of {listed(list(money.not_priced), most=5)}", "price", "price"
    if prices.overhead_and_profit is None:
        yield "overhead and profit", "price", "price"
    if prices.tax is None:
        yield "tax", "price", "price"
    yield "until when the price holds, and when it is paid", "price", "price"
