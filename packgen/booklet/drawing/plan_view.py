"""The base of every plan: walls cut and hatched outside, doors and walls named, cut-outs, free edges, scale bar.

Wall 1 is on top, corner 1 top left, x to the right, y down the page; a plan is never turned (J12).

How to compose a plan
    view = plan_view(plan, width_mm, height_mm)     # or `plan_views` for a floor parted over several sheets
    grid_lines(view, plan)                          # layers of plan_marks, plan_work, dims, depth_map: back to front
    nodes(view, plan)
    base_plan(view, plan)                           # walls, doors, cut-outs: last of the lines, they lie on top
    scale_bar(view)
    drawing = view.canvas.svg("Plan of the extension, scale 1 to 50")
A layer is a plain function `layer(view, plan, ...)`. It draws with `view.line`, `view.ring`, `view.hatch` (room mm,
clipped to the sheet's part of the floor) or on `view.canvas` (paper mm; `view.at` converts). Words go through
`view.canvas.place`, which keeps them off what earlier layers took; so lines first, words last.
`key_plan` is the finished small plan for the cover.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY, THIN, Canvas, Pen, arrow_head
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, Label, width, wrapped
from packgen.booklet.drawing.scale import KEYS, Window, largest, parted
from packgen.core.figures import plain
from packgen.core.plane import Point, Polygon, Ring, label_point, pairs
from packgen.plan import Plan
from packgen.survey.model import Door, RoomOutline, WallLine

BAND_MM = 3.0  # hatched band outside the room
NAME_MM = 3.5  # 10 pt
BAR_MM = 12.0  # strip of the scale bar
SLACK_MM = 6.0  # a parted floor shows so much beyond the shared line


@dataclass(frozen=True, slots=True)
class Margins:
    """Paper kept free round the floor, for names, dimensions and marks."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass
class PlanView:
    """A canvas with the part of the floor it shows. `window` room mm; `scale` is the figure after the colon."""

    canvas: Canvas
    scale: int
    window: Window
    margins: Margins
    left: float
    top: float

    def at(self, p: Point) -> Point:
        """Room mm to paper mm."""
        return (self.left + (p[0] - self.window.x0) / self.scale, self.top + (p[1] - self.window.y0) / self.scale)

    def shows(self, p: Point, slack_mm: float = 0.0) -> bool:
        """Whether a place of the room lies on this sheet; slack in paper mm."""
        s, w = slack_mm * self.scale, self.window
        return w.x0 - s <= p[0] <= w.x1 + s and w.y0 - s <= p[1] <= w.y1 + s

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """What is drawn, room mm: the window and a little more."""
        s, w = SLACK_MM * self.scale, self.window
        return (w.x0 - s, w.y0 - s, w.x1 + s, w.y1 + s)

    def line(self, a: Point, b: Point, pen: Pen = THIN, taken: bool = True) -> None:
        """A stroke, room mm, clipped to the sheet; its place is taken unless words may lie on it."""
        cut = clipped(a, b, self.reach)
        if cut:
            self.canvas.line(self.at(cut[0]), self.at(cut[1]), pen, taken)

    def ring(self, ring: Sequence[Point], pen: Pen = THIN, taken: bool = True) -> None:
        """An outline, room mm, clipped to the sheet."""
        for a, b in pairs(ring):
            self.line(a, b, pen, taken)

    def rings(self, shapes: Iterable[Polygon]) -> list[list[Ring]]:
        """Polygons as rings in paper mm, those that miss the sheet left out."""
        x0, y0, x1, y1 = self.reach
        out = []
        for p in shapes:
            xs, ys = [x for x, _ in p.shell], [y for _, y in p.shell]
            if max(xs) >= x0 and min(xs) <= x1 and max(ys) >= y0 and min(ys) <= y1:
                cut = [clipped_ring(r, self.reach) for r in (p.shell, *p.holes)]
                out.append([tuple(self.at(q) for q in r) for r in cut if len(r) > 2])
        return [r for r in out if r]

    def hatch(self, shapes: Iterable[Polygon], angle: float, spacing: float, pen: Pen = THIN) -> None:
        """Hatch lines over polygons given in room mm; spacing in paper mm."""
        self.canvas.strokes(hatched(self.rings(shapes), angle, spacing), pen)


def clipped(a: Point, b: Point, box: tuple[float, float, float, float]) -> tuple[Point, Point] | None:
    """The part of a stroke inside a box (Liang and Barsky); None where it misses."""
    t0, t1 = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for p, q in ((-dx, a[0] - box[0]), (dx, box[2] - a[0]), (-dy, a[1] - box[1]), (dy, box[3] - a[1])):
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            t0 = max(t0, q / p)
        else:
            t1 = min(t1, q / p)
    if t0 >= t1:
        return None
    return (a[0] + dx * t0, a[1] + dy * t0), (a[0] + dx * t1, a[1] + dy * t1)


