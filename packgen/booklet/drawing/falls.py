"""Which way a floor falls: an arrow with "15 per metre", and the valleys of a floor that falls to a drain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise, product

from packgen.booklet.drawing.canvas import CUT, DASHED, arrow_head
from packgen.booklet.drawing.frame import PlanView
from packgen.booklet.drawing.labels import LEAST_MM, Label, centred, width
from packgen.core.figures import plain
from packgen.core.plane import Segment, bounds, contains, label_point, pieces_inside
from packgen.heights.model import ZoneTop
from packgen.plan import Plan
from packgen.survey.sinks import Sink

ARROW_MM = 5.0  # half an arrow on paper
LEAST_STRETCH_MM = 400.0  # of floor between two folds: less is told by its neighbours


def falls(view: PlanView, plan: Plan) -> None:
    """An arrow down the fall of each falling zone, with "15 per metre"; one on each side of a drain it falls to."""
    for zone in plan.heights.zones:
        if zone.sink is not None:
            _to_sink(view, zone, zone.sink)
            continue
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


def _to_sink(view: PlanView, zone: ZoneTop, sink: Sink) -> None:
    """The folds as dashed lines, an arrow in each plane between them, and how much it falls each way."""
    x0, y0, x1, y1 = bounds(zone.region[0])
    folds = [Segment((x, y0), (x, y1)) for x in sink.folds(0)] + [Segment((x0, y), (x1, y)) for y in sink.folds(1)]
    for fold in folds:
        for part in zone.region:
            for piece in pieces_inside(part, fold):
                view.canvas.line(view.at(piece.a), view.at(piece.b), DASHED)
    told = False
    for at in product(_middles(x0, x1, sink.folds(0)), _middles(y0, y1, sink.folds(1))):
        side = sink.side(at)
        far = math.hypot(*side)
        if not far or not view.shows(at) or not any(contains(part, at) for part in zone.region):
            continue
        (x, y), ux, uy = view.at(at), -side[0] / far * ARROW_MM, -side[1] / far * ARROW_MM
        view.canvas.line((x - ux, y - uy), (x + ux, y + uy), CUT, taken=True)
        view.canvas.area([arrow_head((x + ux, y + uy), (x - ux, y - uy), 3.0)], "#000")
        if not told:
            text = f"falls {plain(zone.fall_per_m)} per metre each way"
            spots = [centred(x, y + s * 8.0, text) for s in (1, -1)]
            told = view.canvas.place(spots, clear=True) is not None


def _middles(start: float, end: float, folds: Sequence[float]) -> list[float]:
    """The middle of each stretch between folds that is long enough for an arrow."""
    cuts = [start, *(f for f in folds if start < f < end), end]
    return [(a + b) / 2 for a, b in pairwise(cuts) if b - a > LEAST_STRETCH_MM]
