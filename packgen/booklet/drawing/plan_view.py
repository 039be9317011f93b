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

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, THIN, Canvas
from packgen.booklet.drawing.falls import falls
from packgen.booklet.drawing.frame import BAND_MM, BAR_MM, NAME_MM, Drawn, Margins, PlanView
from packgen.booklet.drawing.labels import LEAST_MM, width
from packgen.booklet.drawing.plan_marks import MARK_MM, mark_rows
from packgen.booklet.drawing.scale import KEYS, PARTED_AT, Strip, Window, largest, parted
from packgen.booklet.drawing.walls import cut_outs, door_words, names, room_words, side_of, wall_words, walls
from packgen.plan import Plan
from packgen.survey.model import RoomOutline


def floor_box(rooms: Sequence[RoomOutline]) -> tuple[float, float, float, float]:
    """Bounds of rooms, mm."""
    xs = [x for r in rooms for x, _ in r.ring]
    ys = [y for r in rooms for _, y in r.ring]
    return min(xs), min(ys), max(xs), max(ys)


WHOLE_LINE = "whole line: 100 mm by your tape"
SIDES = ("left", "top", "right", "bottom")
INNER_W_MM, INNER_H_MM = 19.0, 12.0  # margins towards a neighbouring sheet

SLIM = Margins(8.0, 12.0, 8.0, 12.0)  # of a small plan of several rooms: their names and wall 1


def name_margins(
    plan: Drawn, off: Mapping[str, float] | None = None, rooms: Sequence[RoomOutline] | None = None, among: bool = False
) -> Margins:
    """Room for the names of walls and doors on each side, beyond what `off` says stands outside the band there.

    among: at the left and right names stand among what is there, between two marks.
    """
    need = dict.fromkeys(SIDES, 0.0)
    several = len(plan.survey.rooms) > 1
    taken = off or {}
    for room in rooms or plan.survey.rooms:
        for wall in room.walls:
            side = side_of(wall)
            here = [
                room_words(room, wall) if several else wall_words(wall),
                *(door_words(d) for d in room.doors if d.wall == wall.name),
            ]
            for lines in here:
                wide = max(width(t, NAME_MM) for t in lines)
                need[side] = max(need[side], wide if side in ("left", "right") else 1.3 * NAME_MM * len(lines))

    def side_mm(side: str) -> float:
        if among and side in ("left", "right"):
            return BAND_MM + max(need[side] + 2.0, taken.get(side, 0.0)) + 0.5
        return BAND_MM + 3.0 + need[side] + taken.get(side, 0.0)

    return Margins(*(side_mm(s) for s in SIDES))


def _frame(window: Window, scale: int, width_mm: float, margins: Margins, bar: float) -> PlanView:
    wide, high = (window.x1 - window.x0) / scale, (window.y1 - window.y0) / scale
    spare = max(0.0, width_mm - wide - margins.left - margins.right)
    canvas = Canvas(width_mm, high + margins.top + margins.bottom + bar)
    return PlanView(canvas, scale, window, margins, margins.left + spare / 2, margins.top)


def plan_view(
    plan: Drawn,
    width_mm: float,
    height_mm: float,
    margins: Margins | None = None,
    bar: float = BAR_MM,
    rooms: Sequence[RoomOutline] | None = None,
) -> PlanView:
    """A view of the whole floor, or of some rooms, at the largest scale that fits, the canvas as high as it needs."""
    m = margins or name_margins(plan)
    x0, y0, x1, y1 = floor_box(rooms or plan.survey.rooms)
    free_w, free_h = width_mm - m.left - m.right, height_mm - m.top - m.bottom - bar
    scale = largest(x1 - x0, y1 - y0, free_w, free_h, KEYS)
    return _frame(Window(x0, y0, x1, y1), scale, width_mm, m, bar)


def marked_view(
    plan: Plan, width_mm: float, height_mm: float, bar: float = BAR_MM
) -> tuple[PlanView, dict[str, float]]:
    """A view with paper kept free at the left and the top for the lines' circles, and how much of it."""
    rows = 1
    while True:
        zone = rows * (2 * MARK_MM + 0.4) + 1.0
        off = {"left": zone, "top": zone}
        view = plan_view(plan, width_mm, height_mm, name_margins(plan, off), bar)
        if mark_rows(view, plan) <= rows:
            return view, off
        rows += 1