def clipped_ring(ring: Sequence[Point], box: tuple[float, float, float, float]) -> list[Point]:
    """A ring cut by a box (Sutherland and Hodgman)."""
    out = list(ring)
    for axis, limit, sign in ((0, box[0], 1), (0, box[2], -1), (1, box[1], 1), (1, box[3], -1)):
        if all((p[axis] - limit) * sign >= 0 for p in out):
            continue
        kept: list[Point] = []
        for p, q in pairs(out):
            s, t = (p[axis] - limit) * sign, (q[axis] - limit) * sign
            if s >= 0:
                kept.append(p)
            if (s >= 0) != (t >= 0):
                f = s / (s - t)
                kept.append((p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f))
        out = kept
        if not out:
            break
    return out


# --------------------------------------------------------------------------------- frames


def floor_box(plan: Plan) -> tuple[float, float, float, float]:
    """Bounds of all rooms, room mm."""
    xs = [x for r in plan.survey.rooms for x, _ in r.corners]
    ys = [y for r in plan.survey.rooms for _, y in r.corners]
    return min(xs), min(ys), max(xs), max(ys)


def name_margins(plan: Plan, extra: float = 0.0) -> Margins:
    """Room for the names of walls and doors on each side, and `extra` paper mm inside of them."""
    need = {"left": 0.0, "top": 0.0, "right": 0.0, "bottom": 0.0}
    for room in plan.survey.rooms:
        for wall in room.walls:
            nx, ny = outward(wall)
            side = ("left" if nx < 0 else "right") if abs(nx) > abs(ny) else ("top" if ny < 0 else "bottom")
            here = [_wall_words(wall), *(_door_words(d) for d in room.doors if d.wall == wall.name)]
            for lines in here:
                wide = max(width(t, NAME_MM) for t in lines)
                need[side] = max(need[side], wide if side in ("left", "right") else 1.3 * NAME_MM * len(lines))
    base = BAND_MM + 2.0 + extra
    return Margins(*(base + need[s] + 1.0 for s in ("left", "top", "right", "bottom")))


def _frame(window: Window, scale: int, width_mm: float, margins: Margins, bar: bool) -> PlanView:
    wide, high = (window.x1 - window.x0) / scale, (window.y1 - window.y0) / scale
    spare = max(0.0, width_mm - wide - margins.left - margins.right)
    canvas = Canvas(width_mm, high + margins.top + margins.bottom + (BAR_MM if bar else 0.0))
    return PlanView(canvas, scale, window, margins, margins.left + spare / 2, margins.top)


def plan_view(
    plan: Plan, width_mm: float, height_mm: float, margins: Margins | None = None, bar: bool = True
) -> PlanView:
    """A view of the whole floor at the largest scale that fits; the canvas is as high as the drawing needs."""
    m = margins or name_margins(plan)
    x0, y0, x1, y1 = floor_box(plan)
    free_w, free_h = width_mm - m.left - m.right, height_mm - m.top - m.bottom - (BAR_MM if bar else 0.0)
    scale = largest(x1 - x0, y1 - y0, free_w, free_h, KEYS)
    return _frame(Window(x0, y0, x1, y1), scale, width_mm, m, bar)


def plan_views(plan: Plan, width_mm: float, height_mm: float, margins: Margins | None = None) -> tuple[PlanView, ...]:
    """Views that together show the floor at a scale people can set out from; neighbours share a line."""
    m = margins or name_margins(plan)
    xs = tuple(sorted({ln.at_mm for ln in plan.layout.lines if ln.kind == "lettered"}))
    ys = tuple(sorted({ln.at_mm for ln in plan.layout.lines if ln.kind == "numbered"}))
    free_w, free_h = width_mm - m.left - m.right, height_mm - m.top - m.bottom - BAR_MM
    scale, windows = parted(floor_box(plan), xs, ys, free_w, free_h)
    return tuple(_frame(w, scale, width_mm, m, True) for w in windows)


# --------------------------------------------------------------------------------- walls


def outward(wall: WallLine) -> Point:
    """Unit vector out of the room: the walker has the inside on the right."""
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    d = math.hypot(bx - ax, by - ay) or 1.0
    return ((by - ay) / d, -(bx - ax) / d)


