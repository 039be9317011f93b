"""Section 6: what is not included, in this job's own terms."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Rows, Section
from packgen.booklet.client.tables import is_board
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row
from packgen.core.figures import listed, number
from packgen.plan import Plan


def section(plan: Plan) -> Section:
    """One table."""
    rows = [Row((first_upper(what), says), "light") for what, says in _excluded(plan)]
    table = Desk((Column("not included", width_mm=58), Column("what that means here")), tuple(rows))
    return Section("exclusions", "Exclusions", (Rows(table),))


def _excluded(plan: Plan) -> Iterator[tuple[str, str]]:
    base, weight = plan.project.base, plan.quantities.weight
    yield (
        "structural capacity",
        f"this statement gives weights, {number(weight.dry_kn_m2, 2)} kN/m² for good; it does not say that anything "
        "carries them",
    )
    yield "hidden moisture", f"only what was read is known: {_damp(plan)}"
    yield (
        "asbestos",
        "no old covering in the file" if base.old_covering.lower() == "none" else "sampling and removal are by others",
    )
    if base.old_covering.lower() != "none":
        yield (
            "removal of the old covering",
            _priced(plan, "removal") or f"old covering: {base.old_covering}; not priced",
        )
    yield "waterproofing", _waterproofing(plan)
    yield "heating", _heating(plan)
    yield "covering", f"laying, grouting and gluing: {_covering(plan)}"
    doors = [d.name for r in plan.survey.rooms for d in r.doors]
    yield "trimming of doors and skirtings", f"at {listed(doors, most=5)}" if doors else "no opening in the file"
    yield "drying by machine", "dates rest on drying in the air of the building"
    yield "cracks in the base", "and movement of the base after the survey; not surveyed, not mended"
    yield "damage by others", "to the open grid, the fresh fill or the pipes before hand over"


def _damp(plan: Plan) -> str:
    damp = plan.project.base.damp_reading
    if damp.state == "read" and damp.value is not None:
        return f"{number(damp.value)} {damp.unit} at the places of the reading"
    return "no reading of the base" if damp.state == "unknown" else "no reading needed by the file"


def _priced(plan: Plan, word: str) -> str:
    row = next((r for r in plan.purchase.money.rows if word in r.item.lower()), None)
    return f"priced as {row.item}" if row else ""


def _waterproofing(plan: Plan) -> str:
    proof = plan.project.base.waterproofing
    if proof is not None:
        return f"{proof.kind or 'kind not stated'}, by others; done: {proof.done}"
    wet = [z.zone for z in plan.project.finishes if z.wet == "yes"]
    return f"of the wet zones {listed(wet)}" if wet else "no wet zone in the file; screed and fill keep no water out"


def _heating(plan: Plan) -> str:
    circuits = [s.name for s in plan.project.services if s.heating]
    if circuits:
        return f"laying, testing, running and regulating: {listed(circuits, most=5)}"
    return "no heating in the floor in the file" if plan.project.heating is None else "laying, testing, running"


def _covering(plan: Plan) -> str:
    names = [name for z in plan.heights.zones for name, _ in z.build_up.layers if not is_board(plan, name)]
    return listed(list(dict.fromkeys(names)), most=5) or "none in the file"