def plan_views(
    plan: Plan,
    width_mm: float,
    height_mm: float,
    margins: Margins | None = None,
    rooms: Sequence[RoomOutline] | None = None,
    least: int = PARTED_AT,
) -> tuple[PlanView, ...]:
    """Views that together show the floor, parted before they get smaller than `least`; neighbours share a line."""
    shown = rooms or plan.survey.rooms
    m = margins or name_margins(plan, rooms=shown)
    names_here = {r.name for r in shown}
    lines = [ln for ln in plan.layout.lines if ln.own and ln.room in names_here]
    xs = tuple(sorted({ln.at_mm for ln in lines if ln.kind == "lettered"}))
    ys = tuple(sorted({ln.at_mm for ln in lines if ln.kind == "numbered"}))
    across = Strip(width_mm, m.left, m.right, INNER_W_MM)
    down = Strip(height_mm - BAR_MM, m.top, m.bottom, INNER_H_MM)
    scale, windows = parted(floor_box(shown), xs, ys, across, down, least)
    return tuple(_frame(w, scale, width_mm, _margins_of(w, m), BAR_MM) for w in windows)


def _margins_of(w: Window, m: Margins) -> Margins:
    """Outer sides keep their margins; towards a neighbour only its mention has to find room."""
    return Margins(
        m.left if w.column == 0 else INNER_W_MM,
        m.top if w.row == 0 else INNER_H_MM,
        m.right if w.column == w.columns - 1 else INNER_W_MM,
        m.bottom if w.row == w.rows - 1 else INNER_H_MM,
    )


def base_plan(view: PlanView, plan: Plan, doors: bool = True, off: Mapping[str, float] | None = None) -> None:
    """Walls, cut-outs and names: what every plan shows. off: what stands between walls and names, by side."""
    cut_outs(view, plan)
    walls(view, plan)
    names(view, plan, doors, off)
    falls(view, plan)


def scale_bar(view: PlanView, check: bool = True, left: float | None = None) -> float:
    """A metre in five parts at the plan's scale (or 5, 10 of them), and 100 mm of paper for the reader's tape.

    The 100 mm stand beside the metre, or hold it where a large scale leaves no room for both. Centred, or from `left`
    on. Returns where it ends, so that a legend can follow.
    """
    canvas = view.canvas
    y = canvas.height_mm - 3.0
    metres = 1 if view.scale <= 200 else 5 if view.scale <= 500 else 10
    metre = metres * 1000 / view.scale
    note = f"Scale 1:{view.scale}"
    note_w = width(note, NAME_MM) + 5
    spare = canvas.width_mm - note_w - metre - 10
    within = check and spare < 104 and metre <= 100
    check = check and spare >= 104
    whole = note_w + (metre + 112 if check else 100 + width(WHOLE_LINE, LEAST_MM) + 2 if within else metre)
    x = max(0.0, (canvas.width_mm - whole) / 2) if left is None else left
    canvas.words(x, y + 1.2, note, NAME_MM, anchor="start")
    x += note_w
    canvas.line((x, y), (x + metre, y), CUT)
    for i in range(6):
        high = 2.2 if i in (0, 5) else 1.2
        canvas.line((x + metre * i / 5, y), (x + metre * i / 5, y - high), THIN)
    canvas.words(x + metre / 2, y - 2.6, f"{metres} m", LEAST_MM)
    if within:
        canvas.line((x, y), (x + 100, y), CUT)
        canvas.line((x + 100, y - 2.2), (x + 100, y), THIN)
        canvas.words(x + 102, y, WHOLE_LINE, LEAST_MM, anchor="start")
        return x + 102 + width(WHOLE_LINE, LEAST_MM)
    x += metre
    if check:
        x += 10
        canvas.line((x, y), (x + 100, y), CUT)
        for t in (x, x + 100):
            canvas.line((t, y - 2.2), (t, y), THIN)
        canvas.words(x + 50, y - 1.4, "check with your tape: 100 mm on this paper", LEAST_MM)
        x += 100
    return x


def key_plan(plan: Plan, width_mm: float, height_mm: float, grid: bool = True) -> Markup:
    """The small plan for the cover: walls, doors named, cut-outs, joints, and the rails as thin lines."""
    several = len(plan.survey.rooms) > 1
    view = plan_view(plan, width_mm, height_mm, SLIM if several else None)
    if grid and view.scale <= plan.project.kit.module / 2.5:
        for rail in plan.layout.rails:
            view.line(rail.start, rail.end, THIN, taken=False)
    base_plan(view, plan, doors=not several)
    scale_bar(view, check=False)
    return view.canvas.svg(f"Plan of the floor with its doors, wall 1 on top, scale 1 to {view.scale}")