def _mitred(room: RoomOutline, by_mm: float) -> list[Point]:
    """The start corner of each wall moved outward so that the band keeps its width round corners."""
    out = []
    for i, wall in enumerate(room.walls):
        (px, py), (nx, ny) = outward(room.walls[i - 1]), outward(wall)
        k = by_mm / max(0.35, 1 + px * nx + py * ny)
        out.append((wall.line.a[0] + (px + nx) * k, wall.line.a[1] + (py + ny) * k))
    return out


def _along(wall: WallLine, p: Point) -> float:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    d = wall.line.length_mm or 1.0
    return ((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / d


def _on(wall: WallLine, t: float) -> Point:
    (ax, ay), (bx, by) = wall.line.a, wall.line.b
    f = t / (wall.line.length_mm or 1.0)
    return (ax + (bx - ax) * f, ay + (by - ay) * f)


def walls(view: PlanView, plan: Plan) -> None:
    """Walls cut at 0.5 with the hatch outside, left open at doors; free edges as a heavy line without hatch."""
    for room in plan.survey.rooms:
        band = BAND_MM * view.scale
        outer = _mitred(room, band)
        solid: list[Polygon] = []
        for i, wall in enumerate(room.walls):
            if wall.free_edge:
                view.line(wall.line.a, wall.line.b, HEAVY)
                continue
            n, length = outward(wall), wall.line.length_mm
            gaps = sorted(
                tuple(sorted((_along(wall, d.line.a), _along(wall, d.line.b))))
                for d in room.doors
                if d.wall == wall.name
            )
            start = 0.0
            for a, b in [*gaps, (length, length)]:
                if a > start + 1:
                    p, q = _on(wall, start), _on(wall, a)
                    far_p = outer[i] if start == 0.0 else (p[0] + n[0] * band, p[1] + n[1] * band)
                    far_q = outer[(i + 1) % len(outer)] if a >= length else (q[0] + n[0] * band, q[1] + n[1] * band)
                    solid.append(Polygon((p, q, far_q, far_p)))
                    view.line(p, q, CUT)
                start = max(start, b)
            for a, b in gaps:
                for t in (a, b):
                    p = _on(wall, t)
                    view.line(p, (p[0] + n[0] * band, p[1] + n[1] * band), CUT)
                p, q = _on(wall, a), _on(wall, b)
                view.line(p, q, DASHED)
        for quad in view.rings(solid):
            xs, ys = [x for x, _ in quad[0]], [y for _, y in quad[0]]
            if min(max(xs) - min(xs), max(ys) - min(ys)) < 2 * BAND_MM:
                view.canvas.room.take((min(xs), min(ys), max(xs), max(ys)), 0.5)
        view.hatch(solid, 45, 2.0)


def cut_outs(view: PlanView, plan: Plan) -> None:
    """What is cut out of the floor: things that stay hatched, channels and drains outlined, all named."""
    for room in plan.survey.rooms:
        for cut in room.cut_outs:
            view.ring(cut.shape.shell, CUT)
            if cut.kind == "obstacle":
                view.hatch([cut.shape], 45, 2.0)
            elif cut.kind == "channel":
                view.hatch([cut.shape], 135, 1.5)
            else:
                x, y = view.at(label_point(cut.shape))
                view.canvas.strokes([((x - 2, y), (x + 2, y)), ((x, y - 2), (x, y + 2))])


def names(view: PlanView, plan: Plan, doors: bool = True) -> None:
    """Names of walls, doors, free edges and cut-outs, outside the band, all upright."""
    for room in plan.survey.rooms:
        for wall in room.walls:
            for door in (d for d in room.doors if doors and d.wall == wall.name):
                mid = (_along(wall, door.line.a) + _along(wall, door.line.b)) / 2
                _beside(view, wall, _door_words(door), [mid / wall.line.length_mm])
        for wall in room.walls:
            _beside(view, wall, _wall_words(wall), [0.5, 0.3, 0.7, 0.15, 0.85, 0.06, 0.94])
        for cut in room.cut_outs:
            p = label_point(cut.shape)
            if view.shows(p):
                x, y = view.at(p)
                spots = [s for gap in (1.5, 4, 8, 12, 16) for s in _ring_of(x, y, cut.name, gap)]
                view.canvas.place(spots, clear=True)


def _ring_of(x: float, y: float, text: str, gap: float) -> list[Label]:
    half = width(text, LEAST_MM) / 2
    base = y + 0.36 * LEAST_MM
    sides = [(x, base + gap), (x, base - gap), (x + gap + half, base), (x - gap - half, base)]
    return [Label(a, b, text) for a, b in sides]


def _wall_words(wall: WallLine) -> tuple[str, ...]:
    return (wall.name, "free edge") if wall.free_edge else (wall.name,)


def _door_words(door: Door) -> tuple[str, ...]:
    return wrapped(door.name, NAME_MM, 19.0)


def _beside(view: PlanView, wall: WallLine, lines: tuple[str, ...], parts: Sequence[float]) -> None:
    """Writes lines outside a wall at the first of several parts of its length where they are free."""
    nx, ny = outward(wall)
    wide = max(width(t, NAME_MM) for t in lines)
    step = 1.25 * NAME_MM
    high = step * len(lines)
    away = BAND_MM + 1.2 + abs(nx) * wide / 2 + abs(ny) * high / 2
    best, least = None, math.inf
    for part in parts:
        p = _on(wall, part * wall.line.length_mm)
        if not view.shows(p):
            continue
        x, y = view.at(p)
        x, y = x + nx * away, y + ny * away
        cost = view.canvas.room.cost((x - wide / 2 - 1, y - high / 2, x + wide / 2 + 1, y + high / 2))
        if cost < least:
            best, least = (x, y), cost
        if cost == 0:
            break
    if best:
        for k, text in enumerate(lines):
            middle = best[1] - high / 2 + (k + 0.5) * step
            view.canvas.label(Label(best[0], middle + 0.36 * NAME_MM, text, NAME_MM))


def base_plan(view: PlanView, plan: Plan, doors: bool = True) -> None:
    """Walls, cut-outs and names: what every plan shows."""
    cut_outs(view, plan)
    walls(view, plan)
    names(view, plan, doors)
    falls(view, plan)


def falls(view: PlanView, plan: Plan) -> None:
    """An arrow down the fall of each falling zone, with "15 per metre"."""
    for zone in plan.heights.zones:
        if not zone.fall_per_m or zone.direction == (0.0, 0.0):
            continue
        for part in zone.region[:1]:
            p = label_point(part)
            if not view.shows(p):
                continue
            x, y = view.at(p)
            dx, dy = zone.direction
            a, b = (x - dx * 8, y - dy * 8), (x + dx * 8, y + dy * 8)
            view.canvas.line(a, b, CUT, taken=True)
            view.canvas.area([arrow_head(b, a, 3.0)], "#000")
            text = f"falls {plain(zone.fall_per_m)} per metre"
            half = width(text, LEAST_MM) / 2
            off = 2.0 + abs(dy) * half + abs(dx) * 2.0
            spots = [Label(x - dy * s * off, y + dx * s * off + 0.36 * LEAST_MM, text) for s in (1, -1)]
            view.canvas.place(spots, clear=True)


# --------------------------------------------------------------------------------- scale bar


def scale_bar(view: PlanView, check: bool = True) -> None:
    """A metre in five parts at the plan's scale (five or ten below 1:200), and 100 mm of paper for the reader's tape."""
    canvas = view.canvas
    y = canvas.height_mm - 3.0
    metres = 1 if view.scale <= 200 else 5 if view.scale <= 500 else 10
    metre = metres * 1000 / view.scale
    note = f"Scale 1:{view.scale}"
    note_w = width(note, NAME_MM) + 5
    spare = canvas.width_mm - note_w - metre - 10
    check = check and spare >= 104
    x = max(0.0, (canvas.width_mm - note_w - metre - (112 if check else 0)) / 2)
    canvas.words(x, y + 1.2, note, NAME_MM, anchor="start")
    x += note_w
    canvas.line((x, y), (x + metre, y), CUT)
    for i in range(6):
        high = 2.2 if i in (0, 5) else 1.2
        canvas.line((x + metre * i / 5, y), (x + metre * i / 5, y - high), THIN)
    canvas.words(x + metre / 2, y - 2.6, f"{metres} m", LEAST_MM)
    if check:
        x += metre + 10
        canvas.line((x, y), (x + 100, y), CUT)
        for t in (x, x + 100):
            canvas.line((t, y - 2.2), (t, y), THIN)
        canvas.words(x + 50, y - 1.4, "check with your tape: 100 mm on this paper", LEAST_MM)


def key_plan(plan: Plan, width_mm: float, height_mm: float, grid: bool = True) -> Markup:
    """The small plan for the cover: walls, doors named, cut-outs, joints, and the rails as thin lines."""
    view = plan_view(plan, width_mm, height_mm)
    if grid and view.scale <= plan.project.kit.module / 2.5:
        for rail in plan.layout.rails:
            view.line(rail.start, rail.end, THIN, taken=False)
    base_plan(view, plan)
    scale_bar(view, check=False)
    return view.canvas.svg(f"Plan of the floor with its doors, wall 1 on top, scale 1 to {view.scale}")
