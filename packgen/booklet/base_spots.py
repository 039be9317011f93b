"""High and low places of the base, what each asks for, and how a place is said in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from packgen.core.figures import plain, round_up, whole
from packgen.core.plane import Point
from packgen.core.surface import level_at
from packgen.heights.model import LegSetting
from packgen.layout.model import Node
from packgen.plan import Plan
from packgen.survey.model import LevelPoint, RoomOutline
from packgen.trade.setting_out import setting_rule

MOST_SPOTS = 2
CELL_MM = 100.0


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of the base. take_off_mm: how much has to go before leg and depth are allowed; 0 where nothing has to."""

    name: str
    at: Point
    level_mm: float
    kind: Literal["high", "low"]
    take_off_mm: int
    follows: str


def place_words(plan: Plan, at: Point) -> tuple[str, str]:
    """(along wall 1 from corner 1, into the room from wall 1) of its room, whole mm."""
    room = _room_at(plan, at)
    return _distance(at[0] - room.origin[0]), _distance(at[1] - room.origin[1])


def room_words(plan: Plan, at: Point) -> str:
    """The room a place lies in: "the room", or its name where there are several."""
    return "the room" if len(plan.survey.rooms) == 1 else _room_at(plan, at).name


def _room_at(plan: Plan, at: Point) -> RoomOutline:
    rooms = plan.survey.rooms
    return next((r for r in rooms if _in_box(r.ring, at)), rooms[0])


def _distance(mm: float) -> str:
    """A distance without a sign: a wall that leans out leaves places on the far side of corner 1."""
    n = whole(mm)
    return f"{-n} the other way" if n < 0 else str(n)


def _in_box(corners: tuple[Point, ...], at: Point) -> bool:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs) - 1 <= at[0] <= max(xs) + 1 and min(ys) - 1 <= at[1] <= max(ys) + 1


def spots(plan: Plan) -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Highs and lows of the readings, judged by the depth they leave; every place that is too high is among them."""
    depth = {p.id: level_at(plan.heights.rail_top, (p.x_mm, p.y_mm)) - p.level_mm for p in plan.survey.levels.points}
    points = sorted(plan.survey.levels.points, key=lambda p: (depth[p.id], p.y_mm, p.x_mm))
    if not points:
        return (), ()
    legs = _legs_on_readings(plan)
    must = [p for p in points if _take_off(plan, depth[p.id], legs.get(p.id))]
    highs = must or [p for p in points if depth[p.id] <= depth[points[0].id] + 1][:MOST_SPOTS]
    lows = [p for p in reversed(points) if depth[p.id] >= depth[points[-1].id] - 1 and p not in highs][:MOST_SPOTS]
    return (
        tuple(_spot(plan, p, "high", depth[p.id], legs.get(p.id)) for p in highs),
        tuple(_spot(plan, p, "low", depth[p.id], legs.get(p.id)) for p in lows),
    )


def _spot(plan: Plan, point: LevelPoint, kind: Literal["high", "low"], depth_mm: float, leg: LegSetting | None) -> Spot:
    off = _take_off(plan, depth_mm, leg) if kind == "high" else 0
    says = _follows(plan, depth_mm, leg, off)
    return Spot(point.id, (point.x_mm, point.y_mm), point.level_mm, kind, off, says)


def _legs_on_readings(plan: Plan) -> dict[str, LegSetting]:
    """For each reading the leg that stands on that very spot, where there is one."""
    near = setting_rule("spot_far").value
    cells: dict[tuple[int, int], list[Node]] = {}
    for node in plan.layout.nodes:
        cells.setdefault((math.floor(node.x_mm / CELL_MM), math.floor(node.y_mm / CELL_MM)), []).append(node)
    settings = {leg.node: leg for leg in plan.heights.legs}
    found: dict[str, LegSetting] = {}
    for p in plan.survey.levels.points:
        i, j = math.floor(p.x_mm / CELL_MM), math.floor(p.y_mm / CELL_MM)
        around = [n for a in (i - 1, i, i + 1) for b in (j - 1, j, j + 1) for n in cells.get((a, b), ())]
        here = [n for n in around if math.dist(n.at, (p.x_mm, p.y_mm)) <= near and n.id in settings]
        if here:
            found[p.id] = settings[here[0].id]
    return found


def _take_off(plan: Plan, depth_mm: float, leg: LegSetting | None) -> int:
    """How much the base is too high for the depth rule, and for the leg where one stands there; whole mm, upward."""
    short = plan.heights.rule.least_mm - depth_mm
    if leg is not None and not leg.fits:
        short = max(short, plan.project.kit.shortest_leg.shortest - leg.leg_mm)
    return max(0, int(round_up(short)))


def _follows(plan: Plan, depth_mm: float, leg: LegSetting | None, off: int) -> str:
    least = plain(plan.heights.rule.least_mm)
    if off:
        leg_words = (
            f"{_leg(leg)}, {plain(plan.project.kit.shortest_leg.shortest)} least; " if leg and not leg.fits else ""
        )
        return f"{leg_words}{_deep(depth_mm)}, {least} least: take off {off}"
    if leg is None:
        return _deep(depth_mm)
    if not leg.fits:
        return f"{_leg(leg)}: {leg.short_by_mm} beyond the kit; build up the base there"
    if leg.extensions:
        each = plain(leg.adds_mm / leg.extensions)
        return f"leg {leg.leg_mm}: extension {each if leg.extensions == 1 else f'{leg.extensions} x {each}'}"
    if leg.packing_mm:
        return f"leg {leg.leg_mm}: packing {plain(leg.packing_mm)}"
    return f"{_leg(leg)}: plain"


def _deep(depth_mm: float) -> str:
    return f"depth {whole(depth_mm)}" if depth_mm > 0 else "no depth"


def _leg(leg: LegSetting) -> str:
    return f"leg {leg.leg_mm}" if leg.leg_mm > 0 else f"base {-leg.leg_mm} above the rail top"
