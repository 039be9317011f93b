"""Section 13: materials as the project file states them, and the quantities of the order list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from packgen.booklet.client.blocks import MISSING, Block, Either, Rows, Section, Text
from packgen.booklet.client.tables import pairs
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import number, plain
from packgen.plan import Plan
from packgen.project.work_model import Fill
from packgen.purchase.buy import FILL
from packgen.quantities.model import OrderLine

MOST_ORDER = 24
ELSEWHERE = "Quantities of every item stand in the order list of the work pack; the main ones under the scope."


def section(plan: Plan) -> Section:
    """A table a fill, the parts of the grid, the order list."""
    blocks: list[Block] = [
        Rows(pairs(tuple(_fill(plan, fill)), f"{first_upper(fill.kind)}, as stated in the project file"))
        for fill in fills_in_use(plan)[:3]
    ]
    blocks.append(Rows(pairs(tuple(_kit(plan)), "Rails, legs and sheets, as stated in the project file")))
    blocks.append(Either(3, (Rows(_order(plan)),), (Text(ELSEWHERE),)))
    return Section("materials", "Materials", tuple(blocks))


def _fill(plan: Plan, fill: Fill) -> Iterator[tuple[str, str]]:
    rule = plan.heights.rule
    bag = f"{plain(fill.bag.mass)} kg makes {plain(fill.bag.makes)} L"
    water = f"; water {plain(fill.water.least)} to {plain(fill.water.most)} L" if fill.water else "; no water"
    yield "class declared; one bag", f"{fill.cls or f'class {MISSING}'}; {bag}{water}"
    conducts = f"{plain(fill.conductivity)} W/mK" if fill.conductivity is not None else MISSING
    density = (
        f"fresh {plain(fill.fresh_density)} kg/m³, hardened {plain(fill.hardened_density)} kg/m³"
        if fill.mixed
        else f"{plain(fill.hardened_density)} kg/m³"
    )
    yield "density; conductivity", f"{density}; {conducts}"
    why = f"; {fill.why_least}" if fill.why_least else ""
    yield "depth allowed", f"{plain(fill.thickness.least)} to {plain(fill.thickness.most)} mm{why}"
    if rule.rule_mm is not None and fill is plan.project.fills.used:
        yield "published rule for the least depth", f"{plain(rule.rule_mm)} mm; {_last_part(rule.rule_text)}"
    allowance = f"waste {plain(fill.waste * 100, 1)} %"
    yield "added when ordering", allowance + (f", settles {plain(fill.settles * 100, 1)} %" if fill.settles else "")
    if fill.mixed:
        days = ((fill.walk_on_after, "walk on after"), (fill.keep_covered, "covered"), (fill.load_after, "load after"))
        limits = f"working time {_minutes(fill.working_time)}, not below {_degrees(fill.lowest_temperature)}"
        yield "working and waiting", f"{limits}; " + ", ".join(f"{words} {_days(n)}" for n, words in days)
        if fill.drying:
            d = fill.drying
            yield (
                "drying",
                f"first {plain(d.first_mm)} mm at {plain(d.first_rate)}, rest at {plain(d.rest_rate)} mm a day",
            )
        else:
            yield "drying", "no waiting for drying"
    if fill.board_on_top:
        yield "board on top", f"{plain(fill.board_on_top.thickness)} {fill.board_on_top.material}"


def _last_part(text: str) -> str:
    """The published part of the rule's words; the file's own part stands above it."""
    return text.split("; ", 1)[1] if "; " in text else text


def _minutes(value: float | None) -> str:
    return f"{plain(value)} minutes" if value is not None else MISSING


def _degrees(value: float | None) -> str:
    return f"{plain(value)} °C" if value is not None else MISSING


def _days(value: float | None) -> str:
    return f"{plain(value)} days" if value is not None else MISSING


def _kit(plan: Plan) -> Iterator[tuple[str, str]]:
    kit, base = plan.project.kit, plan.project.base
    mass = f"; rails and legs {plain(kit.mass)} kg/m²"
    yield "rail, stays in the floor", f"{plain(kit.rail.width)} x {plain(kit.rail.height)} mm{mass}"
    several = len(kit.extensions) > 1
    more = "".join(
        f"; {e.name if several else 'extension'} adds {plain(e.adds)}, {e.most_per_leg} on a leg at most"
        for e in kit.extensions
    )
    sizes = "; ".join(
        f"{f'{leg.name}, ' if len(kit.legs) > 1 else ''}{plain(leg.shortest)} to {plain(leg.longest)} mm"
        for leg in kit.legs
    )
    yield "leg", f"{sizes} to the top of the rail{more}"
    load = (
        f", good for {plain(kit.foot.load_limit)} kN" if kit.foot.load_limit is not None else ", load limit not stated"
    )
    force = max((f.force_kn for f in plan.quantities.feet), default=0.0)
    reckoned = f"; {number(force, 2)} kN reckoned on the heaviest" if plan.quantities.feet else ""
    yield "foot", f"{plain(kit.foot.diameter)} mm across{load}{reckoned}"
    sheet = f"; separating layer {base.separating_layer}" if base.separating_layer else ""
    yield "strip and sheet", f"perimeter strip {plain(kit.edge_strip)} mm thick{sheet}"
    heating = plan.project.heating
    pipes = [s for s in plan.project.services if s.heating]
    if pipes:
        p = pipes[0]
        outside = f"{plain(p.outside)} outside" if p.outside is not None else "size not stated"
        spacing = f", {plain(p.spacing)} apart" if p.spacing else ""
        cover = (
            f", cover {plain(heating.least_cover_over_pipe)} or more"
            if heating and heating.least_cover_over_pipe is not None
            else ""
        )
        yield "heating pipe", f"{outside}{spacing}, {p.lies_on or 'support not stated'}{cover}"


def _together(lines: list[OrderLine]) -> list[OrderLine]:
    """Lines of one item as one: bags come pour by pour in the order list."""
    items: dict[tuple[str, str], list[OrderLine]] = {}
    for o in lines:
        items.setdefault((o.item, o.unit), []).append(o)
    out = []
    for same in items.values():
        masses = [o.mass_kg for o in same if o.mass_kg is not None]
        uses = dict.fromkeys(o.used_for for o in same)
        out.append(
            replace(
                same[0],
                quantity=sum(o.quantity for o in same),
                mass_kg=sum(masses) if masses else None,
                used_for=next(iter(uses))
                if len(uses) == 1
                else f"{len(uses)} pours"
                if same[0].group == FILL
                else "several",
            )
        )
    return out


def _order(plan: Plan) -> Table:
    lines = _together([o for o in plan.purchase.order if not o.total])
    rows = [
        Row(
            (
                first_upper(o.item),
                f"{number(o.quantity, o.digits)} {o.unit}",
                number(o.mass_kg) if o.mass_kg is not None else "–",
                o.used_for,
            ),
            "light",
        )
        for o in lines[:MOST_ORDER]
    ]
    if len(lines) > MOST_ORDER:
        rows.append(Row((f"and {len(lines) - MOST_ORDER} more rows, in the work pack", "", "", ""), "light"))
    columns = (
        Column("quantities, spare included"),
        Column("quantity", "number", 27),
        Column("mass", "number", 16, "kg"),
        Column("for", width_mm=46),
    )
    return Desk(columns, tuple(rows))
