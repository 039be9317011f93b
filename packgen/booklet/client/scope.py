"""Section 3: what is done, where it ends, and what others do."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Block, Rows, Section, Text
from packgen.booklet.client.refs import see
from packgen.booklet.client.tables import by_zone, finished_words, is_board, layer_list, rail_words
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import counted, fills_in_use, pack_word
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.tools import boarded
from packgen.core.figures import level, listed, number, plain, whole
from packgen.plan import Plan
from packgen.quantities.order import SHEETS

MOST_DOORS = 12


def section(plan: Plan) -> Section:
    """Rooms, included work, edges, other trades."""
    blocks: list[Block] = [
        Text(_rooms(plan), leads=True),
        Rows(_zones(plan)),
        Rows(_included(plan)),
        Rows(_edges(plan)),
        Text(_others(plan)),
    ]
    return Section("scope", "Scope", tuple(blocks))


def _rooms(plan: Plan) -> str:
    rooms = [f"{r.name}, {number(r.area_m2, 2)} m²" for r in plan.survey.rooms]
    aim = plan.project.project.aim
    together = f"; together {number(plan.quantities.room_m2, 2)} m²" if len(rooms) > 1 else ""
    return f"{f'Aim: {aim}. ' if aim else ''}Floor: {listed(rooms, most=6)}{together}."


def _zones(plan: Plan) -> Table:
    fills = {z.zone: z.fill or plan.project.fills.use for z in plan.project.finishes}
    rows = [
        Row(
            (
                z.name,
                finished_words(plan, z),
                rail_words(plan, z),
                layer_list(z),
                fills.get(z.name, plan.project.fills.use),
            ),
            "light",
        )
        for z in plan.heights.zones
    ]
    columns = (
        Column("zone", width_mm=26),
        Column("finished level", width_mm=38),
        Column("top of the rails", width_mm=38),
        Column("layers above, from the top"),
        Column("fill", width_mm=27),
    )
    return Desk(columns, tuple(rows))


def _included(plan: Plan) -> Table:
    rows = [Row(cells, "light") for cells in _work(plan)]
    columns = (Column("included in this statement"), Column("how much", width_mm=84))
    return Desk(columns, tuple(rows))


def _work(plan: Plan) -> Iterator[tuple[str, str]]:
    q, layout, kit = plan.quantities, plan.layout, plan.project.kit
    yield "Take over the base, clear and clean it", f"{number(q.room_m2, 2)} m²"
    for line in plan.purchase.order:
        if line.group == SHEETS and not line.total and "tape" not in line.item:
            yield f"Lay {line.item}", f"{number(line.quantity, line.digits)} {line.unit}, spare included"
    extended = f", {q.legs_extended} of them with extension" if q.legs_extended else ""
    yield (
        f"Set out and place rails and legs, module {plain(kit.module)}",
        f"{counted(len(layout.rails), 'rail')}, {counted(len(plan.heights.legs), 'leg')}{extended}",
    )
    tops = by_zone(plan, [rail_words(plan, z) for z in plan.heights.zones], most=2)
    yield "Set the rails to height and read them a second time", f"top of the rails {tops}"
    for fill in fills_in_use(plan):
        name = next((n for n, f in plan.project.fills.described if f is fill), fill.kind)
        pours = [p for p in plan.sequence.pours if p.fill == name]
        bags = sum(p.bags for p in pours)
        litres = sum(p.volume_l for p in pours)
        yield (
            f"Fill with {fill.kind}, strike off on the rails, finish",
            f"{number(litres)} L, {counted(bags, pack_word(fill))}, {counted(len(pours), 'day')}",
        )
    if boarded(plan):
        yield "Screw boards on the rails", f"{number(q.boards_m2, 2)} m²"
    if any(fill.mixed for fill in fills_in_use(plan)):
        yield "Cover and protect the fresh fill", "until the dates of " + see("programme")


def _edges(plan: Plan) -> Table:
    doors = {d.name: d for r in plan.survey.rooms for d in r.doors}
    openings = {o.name: o for o in plan.project.openings}
    rows = []
    for step in plan.heights.doors[:MOST_DOORS]:
        door, opening = doors[step.door], openings[step.door]
        depth = f"{plain(opening.depth)} into the doorway" if opening.depth else "at the line of the wall"
        n = whole(step.step_mm)
        meets = "flush" if n == 0 else f"{abs(n)} {'higher' if n > 0 else 'lower'} than what it meets"
        limit = f"; {plain(step.limit_mm)} allowed" if step.judged and n else ""
        datum = plan.project.datum.name
        leads = f", to the {door.leads_to}" if door.leads_to else ""
        words = f"{level(step.finished_mm, datum)}; it meets {level(step.meets_mm, datum)}"
        rows.append(Row((f"{first_upper(step.door)}{leads}", depth, words, meets + limit), "light"))
    rows += [Row(cells, "light") for cells in _other_edges(plan)]
    columns = (
        Column("where the floor ends", width_mm=54),
        Column("how", width_mm=40),
        Column("finished level there"),
        Column("step", width_mm=32),
    )
    return Desk(columns, tuple(rows))


def _other_edges(plan: Plan) -> Iterator[tuple[str, str, str, str]]:
    more = len(plan.heights.doors) - MOST_DOORS
    if more > 0:
        yield f"{more} more openings", "as in the work pack", "", ""
    kit = plan.project.kit
    yield "Walls, columns, frames", f"perimeter strip {plain(kit.edge_strip)}, rails clear of the wall", "", ""
    free = sum(w.free_edge for r in plan.survey.rooms for w in r.walls)
    if free:
        profile = next((r.edge_profile for r in plan.project.rooms if r.edge_profile), "profile not stated")
        yield f"Free edges, {number(plan.quantities.free_edges_m, 2)} m", profile, "", ""
    for j in plan.layout.joints:
        if j.kind == "structural":
            yield f"Structural joint {j.number}", f"open through the floor, {plain(j.width_mm)} wide", "", ""


def _others(plan: Plan) -> str:
    parts = ["water, power, light, a dry store, doors and skirtings: the client"]
    if plan.project.heating or any(s.heating for s in plan.project.services):
        parts.append("laying, testing and running the heating: a heating fitter, not stated who")
    elif plan.project.services:
        names = listed([s.name for s in plan.project.services], most=4)
        parts.append(f"work on {names}: a person licensed for it, not stated who")
    covering = listed(
        [n for z in plan.heights.zones[:1] for n, _ in z.build_up.layers if not is_board(plan, n)], most=4
    )
    if covering:
        parts.append(f"{covering}: not stated who")
    if plan.project.base.suspended:
        parts.append("judging whether the structure carries this floor: a structural engineer")
    if plan.project.base.waterproofing is not None:
        parts.append("waterproofing with its test: not stated who")
    return f"Done by others: {'; '.join(parts)}. What is not included stands in {see('exclusions')}."
