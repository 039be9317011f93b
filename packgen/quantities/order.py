"""The order list without the bags: rails and legs, sheets and strips, boards and screws, pipes, edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.figures import half_up, plain, round_up
from packgen.core.plane import Point, Segment, pairs, segment_distance
from packgen.core.worked import COUNTED, FILE, ON_PLAN, PRACTICE, Assumed, Given, Worked
from packgen.heights.model import Heights
from packgen.heights.settle import fill_of
from packgen.layout.board_model import BoardPlan
from packgen.layout.model import Layout
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import BoardOnTop
from packgen.quantities.boards import board_lines
from packgen.quantities.leg_items import leg_items, own_price
from packgen.quantities.model import BayFill, CircuitLength, OrderLine
from packgen.quantities.order_rows import Rows, rule_given
from packgen.survey.model import RoomOutline, Survey
from packgen.trade.amounts import amount, amount_rule, assumed_amount

GRID, SHEETS, EDGES, HEATING = (
    "Rails and legs",
    "Sheets and strips",
    "Edges, joints and drains",
    "Heating pipe",
)
ON_EDGE_MM = 1.0  # an edge of the floor this near to a free edge of the room lies along it


@dataclass(frozen=True)
class Measured:
    """What the order list is counted from: areas m², lengths m, all to 2 decimals."""

    room_m2: float
    floor_m2: float
    walls_m: float  # round the floor and its cut-outs, free edges left out
    free_edges_m: float
    boards: tuple[tuple[BoardOnTop, float], ...]  # board and the area it covers


def measure(project: Project, survey: Survey, bays: Sequence[BayFill]) -> Measured:
    """Areas and lengths that the order list is counted from."""
    fills = dict(project.fills.described)
    free = sum(w.length_mm for r in survey.rooms for w in r.walls if w.free_edge)
    walled = sum(_walled_mm(room) for room in survey.rooms)
    boards: dict[tuple[float, str], tuple[BoardOnTop, float]] = {}
    for bay in bays:
        board = fills.get(bay.fill, project.fills.used).board_on_top
        if board is not None:
            key = (board.thickness, board.material)
            boards[key] = (board, boards.get(key, (board, 0.0))[1] + bay.area_m2)
    return Measured(
        half_up(sum(r.area_m2 for r in survey.rooms), 2),
        half_up(sum(b.area_m2 for b in bays), 2),
        half_up(walled / 1000, 2),
        half_up(free / 1000, 2),
        tuple((board, half_up(area, 2)) for board, area in boards.values()),
    )


def _walled_mm(room: RoomOutline) -> float:
    """Length of the edges of the floor and its cut-outs, those along free edges of the room left out."""
    free = [piece for w in room.walls if w.free_edge for piece in w.pieces]
    edges = [edge for p in room.floor for ring in (p.shell, *p.holes) for edge in pairs(ring)]
    return sum(math.dist(a, b) for a, b in edges if not any(_along(line, a, b) for line in free))


def _along(line: Segment, a: Point, b: Point) -> bool:
    return all(segment_distance(p, line) <= ON_EDGE_MM for p in (a, b))


@dataclass(frozen=True)
class OrderList:
    lines: tuple[OrderLine, ...]
    worked: tuple[Worked, ...]
    assumed: tuple[Assumed, ...]
    further: tuple[Worked, ...]  # lines that others need and no sheet prints


def order_list(
    project: Project,
    survey: Survey,
    layout: Layout,
    heights: Heights,
    measured: Measured,
    circuits: Sequence[CircuitLength],
    boards: Sequence[tuple[BoardPlan, BoardOnTop]],
) -> OrderList:
    """All that is bought but the fill itself. boards: the plan of each kind of board."""
    made = Rows()
    _grid(made, project, layout, heights, measured)
    _sheets(made, project, heights, measured)
    for plan, board in boards:
        board_lines(made, project, plan, board)
    _edges(made, project, survey, layout, measured)
    for circuit in circuits:
        made.lines.append(
            OrderLine(
                HEATING,
                f"heating pipe, {circuit.service}",
                circuit.length_m,
                1,
                "m",
                "none",
                None,
                circuit.service,
                key=f"circuit/{circuit.service}",
            )
        )
    made.further.append(_rooms_line(survey, measured))
    return OrderList(tuple(made.lines), tuple(made.worked), tuple(made.assumed.values()), tuple(made.further))


def _rooms_line(survey: Survey, measured: Measured) -> Worked:
    """Area of all rooms, of which single ones have their own lines."""
    alone = len(survey.rooms) == 1
    for digits in (2, 3, 4, 6):
        parts = [half_up(r.area_m2, digits) for r in survey.rooms]
        if half_up(sum(parts), 2) == measured.room_m2:
            break
    return Worked(
        "rooms/area",
        "area of the room" if alone else "area of all rooms",
        "less what stays in it" if alone else "sum of the rooms",
        " + ".join(plain(v, 6) for v in parts),
        measured.room_m2,
        2,
        "m²",
        needs=tuple("area" if alone else f"{r.name}/area" for r in survey.rooms),
    )


def _grid(made: Rows, project: Project, layout: Layout, heights: Heights, measured: Measured) -> None:
    kit = project.kit
    for item in leg_items(kit, heights.legs):
        made.count(GRID, item.says, "legs", item.number, None, item.for_, price=own_price(project, item))
    saddled = len({c.node for c in layout.foot_clashes if c.saddle})
    if saddled:
        size = f", {plain(kit.saddle.height)} high" if kit.saddle is not None else ""
        made.count(GRID, f"rigid saddle{size}", "legs", saddled, None, "feet over pipes")
    mass = half_up(kit.mass * measured.room_m2, 0) or None
    rail = ""
    for stock in reversed(layout.cut_list.stocks):
        weighed = mass if stock == layout.cut_list.stocks[0] else None
        rail = f"rail {plain(kit.rail.width)} x {plain(kit.rail.height)}, pieces of {stock.stock_mm}"
        used = "rails (kg: rails and legs together)" if weighed else "rails"
        made.count(GRID, rail, "legs", stock.number, weighed, used)
    if mass:
        numbers = f"{plain(kit.mass)} x {plain(measured.room_m2, 2)}"
        own = (given(kit, "mass", "rails and legs", kit.mass, "kg/m²"),)
        key, name = f"order/{rail}/mass", "mass of rails and legs"
        made.further.append(Worked(key, name, "kg/m² x area", numbers, mass, 0, "kg", FILE, ("rooms/area",), own))


def _sheets(made: Rows, project: Project, heights: Heights, measured: Measured) -> None:
    base = project.base
    build_up = max(z.build_up.finish_mm for z in heights.zones)
    turned_up = half_up((heights.depth.most_mm + build_up + amount("turn_up")) / 1000, 3)
    thickest = max(heights.zones, key=lambda z: z.build_up.finish_mm).name
    deepest = half_up(heights.depth.most_mm, 3)
    made.further.append(
        Worked(
            "order/turned up",
            "how far sheets are turned up at the walls",
            "(greatest depth + finish + turn-up above it) / 1000",
            f"({plain(deepest)} + {plain(build_up)} + {plain(amount('turn_up'))}) / 1000",
            turned_up,
            3,
            "m",
            amount_rule("turn_up").source,
            ("depth/greatest", f"zone/{thickest}/finish"),
            (rule_given("turn_up"),),
        )
    )
    waterproofed = base.waterproofing is not None
    area = measured.floor_m2

    def sheet(item: str, for_: str) -> None:
        key, laps = f"order/{item}", amount("laps")
        total = round_up(area * (1 + laps) + measured.walls_m * turned_up, 1)
        flat, up = f"{plain(area, 2)} x (1 + {plain(laps, 4)})", f"{plain(measured.walls_m, 2)} x {plain(turned_up)}"
        numbers = f"ceil(({flat} + {up}) x 10) / 10"
        formula = "area x (1 + laps) + length of walls x height turned up, rounded up to 0.1"
        figures = (
            Given("floor that is filled", area, "m²", ON_PLAN),
            rule_given("laps"),
            Given("walls and columns round the floor", measured.walls_m, "m", ON_PLAN),
        )
        source = amount_rule("laps").source
        made.worked.append(Worked(key, item, formula, numbers, total, 1, "m²", source, ("order/turned up",), figures))
        made.spare("turn_up", "sheets turned up at walls")
        made.lines.append(
            OrderLine(SHEETS, item, total, 1, "m²", f"laps {made.spare('laps', 'sheets')}", None, for_, key=key)
        )

    if base.on_ground and base.membrane == "no":
        sheet("damp-proof membrane", "on the base, joined to the walls'")
    given = base.separating_layer
    bare = given is None and all(fill_of(project, z).family == "wool" for z in project.finishes)
    if not waterproofed and not bare and (given is None or given.casefold() not in ("none", "no", "not needed")):
        if given is None:
            what = "separating layer on the whole base, turned up at the walls"
            made.assumed["layer"] = Assumed(what, "yes", "", PRACTICE, "base: separating layer", "order list")
        kind = f", {given.split(',')[0]}" if given else ""
        sheet(f"separating layer{kind}", "on the whole base")
        made.measured(SHEETS, "tape for laps", "strip", half_up(area / (amount("roll_width") / 1000), 2), "m", "laps")
        made.assumed.setdefault("roll_width", assumed_amount("roll_width", "tape for laps"))
    elif base.waterproofing and base.waterproofing.protection_mat_under_the_feet == "yes":
        made.measured(SHEETS, "protection mat", "mat_laps", area, "m²", "on the waterproofing")
    made.measured(
        SHEETS,
        f"perimeter strip {plain(project.kit.edge_strip)} thick",
        "strip",
        measured.walls_m,
        "m",
        "walls and columns",
    )


def _edges(made: Rows, project: Project, survey: Survey, layout: Layout, measured: Measured) -> None:
    if measured.free_edges_m:
        said = next((r.edge_profile for r in project.rooms if r.edge_profile), None)
        made.measured(
            EDGES, f"edge profile{f', {said}' if said else ''}", "strip", measured.free_edges_m, "m", "free edges"
        )
    joints = sum(j.line.length_mm for j in layout.joints if j.kind == "movement") / 1000
    if joints:
        made.measured(EDGES, "joint profile or foam strip", "strip", half_up(joints, 2), "m", "movement joints")
    for room in survey.rooms:
        for cut in room.cut_outs:
            if cut.kind != "obstacle":
                sides = sorted(math.dist(a, b) for a, b in pairs(cut.shape.shell))
                size = f"{sides[-1]:.0f} x {sides[0]:.0f}" if len(sides) == 4 else f"{sides[-1]:.0f}"
                item = f"{cut.name}, {size}"
                key, one = f"order/{item}", (Given(f"{cut.name} in {room.name}", 1, "piece", COUNTED),)
                made.further.append(Worked(key, item, "counted", "1", 1, 0, "piece", COUNTED, (), one))
                made.lines.append(OrderLine(EDGES, item, 1, 0, "piece", "none", None, room.name, key=key))
