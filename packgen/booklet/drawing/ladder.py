"""A ladder of levels: where a floor can finish, what lifts it at the left, what holds it down at the right."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from packgen.booklet.drawing.canvas import CUT, HEAVY, STOP, THIN, Canvas, box_ring
from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, wrapped
from packgen.booklet.drawing.leaders import LINE_MM, spread

STEPS = (1, 2, 5, 10, 20, 50, 100, 200)
TICK_MM = 5.0  # least distance of two marks of the scale on paper
WIDE_MM = 178.0
TOP_MM = 9.0
SIDE_MM = 22.0  # from the ladder to the words beside it
BAR_MM = 14.0  # half the distance of the ladder's rails
GAP_MM = 1.2


@dataclass(frozen=True, slots=True)
class Peg:
    """A level on the ladder with its words.

    side: "low" lifts the floor, "high" holds it down, "door" would be met there, "plan" is the level of the plan
    binds: ends the window; written bold
    """

    level_mm: float
    words: str
    side: str
    binds: bool = False


def ladder(pegs: Sequence[Peg], low_mm: float, high_mm: float, high: float, title: str, datum: str) -> Markup:
    """The ladder, `high` mm high on paper.

    Between low and high the floor fits: a thick bar; where low lies above high a gap that nothing bridges is hatched.
    """
    canvas = Canvas(WIDE_MM, high)
    levels = [*(p.level_mm for p in pegs), low_mm, high_mm]
    step = next((s for s in STEPS if (max(levels) - min(levels)) / s * TICK_MM <= high - 2 * TOP_MM), STEPS[-1])
    bottom = math.floor(min(levels) / step - 0.2) * step
    top = math.ceil(max(levels) / step + 0.2) * step
    scale = (high - 2 * TOP_MM) / (top - bottom)
    middle = WIDE_MM / 2

    def y(level: float) -> float:
        return TOP_MM + (top - level) * scale

    rungs = range(bottom, top + 1, step)
    _rungs(canvas, middle, rungs, y(bottom), y(top), [y(v) for v in rungs], datum)
    ends = (y(max(low_mm, high_mm)), y(min(low_mm, high_mm)))
    ring = box_ring((middle - 3.0, ends[0] - 0.4, middle + 3.0, ends[1] + 0.4))
    if low_mm <= high_mm:
        canvas.area([ring], "#000")
    else:
        canvas.area([ring], "#fff", CUT)
        canvas.strokes(hatched([[ring]], 45.0, 1.6), CUT)
    for peg in pegs:
        if peg.side == "plan":
            _across(canvas, middle, y(peg.level_mm))
    for left in (True, False):
        found = [p for p in pegs if (p.side == "low") == left]
        _words(canvas, middle, found, [y(p.level_mm) for p in found], left)
    return canvas.svg(title)


def _rungs(
    canvas: Canvas, middle: float, levels: Sequence[int], bottom: float, top: float, ys: Sequence[float], datum: str
) -> None:
    for x in (middle - BAR_MM, middle + BAR_MM):
        canvas.line((x, top - 3), (x, bottom + 3), CUT)
    every = 1 if len(levels) < 2 or abs(ys[0] - ys[1]) >= LINE_MM + 1 else 2
    for n, (level, at) in enumerate(zip(levels, ys, strict=True)):
        canvas.line((middle - BAR_MM, at), (middle + BAR_MM, at), HEAVY if level == 0 else THIN)
        if n % every == 0 or level == 0:
            canvas.words(middle - BAR_MM + 1.0, at - 1.0, str(abs(level)), anchor="start", bold=level == 0)
    canvas.words(middle, top - 4.5, f"above {datum}")
    canvas.words(middle, bottom + 7.0, f"below {datum}")


def _across(canvas: Canvas, middle: float, at: float) -> None:
    """The level of the plan: a heavy line across the ladder with a pointer on each side."""
    canvas.line((middle - BAR_MM - 4, at), (middle + BAR_MM + 4, at), STOP)
    for tip, away in ((middle - BAR_MM, -4.0), (middle + BAR_MM, 4.0)):
        canvas.area([[(tip, at), (tip + away, at - 1.8), (tip + away, at + 1.8)]], "#000")


def _words(canvas: Canvas, middle: float, pegs: Sequence[Peg], ys: Sequence[float], left: bool) -> None:
    """The pegs' words in a column beside the ladder, each with a leader to its level."""
    order = sorted(range(len(pegs)), key=lambda i: (ys[i], not pegs[i].binds, pegs[i].words))
    most = middle - BAR_MM - SIDE_MM
    lines = [wrapped(pegs[i].words, LEAST_MM, most, pegs[i].binds) for i in order]
    highs = [len(x) * LINE_MM for x in lines]
    tops = spread([ys[i] - h / 2 for i, h in zip(order, highs, strict=True)], highs, 0.5, GAP_MM)
    over = tops[-1] + highs[-1] + 0.5 - canvas.height_mm if tops else 0.0
    if over > 0:
        tops = _lifted(tops, highs, canvas.height_mm - 0.5)
    edge = middle - BAR_MM - SIDE_MM if left else middle + BAR_MM + SIDE_MM
    foot = middle - BAR_MM if left else middle + BAR_MM
    away = -1.0 if left else 1.0
    for i, text, top, high in zip(order, lines, tops, highs, strict=True):
        peg, at = pegs[i], ys[i]
        beside = top + high / 2
        pen = CUT if peg.binds else THIN
        canvas.path([(foot, at), (foot + away * 6, at), (edge - away * 4, beside), (edge - away * 1, beside)], pen)
        _sign(canvas, foot, at, peg)
        for k, line in enumerate(text):
            anchor = "end" if left else "start"
            canvas.words(edge, top + (k + 0.78) * LINE_MM, line, bold=peg.binds, anchor=anchor)


def _lifted(tops: Sequence[float], highs: Sequence[float], bottom: float) -> list[float]:
    """Blocks pushed up from the foot of the drawing, so that the last one ends there."""
    out = list(tops)
    room = bottom
    for i in range(len(out) - 1, -1, -1):
        out[i] = min(out[i], room - highs[i])
        room = out[i] - GAP_MM
    return out


def _sign(canvas: Canvas, x: float, y: float, peg: Peg) -> None:
    """A triangle that points the way the rule pushes: up where it lifts, down where it holds; a ring for a door."""
    if peg.side == "plan":
        return
    if peg.side == "door":
        canvas.discs([(x, y)], 1.3, "#fff", CUT)
        return
    d = -1.0 if peg.side == "low" else 1.0
    shape = [(x - 1.5, y), (x + 1.5, y), (x, y + d * 2.6)]
    canvas.area([shape], "#000" if peg.binds else "#fff", THIN)
