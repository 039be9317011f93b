"""One picture of the whole build-up, peeled step by step, with this job's own numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, RAIL, THIN, Canvas
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, wrapped
from packgen.booklet.drawing.leaders import column
from packgen.core.figures import plain, whole
from packgen.core.plane import Point
from packgen.heights.model import ZoneTop
from packgen.plan import Plan

SCALE = 11.5  # in plan; heights are drawn twice as large, and the sheet says so
BACK_X, BACK_Y = 0.36, 0.30  # how far a mm into the depth goes right and up
WIDE_MM = 178.0
SIDE_MM = 36.0  # words at each side
FIRST = 50.0  # of the first line from the wall, as drawn
CUT_AT = 430.0  # where the fill is cut away


@dataclass(frozen=True, slots=True)
class _Scene:
    """Turns places (along, into the depth, up; mm) into paper mm."""

    canvas: Canvas
    left: float
    ground: float

    def at(self, x: float, y: float, z: float) -> Point:
        return (self.left + (x + BACK_X * y) / SCALE, self.ground - (BACK_Y * y + 2 * z) / SCALE)

    def face(self, corners: Sequence[tuple[float, float, float]], hatch: tuple[float, float] | None = None) -> None:
        """A face that hides what lies behind it."""
        ring = [self.at(*c) for c in corners]
        self.canvas.area([ring])
        if hatch:
            self.canvas.strokes(hatched([[ring]], *hatch), THIN)
        self.canvas.path(ring, RAIL, close=True)

    def box(
        self,
        x: tuple[float, float],
        y: tuple[float, float],
        z: tuple[float, float],
        front: tuple[float, float] | None = None,
        top: tuple[float, float] | None = None,
    ) -> None:
        """A block seen from the front, the right and above."""
        (x0, x1), (y0, y1), (z0, z1) = x, y, z
        self.face([(x1, y0, z0), (x1, y1, z0), (x1, y1, z1), (x1, y0, z1)], front)
        self.face([(x0, y0, z1), (x1, y0, z1), (x1, y1, z1), (x0, y1, z1)], top)
        self.face([(x0, y0, z0), (x1, y0, z0), (x1, y0, z1), (x0, y0, z1)], front)


def cutaway(plan: Plan) -> Markup:
    """Base, separating layer, legs, rails, fill, strip and covering, at 1:10 with heights twice as large."""
    kit, zone = plan.project.kit, plan.heights.zones[0]
    legs = sorted(leg.leg_mm for leg in plan.heights.legs)
    leg = float(legs[len(legs) // 2]) if legs else 70.0
    finish = zone.build_up.finish_mm
    module = min(kit.module, 650.0)
    long, deep = FIRST + module + 250.0, module + 100.0
    high = leg + finish
    canvas = Canvas(WIDE_MM, (BACK_Y * deep + 2 * (high + 45)) / SCALE + 13.0)
    scene = _Scene(canvas, SIDE_MM, canvas.height_mm - 11.0)
    _shell(scene, plan, long, deep, high)
    _grid(scene, plan, (FIRST, FIRST + module), (FIRST, FIRST + module), leg, long, deep)
    _filled(scene, plan, zone, deep, leg)
    _words(scene, plan, zone, (long, deep, module), leg, (legs[0], legs[-1]) if legs else (0, 0))
    return canvas.svg("Cut-away picture of the floor with this job's parts and layers; heights drawn twice as large")


def _shell(scene: _Scene, plan: Plan, long: float, deep: float, high: float) -> None:
    strip = max(plan.project.kit.edge_strip, 8.0)
    scene.face([(0, deep, 0), (long, deep, 0), (long, deep, high + 45), (0, deep, high + 45)], (45, 3.0))
    scene.box((0, long), (0, deep), (-22, 0), front=(45, 2.0))
    if plan.project.base.separating_layer:
        turn = [scene.at(long - 25, deep - strip - 3, high), scene.at(long - 25, deep - strip - 3, 0)]
        scene.canvas.path([*turn, scene.at(long - 25, 25, 0), scene.at(0, 25, 0)], DASHED)
    scene.box((0, long), (deep - strip, deep), (0, high + 12), top=(90, 2.0))


def _grid(
    scene: _Scene, plan: Plan, xs: Sequence[float], ys: Sequence[float], leg: float, long: float, deep: float
) -> None:
    kit = plan.project.kit
    rail = (leg - kit.rail.height, leg)
    half, foot = kit.rail.width / 2, kit.foot.diameter / 2
    for y in reversed(ys):
        for x in xs:
            scene.box((x - foot, x + foot), (y - foot, y + foot), (0, 5))
            scene.box((x - 8, x + 8), (y - 8, y + 8), (5, rail[0]))
        scene.box((15, long - 20), (y - half, y + half), rail)
        if y == ys[-1]:
            for x in reversed(xs):
                scene.box((x - half, x + half), (ys[0], deep - 20), rail)
    for x in xs:
        scene.canvas.path([scene.at(x - half, ys[0] + half, rail[1]), scene.at(x + half, ys[0] + half, rail[1])], THIN)


def _filled(scene: _Scene, plan: Plan, zone: ZoneTop, deep: float, leg: float) -> None:
    """The filled bay at the left, and each layer ending a little before the one below it."""
    kit = plan.project.kit
    half = kit.rail.width / 2
    to, back = CUT_AT, deep - max(kit.edge_strip, 8.0)
    scene.face([(0, 0, leg), (to, 0, leg), (to, back, leg), (0, back, leg)])
    scene.face([(0, 0, 0), (to, 0, 0), (to, 0, leg), (0, 0, leg)], (135, 3.0))
    right = [(to, 0, 0), (to, back, 0), (to, back, leg), (to, 0, leg)]
    scene.face(right, (135, 3.0))
    for y in (FIRST, deep - 50.0):
        for edge in (y - half, y + half):
            scene.canvas.line(scene.at(0, edge, leg), scene.at(to, edge, leg), THIN)
    for edge in (FIRST - half, FIRST + half):
        scene.canvas.line(scene.at(edge, 0, leg), scene.at(edge, back, leg), THIN)
    layers = list(reversed(zone.build_up.layers))
    step = (to - 150.0) / max(1, len(layers))
    z = leg
    for k, (_, thick) in enumerate(layers):
        top = (60.0, 4.0) if k == len(layers) - 1 else None
        scene.box((0, to - (k + 1) * step), (0, back), (z, z + thick), top=top)
        z += thick


def _words(
    scene: _Scene, plan: Plan, zone: ZoneTop, size: tuple[float, float, float], leg: float, legs: tuple[int, int]
) -> None:
    long, deep, module = size
    kit = plan.project.kit
    left: list[tuple[Point, tuple[str, ...]]] = []
    right: list[tuple[Point, tuple[str, ...]]] = []

    def say(side: list[tuple[Point, tuple[str, ...]]], at: tuple[float, float, float], text: str) -> None:
        side.append((scene.at(*at), wrapped(text, LEAST_MM, SIDE_MM - 6.0)))

    z = leg + zone.build_up.finish_mm
    for name, thick in zone.build_up.layers:
        say(left, (0.0, 0.0, z - thick / 2), f"{name} {plain(thick)}")
        z -= thick
    depth = plan.heights.depth
    fill = f"{plan.project.fills.use}, {whole(depth.least_mm)} to {whole(depth.most_mm)} deep"
    say(left, (60.0, 0.0, leg * 0.5), fill)
    say(left, (20.0, 0.0, -12.0), f"base: {plan.project.base.kind}")
    say(right, (long, deep - 4, leg + zone.build_up.finish_mm + 8), f"strip {plain(kit.edge_strip)} at the wall")
    say(
        right,
        (long - 20, FIRST + module, leg - kit.rail.height / 2),
        f"rail {plain(kit.rail.width)} wide, {plain(kit.rail.height)} high",
    )
    far = FIRST + module
    spans = f"{legs[0]} to {legs[1]}" if legs[0] != legs[1] else f"{legs[0]}"
    say(right, (far + 8, FIRST, leg * 0.4), f"leg, {spans} from the base to the top of the rail")
    say(right, (far + kit.foot.diameter / 2, FIRST, 2), f"foot {plain(kit.foot.diameter)} across")
    if plan.project.base.separating_layer:
        say(right, (long - 25, 25.0, 0.0), "separating layer, turned up at the wall")
    edge = scene.left - 3.0
    column(scene.canvas, left, edge, True)
    column(scene.canvas, right, WIDE_MM - SIDE_MM + 4.0, False)
    a, b = scene.at(FIRST, 0, -22), scene.at(FIRST + module, 0, -22)
    y = a[1] + 2.5
    scene.canvas.line((a[0], y), (b[0], y), THIN)
    for p in (a, b):
        scene.canvas.line((p[0], y - 1.0), (p[0], y + 1.0), CUT)
    scene.canvas.words((a[0] + b[0]) / 2, y + 3.6, f"module {plain(kit.module)}")
